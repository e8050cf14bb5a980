"""The page of the screws: by kind, by cover, what goes wrong in which hole; and the sheet at true scale."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from midframe.publish.blocks import Block, Heading, Items, Link, Page, PrintSheet, Table, Words
from midframe.publish.language import Language
from midframe.publish.screw_pages import kind_words, label_pages, sheet_svg
from midframe.publish.site_contents import Published
from midframe.publish.site_overview import told
from midframe.publish.site_paths import SCREW_FILE, SCREWS, screw_drawing
from midframe.publish.site_words import free, heads
from midframe.record.model import Record
from midframe.screws import Group, Torque, WrongHole, tally, torque, wrong_holes
from midframe.screws.wording import hole_name

MILD = ("short", "askew", "goes in")
"""Effects that hold little or spoil a thread and harm nothing beneath: told last."""


def screws_page(of: Published, said: Language) -> Page:
    """Everything about the screws of the device."""
    say, found = said.say, tally(of.record)
    links = [told(Link(say("site-screw-sheet"), file=SCREW_FILE), say("site-about-screw-sheet"))]
    links += [
        (Link(say("site-screw-page", number=number), file=screw_drawing(number)),)
        for number in range(1, len(sheet_pages(of)) + 1)
    ]
    blocks: list[Block] = [
        Words((say("site-tally", screws=found.count, kinds=len(found.kinds), groups=len(found.groups)),)),
        Heading(say("site-by-kind")),
        Table(
            say("site-by-kind"),
            heads(said, "kind", "screw", "count"),
            tuple(((one.letter,), (kind_words(one.kind, said),), (str(one.count),)) for one in found.kinds),
            (2,),
        ),
        Heading(say("site-by-cover")),
        by_cover(of.record, found.groups, said),
        Heading(say("site-wrong-hole"), anchor="wrong-hole"),
        *wrong(of.record, said),
        Heading(say("site-screw-sheet"), anchor="sheet"),
        Words((say("site-screw-sheet-note"),)),
        Items(tuple(links)),
    ]
    return Page(SCREWS, say("site-screws"), say("site-screws"), tuple(blocks))


def by_cover(record: Record, groups: tuple[Group, ...], said: Language) -> Table:
    """The screws of each joint with their cover, and how tight they are driven."""
    names = {part.id: part.name for part in record.parts}
    joints = {joint.id: joint for joint in record.joints}
    rows = []
    for group in groups:
        tight = torque(record, joints[group.joint])
        driven = torque_words(tight, said)
        rows.append(
            (
                (free(names.get(group.cover, group.cover), said, record.device.language),),
                (group.letter,),
                (str(group.count),),
                (driven,),
            ),
        )
    columns = heads(said, "cover", "kind", "count", "torque")
    return Table(said.say("site-by-cover"), columns, tuple(rows), (2,))


def torque_words(tight: Torque | None, said: Language) -> str:
    """How tight a screw is driven, and what that rests on."""
    if tight is None:
        return said.say("torque-unknown")
    figure = said.say("torque", torque=said.figure(tight.torque_nm))
    if tight.rests_on == "record":
        return said.say("site-torque-record", torque=figure)
    return said.say("site-torque-series", torque=figure, series=tight.series, source=tight.source)


def wrong(record: Record, said: Language) -> Iterator[Block]:
    """What happens when a screw goes into a hole that is not its own, the gravest first."""
    hazards = wrong_holes(record)
    for grave in (True, False):
        some = [one for one in hazards if (one.effect not in MILD) == grave]
        if some:
            yield Words((said.say("site-wrong-cases", grave=grave, count=len(some)),))
            yield Items(tuple((sentence(record, one, said),) for one in some))
    if not hazards:
        yield Words((said.say("site-wrong-none"),))


def sentence(record: Record, hazard: WrongHole, said: Language) -> str:
    """One wrong hole in a sentence."""
    hole = said.say(
        "site-wrong",
        screw=hazard.screw,
        hole=hole_name(record, hazard),
        own=hazard.own,
        harm=harm(hazard, said),
    )
    return hole + (f" {said.say('site-harm-proud')}" if hazard.head == "proud" else "")


def harm(hazard: WrongHole, said: Language) -> str:
    """What happens in the wrong hole."""
    hit = [part for part in hazard.over if part.vulnerable]
    effect = hazard.effect.replace(" ", "-")
    if hazard.effect == "may pierce" and hazard.beyond_mm is None:
        effect += "-longer"
    values: Mapping[str, str] = {
        "effect": effect,
        "beyond": "" if hazard.beyond_mm is None else said.figure(hazard.beyond_mm),
        "longer": said.figure(abs(hazard.longer_mm)),
        "parts": said.listed((reached(part.name, part.gap_mm, said) for part in hit), "and")
        if hazard.effect == "pierces"
        else said.listed((part.name for part in hit), "or"),
    }
    harmed = said.say("site-harm", **values)
    if hazard.effect != "short" or hazard.turns_lost is None:
        return harmed
    return f"{harmed}, {turns(hazard, hazard.turns_lost, said)}"


def reached(name: str, gap_mm: float | None, said: Language) -> str:
    """A part that is reached, with how far it lies below the hole."""
    return said.say("site-reached-below", name=name, gap=said.figure(gap_mm)) if gap_mm else name


def turns(hazard: WrongHole, lost: float, said: Language) -> str:
    """How many turns hold less, and how many hold, where that is known."""
    fewer = said.say("site-harm-turns", lost=said.fixed(lost, 1))
    if hazard.turns is None:
        return fewer
    hold = said.say(
        "site-harm-hold", hold=said.fixed(hazard.turns, 1), all=said.fixed(hazard.turns + lost, 1)
    )
    weak = f", {said.say('site-harm-weak')}" if hazard.weak else ""
    return f"{fewer}: {hold}{weak}"


def sheet_pages(of: Published) -> tuple[PrintSheet, ...]:
    """The pages of the screw sheet and of the tray labels, at true scale."""
    made = [PrintSheet(svg, sheet.paper, words_on(svg)) for sheet in of.screws for svg in sheet_svg(sheet)]
    if of.screws:
        first = of.screws[0]
        made += [PrintSheet(svg, first.paper, words_on(svg)) for svg in label_pages(first)]
    return tuple(made)


def words_on(svg: str) -> str:
    """What a page of the screw sheet is: the title that it carries."""
    from html import unescape

    return unescape(svg.partition("<title>")[2].partition("</title>")[0])
