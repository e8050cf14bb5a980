"""A work instruction as blocks, for the printed document: what the page says, in its order.

The cautions stand once in the document; each instruction names those that hold for it and leads there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from midframe.publish.blocks import (
    Block,
    Drawing,
    Fact,
    Facts,
    Heading,
    Items,
    Line,
    Link,
    Move,
    Page,
    Picture,
    Piece,
    Strong,
    Table,
    Words,
    line,
)
from midframe.publish.cautions import CAUTIONS, cautions
from midframe.publish.contents import BackLine, Instruction, MoveIn, Screws, StepGroup, Work
from midframe.publish.language import Language
from midframe.publish.print_svg import words_of
from midframe.publish.site_contents import Published
from midframe.publish.site_words import free, heads, unit, word, words

CAUTIONS_PAGE = "cautions"


def cautions_page(of: Published, said: Language) -> Page:
    """Every caution that an instruction of the document names."""
    named = {hazard.key for sheet in of.instructions.values() for hazard in sheet.hazards}
    blocks: list[Block] = []
    for key in CAUTIONS:
        if key in named:
            told = cautions(said.code)[key]
            blocks.append(Heading(told.title, 2, f"caution-{key}"))
            blocks += [Words((text,), "warning") for text in told.lines]
    return Page(CAUTIONS_PAGE, said.say("cautions"), said.say("cautions"), tuple(blocks))


def instruction_page(sheet: Instruction, path: str, said: Language, photos: Sequence[Picture] = ()) -> Page:
    """One instruction as a page of blocks."""
    title = said.say("title", target=sheet.target, device=sheet.device)
    blocks: tuple[Block, ...] = (
        Facts(tuple(facts(sheet, said))),
        overview(sheet, said),
        *tools(sheet, said),
        *named_cautions(sheet, said),
        *renewals(sheet, said),
        Heading(said.say("before")),
        Items(
            tuple(
                (text,)
                for text in (
                    said.say("before-device"),
                    said.say("before-battery"),
                    *(free(text, said, sheet.written) for text in sheet.before),
                )
            ),
            "boxes",
        ),
        Heading(said.say("way-in")),
        Words((said.say("way-in-explained"),)),
        *(block for group in sheet.groups for block in steps(sheet, group, said)),
        *untouched(sheet, said),
        Heading(said.say("refit")),
        Words((said.say("refit-explained"),)),
        Items(tuple(back(entry, sheet, said) for entry in sheet.back), "numbers"),
        *closing(sheet, said),
        *photographed(photos, said),
    )
    return Page(path, title, sheet.target, blocks)


def photographed(photos: Sequence[Picture], said: Language) -> Iterator[Block]:
    """Photos of the part, if there are any."""
    if photos:
        yield Heading(said.say("site-photos"))
        yield from photos


def facts(sheet: Instruction, said: Language) -> Iterator[Fact]:
    """The job in figures."""
    say, made = said.say, sheet.summary
    low, high = said.minutes(made.low_seconds), said.minutes(made.high_seconds)
    yield Fact(
        say("time-in"),
        (say("in-minutes", minutes=said.minutes(made.seconds)),),
        (say("time-range", low=low, high=high),),
    )
    yield Fact(say("steps-counted"), (str(made.steps),), (say("in-moves", count=made.moves),))
    yield Fact(say("tools"), (str(made.tools),), (say("consumables-counted", count=len(sheet.consumables)),))
    yield Fact(say("screws-out"), (str(made.screws),))
    yield Fact(
        say("cost"),
        (f"{said.fixed(made.money, 2)} {made.currency}",),
        (
            say(
                "cost-basis",
                labour=said.figure(made.labour_per_hour),
                currency=made.currency,
                unpriced=len(made.unpriced),
            ),
        ),
    )
    yield Fact(
        say("rests-on"),
        (say("proof", proven=made.proven),),
        (
            say(
                "proof-basis",
                proven=made.proven,
                least=made.minimised,
                assumed=len(made.assumed),
                default=made.default_times,
            ),
        ),
    )


def overview(sheet: Instruction, said: Language) -> Drawing:
    """The way in at a glance."""
    depth = (
        said.say("depth-stretched", times=said.fixed(sheet.depth_stretch, 1))
        if sheet.depth_stretch
        else said.say("depth-order")
    )
    caption = said.say("overview-caption", depth=depth, target=said.in_sentence(sheet.target))
    return Drawing(sheet.overview, words_of(sheet.overview), caption)


def tools(sheet: Instruction, said: Language) -> Iterator[Block]:
    """Tools and consumables in the order of use, with their moves."""
    yield Heading(said.say("tools-in-order"))
    yield Items(used(sheet, sheet.tools, said) or ((said.say("bare-hands"),),))
    yield Heading(said.say("consumables"))
    if sheet.consumables:
        yield Items(used(sheet, sheet.consumables, said))
    else:
        yield Words((said.say("consumables-none"),))
    if sheet.standby:
        things = said.listed(words(one, said) for one in sheet.standby)
        yield Words((said.say("standby", things=things),), "quiet")


def used(sheet: Instruction, names: tuple[str, ...], said: Language) -> tuple[Line, ...]:
    """Tools or consumables, each with its moves."""
    return tuple(
        line(word(name, said, sheet.written), f" – {said.moves(sheet.moves_with(name))}") for name in names
    )


def named_cautions(sheet: Instruction, said: Language) -> Iterator[Block]:
    """The cautions by name, with the moves that they are about."""
    known = cautions(said.code)
    yield Heading(said.say("cautions"))
    yield Items(
        tuple(
            line(
                Link(known[hazard.key].title, page=CAUTIONS_PAGE, anchor=f"caution-{hazard.key}"),
                f" – {said.moves(hazard.moves)}" if hazard.moves else "",
            )
            for hazard in sheet.hazards
        )
    )


def renewals(sheet: Instruction, said: Language) -> Iterator[Block]:
    """What must be new on the way back."""
    say, written = said.say, sheet.written
    yield Heading(say("renewals"))
    if not sheet.renewals:
        yield Words((say("renewals-none", target=said.in_sentence(sheet.target)),))
        return
    rows: list[tuple[Line, ...]] = []
    for item in sheet.renewals:
        amount = "–" if item.amount is None else f"{said.figure(item.amount)} {unit(item.unit)}".strip()
        price = say("not-known") if item.price is None else said.fixed(item.price, 2)
        rows.append(
            ((free(item.item, said, written),), (word(item.needed_for, said, written),), (amount,), (price,))
        )
    columns = (
        *(say("renewal-item"), say("renewal-for"), say("renewal-amount")),
        say("renewal-price", currency=sheet.summary.currency),
    )
    yield Table(say("renewals-table"), columns, tuple(rows), (2, 3))


def steps(sheet: Instruction, group: StepGroup, said: Language) -> Iterator[Block]:
    """The moves up to the next in which steps end, under the numbers of those steps."""
    if group.steps:
        first, last = group.steps[0], group.steps[-1]
        name = said.say("group-steps", count=len(group.steps), first=first, last=last)
    else:
        name = said.say("group-last")
    ends = ", ".join(group.ends_with) or said.say("group-no-step")
    yield Heading(f"{name}: {ends}", 3)
    for move in group.moves:
        yield told(sheet, move, said)


def told(sheet: Instruction, move: MoveIn, said: Language) -> Move:
    """One move with all that stands beside it."""
    written = sheet.written
    kind = said.say("kind", kind=move.kind) if move.kind else said.say("move-lift")
    held = f" {said.say('holds-between')} ".join(move.holds)
    title = line(Strong(move.name), f" – {kind}{f', {held}' if held else ''}")
    drawings = [Drawing(svg, words_of(svg)) for svg in (move.section, move.plan) if svg]
    lines = (
        *before_work(sheet, move, said),
        *(Words(work(one, said, written)) for one in move.work),
        *(Words((text,), "warning") for text in warnings(move, said)),
        *(Words(text) for text in after_work(move, said, written)),
        Words((reason(sheet, move, said),), "quiet"),
    )
    return Move(move.number, title, lines, tuple(drawings), f"move-{move.number}")


def before_work(sheet: Instruction, move: MoveIn, said: Language) -> Iterator[Words]:
    """Turning the device, and the cautions."""
    if move.turned:
        yield Words((said.say("turn", face=move.face or "back"),))
    known, keys = cautions(said.code), sheet.hazards_of(move.number)
    if keys:
        pieces: list[Piece] = [f"{said.say('caution-of-move')}: "]
        for number, key in enumerate(keys):
            pieces.append(", " if number else "")
            title = said.in_sentence(known[key].title)
            pieces.append(Link(title, page=CAUTIONS_PAGE, anchor=f"caution-{key}"))
        yield Words(line(*pieces, "."), "warning")
    if move.live:
        yield Words((f"{said.say('live-in')}.",), "warning")


def work(one: Work, said: Language, written: str) -> Line:
    """One operation: what is done with what, how long, and what may go wrong."""
    does = words(one.do, said)
    does = f"{does[:1].upper()}{does[1:]}"
    tools_ = said.listed(words(tool, said) for tool in one.tools)
    key = said.say("work-with", does=does, tools=tools_) if one.tools else said.say("work-by-hand", does=does)
    time = said.time(one.seconds)
    clock = said.say("clock", clock=one.clock, time=time) if one.clock else time
    pieces: list[Piece] = [f"{key}, ", Strong(clock) if one.clock else clock, "."]
    if one.risk:
        share = said.percent(one.risk)
        harms = said.say("risk-harms", parts=said.listed(one.harms, "or"), share=share)
        pieces.append(f" {harms if one.harms else said.say('risk', share=share)}.")
    return line(*pieces, *((" ", free(one.note, said, written)) if one.note else ()))


def screws(some: Screws, said: Language) -> str:
    """A group of screws in words."""
    parts = [words(some.drive, said) if some.drive else said.say("drive-unknown")]
    if some.length_mm is not None:
        parts.append(said.say("screw-length", length=said.figure(some.length_mm)))
    if some.thread:
        parts.append(some.thread)
    if some.head:
        parts.append(said.say("screw-head", head=words(some.head, said)))
    return f"{some.count} × {', '.join(parts)}"


def warnings(move: MoveIn, said: Language) -> Iterator[str]:
    """What must not be mixed up or pulled."""
    if move.screws and move.screws.mixed_lengths_mm:
        lengths = said.listed(said.figure(one) for one in move.screws.mixed_lengths_mm)
        yield said.say("screws-mixed", lengths=lengths)
    if move.hanging:
        yield said.say("hanging", joints=said.listed(move.hanging))


def after_work(move: MoveIn, said: Language, written: str) -> Iterator[Line]:
    """Screws, what comes along, what is ruined, notes, and other ways of opening."""
    say = said.say
    if move.screws:
        out = say("screws-out-after", after=move.screws.out_after, all=move.screws.out_in_all)
        yield (Strong(screws(move.screws, said)), f". {out}.")
    if move.along:
        yield (say("along", parts=said.listed(move.along)),)
    if move.ruins:
        yield (say("ruins", parts=said.listed(move.ruins)),)
    if move.note:
        yield (free(move.note, said, written),)
    for other in move.otherwise:
        each = []
        for step in other:
            does, with_ = words(step.do, said), said.listed(words(tool, said) for tool in step.tools)
            text = say("work-with", does=does, tools=with_) if step.tools else does
            each.append(text + (f", {said.time(step.seconds)}" if step.seconds is not None else ""))
        yield (f"{say('otherwise')} {'; '.join(each)}.",)


def reason(sheet: Instruction, move: MoveIn, said: Language) -> str:
    """Why a move is made, whether its reach is assumed, and how long it takes."""
    later = tuple(number for number in move.whys if number)
    target = said.in_sentence(sheet.target)
    if later and 0 in move.whys:
        why = said.say("why-both", moves=said.moves(later), target=target)
    elif later:
        why = said.say("why-later", moves=said.moves(later))
    else:
        why = said.say("why-target", target=target) if 0 in move.whys else said.say("why-precaution")
    assumed = f" {said.say('reach-assumed')}" if move.assumed else ""
    time = said.time(move.seconds)
    whole = said.say("in-all-default", time=time) if move.default_times else said.say("in-all", time=time)
    return f"{why}.{assumed} {whole}."


def untouched(sheet: Instruction, said: Language) -> Iterator[Block]:
    """What stays untouched."""
    names = ", ".join(sheet.untouched) or said.say("untouched-none")
    yield Heading(said.say("untouched"))
    yield Words((f"{names}. {said.say('untouched-joints', count=sheet.untouched_joints)}",))


def back(entry: BackLine, sheet: Instruction, said: Language) -> Line:
    """One move of the way back."""
    say = said.say
    verb = f"{entry.action[:1].upper()}{entry.action[1:]}"
    told = [f" {said.listed(entry.names)}"]
    if entry.new_parts:
        alone = len(entry.new_parts) == len(entry.names)
        told.append(
            f" – {say('new-part') if alone else say('new-parts', parts=said.listed(entry.new_parts))}"
        )
    if entry.screws:
        nm = entry.screws.torque_nm
        tight = say("torque-unknown") if nm is None else say("torque", torque=said.figure(nm))
        out = say("screws-still-out", out=entry.still_out, all=sheet.summary.screws)
        told.append(f". {screws(entry.screws, said)}, {tight}. {out}")
    if entry.live:
        told.append(f". {say('live-back')}")
    if entry.renewals:
        laid = f", {say('new-adhesive')}" if entry.kind == "adhesive" else ""
        told.append(f". {say('new-items', items=said.listed(entry.renewals))}{laid}")
    return (Strong(f"{verb}:"), f"{''.join(told)} ({say('undoes', move=entry.of)}).")


def closing(sheet: Instruction, said: Language) -> Iterator[Block]:
    """Checks at the end, and how the steps were counted."""
    say = said.say
    duties = [say("duty", duty=duty) for duty in sheet.duties]
    checks = [free(text, said, sheet.written) for text in sheet.after]
    yield Heading(say("checks"))
    end = say("checks-end", screws=sheet.summary.screws)
    yield Items(tuple((text,) for text in (*checks, *duties, end)), "boxes")
    yield Heading(say("counting"))
    rows = tuple(
        ((str(step.number),), (step.ends_with,), (str(step.move),), (step.rests_on,)) for step in sheet.steps
    )
    columns = (say("counting-step"), say("counting-ends"), say("counting-move"), heads(said, "rests")[0])
    yield Table(say("counting-table"), columns, rows, (0, 2))
