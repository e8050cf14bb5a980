"""The page of the way back: the whole device put together again, with bonds, torques, trial and checks."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.publish.blocks import Block, Heading, Items, Line, Page, Strong, Words
from midframe.publish.language import Language
from midframe.publish.refit import Refit, RefitLine
from midframe.publish.screw_pages import kind_words
from midframe.publish.site_contents import Published
from midframe.publish.site_paths import REFIT
from midframe.publish.site_screws import harm, torque_words
from midframe.publish.site_words import adhesive_words, free, unit


def refit_page(of: Published, back: Refit, said: Language) -> Page:
    """The way back from the device wholly taken apart."""
    say = said.say
    names = {part.id: part.name for part in of.record.parts}
    blocks: list[Block] = [Words((say("site-refit-note", moves=len(back.lines), screws=back.screws),))]
    blocks.append(Heading(said.say("site-head", of="moves")))
    for entry in back.lines:
        if entry.trial:
            blocks += trial(back, said)
        blocks.append(Heading(f"{entry.number}  {action(entry, said)}", 3, f"refit-{entry.number}"))
        if told := tuple(beside(entry, names, said)):
            blocks.append(Items(told))
    blocks += end(back, said, of.written)
    return Page(REFIT, say("site-refit"), say("site-refit"), tuple(blocks))


def action(entry: RefitLine, said: Language) -> str:
    """What is done in one move back."""
    verb = said.say("closing", kind=(entry.kind or "other") if entry.joint else "none")
    return f"{verb[:1].upper()}{verb[1:]}: {said.listed(entry.names)}"


def trial(back: Refit, said: Language) -> Iterator[Block]:
    """The device tried before the last bond."""
    yield Words((Strong(said.say("site-trial")),), "frame")
    if back.closed_by_then:
        yield Words((said.say("bench-closed-by-then", names=", ".join(back.closed_by_then)),))
    if back.untried:
        yield Words((said.say("site-untried", names=", ".join(back.untried)),))


def beside(entry: RefitLine, names: dict[str, str], said: Language) -> Iterator[Line]:
    """What stands beside one move back."""
    say = said.say
    if entry.look_at:
        yield (say("site-look-at", names=said.listed(entry.look_at)),)
    if entry.live:
        yield (Strong(f"{say('live-back')}."),)
    if entry.new_parts:
        yield (say("site-new-part", names=said.listed(names[part] for part in entry.new_parts)),)
    for one in entry.renewals:
        amount = "" if one.amount is None else f", {said.figure(one.amount)} {unit(one.unit)}".rstrip()
        yield (say("site-new-item", item=one.item, amount=amount),)
    for layer in entry.layers:
        if layer.thickness_mm is not None and layer.kind in ("pad", "putty", "paste"):
            yield (say("site-layer", kind=layer.kind, thickness=said.figure(layer.thickness_mm)),)
    yield from bond_lines(entry, said)
    yield from screw_lines(entry, said)


def bond_lines(entry: RefitLine, said: Language) -> Iterator[Line]:
    """Cleaning, amount and waits of a bond."""
    if entry.bond is None or entry.adhesive is None:
        return
    say, bond, glue = said.say, entry.bond, entry.adhesive
    family = glue.family.replace(" ", "-")
    for number, text in enumerate(glue.clean, start=1):
        yield (adhesive_words(f"{family}-clean-{number}", text, said),)
    size = []
    if bond.length_mm is not None:
        size.append(say("site-bond-length", length=said.fixed(bond.length_mm, 0)))
    if bond.area_mm2 is not None:
        key = "site-bond-area-most" if bond.area_from == "whole outline" else "site-bond-area"
        size.append(say(key, area=said.fixed(bond.area_mm2, 0)))
    if size:
        yield (say("site-bond", size=", ".join(size)),)
    yield (adhesive_words(f"{family}-lay", glue.lay, said),)
    times = [
        say(key, figure=said.figure(value))
        for key, value in (
            ("site-press", glue.press_seconds),
            ("site-rest", glue.rest_seconds / 60 if glue.rest_seconds else None),
            ("site-full", glue.full_hours),
        )
        if value
    ]
    if times:
        yield (", ".join(times),)
    yield (adhesive_words(f"{family}-note", glue.note, said),)


def screw_lines(entry: RefitLine, said: Language) -> Iterator[Line]:
    """Count, torque, and what must not go into these holes."""
    if entry.screws is None:
        return
    say, group = said.say, entry.screws.group
    kind = kind_words(group.kind, said)
    yield (
        say("site-drive-in", count=group.count, letter=group.letter, kind=kind, out=entry.screws.still_out),
    )
    yield (torque_words(entry.screws.torque, said),)
    for hazard in entry.screws.harmful[:3]:
        yield (Strong(say("site-not-this", screw=hazard.screw)), f" {harm(hazard, said)}")


def end(back: Refit, said: Language, written: str) -> Iterator[Block]:
    """Waits and checks at the end."""
    if back.full_hours is not None:
        yield Words((said.say("site-slowest-bond", hours=said.figure(back.full_hours)),))
    if back.unknown_bonds:
        yield Words((said.say("site-unknown-bonds", names=", ".join(back.unknown_bonds)),))
    if back.after:
        yield Heading(said.say("checks"))
        yield Items(tuple((free(text, said, written),) for text in back.after), "boxes")
    if back.sources:
        yield Heading(said.say("sources-used"))
        yield Items(tuple((str(source),) for source in back.sources))
