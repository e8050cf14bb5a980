"""The first page of a published device: figures, section, the way in to every part, what lies where."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.dossier.summary import WayRow, device_line
from midframe.publish.blocks import (
    Block,
    Drawing,
    Fact,
    Facts,
    Heading,
    Items,
    Line,
    Link,
    Page,
    Table,
    Words,
)
from midframe.publish.chapters import chapters
from midframe.publish.language import Language
from midframe.publish.print_svg import words_of
from midframe.publish.section import stack_drawing, stretch
from midframe.publish.site_contents import Published
from midframe.publish.site_paths import (
    CHAPTERS,
    INDEX,
    LISTS,
    OVERVIEW,
    PHOTOS,
    RECORD_FILE,
    REFIT,
    SCREW_FILE,
    SCREWS,
    STACK_FILE,
    instruction_paths,
)
from midframe.publish.site_words import heads, part_named


def overview(of: Published, said: Language) -> Page:
    """The first page."""
    say, name = said.say, of.name
    blocks: list[Block] = []
    if of.record.device.invented:
        blocks.append(Words((say("invented"),), "frame"))
    blocks += [Words((provenance(of, said),), "quiet"), Facts(tuple(facts(of, said))), section(of, said)]
    blocks += [Heading(say("site-ways"), anchor="ways"), ways_table(of, said)]
    blocks += [Words((line_,), "quiet") for line_ in ways_notes(of, said)]
    blocks += [Heading(say("site-contents"), anchor="contents"), Items(tuple(contents(of, said)))]
    blocks.append(Words((say("site-local-rules"),), "warning"))
    return Page(OVERVIEW, name, say("site-overview"), tuple(blocks))


def provenance(of: Published, said: Language) -> str:
    """Which record, which program, which date if one was given."""
    dated = f", {of.settings.date}" if of.settings.date else ""
    return said.say("site-provenance", record=of.digest[:16], program=of.program, dated=dated)


def facts(of: Published, said: Language) -> Iterator[Fact]:
    """The device in figures; what the record does not say is left out."""
    device, counts, say = of.record.device, device_line(of.record), said.say
    kind = say("site-device", kind=device.kind)
    yield Fact(say("site-kind"), (say("site-foldable", kind=kind) if device.foldable else kind,))
    if device.size_mm:
        size = " × ".join(said.figure(value) for value in device.size_mm)
        yield Fact(say("site-size"), (f"{size} mm",), (say("site-size-order"),))
    if device.mass_g is not None:
        yield Fact(say("site-mass"), (f"{said.figure(device.mass_g)} g",))
    if device.ingress:
        yield Fact(say("site-ingress"), (device.ingress,))
    yield Fact(
        say("site-parts-joints"),
        (say("site-of-parts", parts=counts.parts, joints=counts.joints),),
        (say("site-of-screws", screws=counts.screws, kinds=counts.screw_kinds),),
    )
    if of.index is not None:
        yield Fact(
            say("site-index-eu"),
            (Link(index_words(of, said), page=INDEX),),
            (say("site-not-legal-advice"),),
        )


def index_words(of: Published, said: Language) -> str:
    """R and class in words, or why there is none."""
    made = of.index.index if of.index is not None else None
    if made is not None and made.value is not None:
        value = made.value
        letter = value.repair_class or said.say("site-class-none")
        return said.say("site-index-value", index=value.shown.replace(".", said.point), letter=letter)
    if made is not None and made.lowest is not None and made.highest is not None:
        low, high = (one.shown.replace(".", said.point) for one in (made.lowest, made.highest))
        return said.say("site-index-range", low=low, high=high, missing=len(made.missing))
    return said.say("site-index-undefined")


def section(of: Published, said: Language) -> Drawing:
    """The section through the stack; each slab leads to the instruction to its part."""
    paths = instruction_paths(of.record)
    links = {part: f"{paths[part]}.html" for part in of.instructions}
    svg = stack_drawing(of.record, links=links or None, code=said.code)
    larger = stretch(of.record)
    caption = (
        said.say("depth-order")
        if larger is None
        else said.say("depth-stretched", times=said.fixed(larger, 1))
    )
    return Drawing(svg, words_of(svg), caption, STACK_FILE)


def ways_table(of: Published, said: Language) -> Table:
    """A row for every part that was asked for."""
    columns = heads(said, "part", "steps", "time", "moves", "cost", "tools", "rests")
    rows: list[tuple[Line, ...]] = []
    for row in of.rows:
        rows.append(((part_named(of, row.part, said),), *way_cells(row, of.record.device.currency, said)))
    return Table(said.say("site-ways"), columns, tuple(rows), (1, 2, 3, 4, 5))


def way_cells(row: WayRow, currency: str, said: Language) -> tuple[Line, ...]:
    """The figures of one way, or why there is none."""
    if row.steps is None or row.seconds is None:
        return ((), (), (), (), (), (said.say("site-no-way", reason=row.reason),))
    low, high = (said.minutes(value or 0.0) for value in (row.low_seconds, row.high_seconds))
    money = "" if row.money is None else f"{said.fixed(row.money, 2)} {currency}"
    tools = str(len(row.tools)) if row.tools else said.say("bare-hands")
    return (
        (str(row.steps),),
        (said.say("site-minutes-range", minutes=said.minutes(row.seconds), low=low, high=high),),
        (str(row.moves),),
        (money,),
        (tools,),
        (rests_on(row, said),),
    )


def rests_on(row: WayRow, said: Language) -> str:
    """What the figures of a way rest on."""
    basis = [said.say("proof", proven=bool(row.proven))]
    if row.assumed:
        basis.append(said.say("site-assumed-moves", count=row.assumed))
    if row.mostly_default:
        basis.append(said.say("site-default-times"))
    return ", ".join(basis)


def ways_notes(of: Published, said: Language) -> Iterator[str]:
    """What the table means."""
    yield said.say("site-ways-note")
    if of.settings.parts == "priority":
        yield said.say("site-priority-only", count=len(of.rows))


def contents(of: Published, said: Language) -> Iterator[Line]:
    """What else lies in the folder, with a word on each."""
    say = said.say
    if of.screws:
        yield told(Link(say("site-screws"), page=SCREWS), say("site-about-screws"))
        yield told(Link(say("site-screw-sheet"), file=SCREW_FILE), say("site-about-screw-sheet"))
    if of.refit is not None:
        yield told(Link(say("site-refit"), page=REFIT), say("site-about-refit"))
    if of.index is not None:
        yield told(Link(say("site-index"), page=INDEX), say("site-about-index"))
    if of.has("lists"):
        yield told(Link(say("site-lists"), page=LISTS), say("site-about-lists"))
    begins = of.settings.log_begins_seconds
    if of.has("chapters") and chapters(of.record, said, log_begins_seconds=begins):
        yield told(Link(say("site-chapters"), page=CHAPTERS), say("site-about-chapters"))
    if of.photos:
        yield told(Link(say("site-photos"), page=PHOTOS), say("site-about-photos", count=len(of.photos)))
    if of.has("markdown"):
        yield told(Link(say("site-markdown"), file="markdown/index.md"), say("site-about-markdown"))
    if of.has("record"):
        yield told(Link(say("site-record"), file=RECORD_FILE), say("site-about-record"))


def told(link: Link, about: str) -> Line:
    """A link with what lies there."""
    return (link, f" – {about}")
