"""The page of the repairability index: R, every number with its clause, the trace, the duties."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from midframe.dossier.index import DeviceIndex, IndexRange
from midframe.index.evidence import Reading
from midframe.index.results import IndexValue, Judgement, PartRow, RepairabilityIndex
from midframe.publish.blocks import (
    Block,
    Fact,
    Facts,
    Heading,
    Items,
    Line,
    Page,
    Strong,
    Table,
    Words,
    line,
)
from midframe.publish.language import FIRST, Language
from midframe.publish.retell import clause, told
from midframe.publish.site_contents import Published
from midframe.publish.site_overview import index_words
from midframe.publish.site_paths import INDEX
from midframe.publish.site_words import free, heads, part_named
from midframe.sources import cited

VERDICTS = ("not met", "not decidable from the record", "met")


def index_page(of: Published, found: DeviceIndex, said: Language) -> Page:
    """The index and what the regulations say, line by line."""
    say, made = said.say, found.index
    blocks: list[Block] = [
        Words((say("site-index-note"),), "quiet"),
        Facts(tuple(in_short(of, made, found, said))),
        Heading(say("site-scores")),
        scores(made, said),
        Heading(say("site-index-parts")),
        Words((say("site-index-parts-note"),), "quiet"),
        parts(of, made, said),
        *open_values(made, said, of.written),
        *(block for one in found.judgements if one.index is None for block in duties(one, said, of.written)),
        Heading(say("site-trace"), anchor="trace"),
        *trace(made, said, of.written),
        *closing(found, said, of.written),
    ]
    return Page(INDEX, say("site-index"), say("site-index"), tuple(blocks))


def in_short(of: Published, made: RepairabilityIndex, found: DeviceIndex, said: Language) -> Iterator[Fact]:
    """R, its class, what an authority may find, and how far assumed conditions matter."""
    say, value = said.say, made.value
    yield Fact(say("site-index-eu"), (index_words(of, said),), exactly(value, said))
    if value is not None:
        letter = value.class_of_lowest_found or say("site-class-none")
        yield Fact(
            say("site-lowest-found"),
            (value.lowest_found.replace(".", said.point),),
            (say("site-lowest-found-note", letter=letter),),
        )
    if found.range is not None:
        yield Fact(say("site-with-assumed"), (spread(found.range, said),))


def spread(found: IndexRange, said: Language) -> str:
    """R with the assumed conditions ignored and kept, in words."""
    count = len(found.assumed)
    if found.best is None or found.worst is None:
        return said.say("site-assumed-undefined", count=count)
    ends = [IndexValue.of(end) for end in sorted((found.best, found.worst))]
    told = [
        said.say(
            "site-index-value",
            index=end.shown.replace(".", said.point),
            letter=end.repair_class or said.say("site-class-none"),
        )
        for end in dict.fromkeys(ends)
    ]
    span = told[0] if len(told) == 1 else said.say("from-to", first=told[0], last=told[1])
    return said.say("site-assumed-range", span=span, count=count)


def exactly(value: IndexValue | None, said: Language) -> Line:
    """The exact value, and whether the class depends on rounding."""
    if value is None:
        return ()
    firm = "site-rounding-matters" if value.depends_on_rounding else "site-rounding-firm"
    return (said.say("site-exactly", index=value.exact.replace(".", said.point)), f"; {said.say(firm)}")


def scores(made: RepairabilityIndex, said: Language) -> Table:
    """The six scores with weight and clause."""
    rows = tuple(
        (
            (f"{one.symbol}: {said.say('site-score', symbol=one.symbol)}",),
            (one.shown.replace(".", said.point) if one.defined else said.say("site-no-score"),),
            (said.percent(one.weight / 100),),
            (clause(one.clause, said),),
        )
        for one in made.scores
    )
    columns = heads(said, "score", "points", "weight", "clause")
    return Table(said.say("site-scores"), columns, rows, (1, 2))


def parts(of: Published, made: RepairabilityIndex, said: Language) -> Table:
    """Every part as it enters the scores, with what decides."""
    rows = tuple(part_row(of, row, said) for row in made.rows)
    columns = heads(said, "part", "steps", "depth", "fasteners", "tools", "decides")
    return Table(said.say("site-index-parts"), columns, rows, (1, 2, 3, 4))


def part_row(of: Published, row: PartRow, said: Language) -> tuple[Line, ...]:
    """One part in one role."""
    name = part_named(of, row.part, said)
    role = said.say("site-role", role=row.role)
    if row.state != "present":
        return (line(role), (), (), (), (), (said.say("site-part-state", state=row.state),))
    deciding = [one.name for one in (row.deciding_fastener, row.deciding_tool) if one is not None]
    return (
        line(name, " (", role, ")"),
        ("?" if row.n is None else str(row.n),),
        *((points(str(one), one.defined, said),) for one in (row.depth, row.fastener, row.tool)),
        joined(deciding, "; ", said, of.written),
    )


def points(shown: str, defined: bool, said: Language) -> str:
    """Points or their range, in few words."""
    return shown.replace(" to ", "–") if defined else said.say("site-no-score")


def joined(texts: Iterable[str], between: str, said: Language, written: str) -> Line:
    """Some texts of results, told and strung together."""
    pieces = [told(text, said, written) for text in texts]
    return tuple(piece for number, one in enumerate(pieces) for piece in ((between, *one) if number else one))


def open_values(made: RepairabilityIndex, said: Language, written: str) -> Iterator[Block]:
    """What is missing, and what lies below the lowest level."""
    if made.missing:
        yield Heading(said.say("site-missing"))
        yield Items(
            tuple(
                line(
                    *told(one.what, said, written),
                    " ",
                    said.say(
                        "site-missing-moves",
                        scores=", ".join(one.scores),
                        by=said.fixed(one.moves_ten_thousandths / 10_000, 4),
                    ),
                )
                for one in sorted(made.missing, key=lambda one: -one.moves_ten_thousandths)
            )
        )
    if made.undefined:
        yield Heading(said.say("site-below"))
        yield Items(
            tuple(
                line(
                    *told(one.what, said, written),
                    ": ",
                    *told(one.rule, said, written),
                    f", {clause(one.clause, said)}",
                )
                for one in made.undefined
            )
        )


def duties(judgement: Judgement, said: Language, written: str) -> Iterator[Block]:
    """What one regulation says of the device, what is not met first."""
    yield Heading(said.say("site-regulation", key=judgement.key, title=judgement.title))
    applies = said.say("site-applies", applies=judgement.applies)
    yield Words(line(applies, " ", *told(judgement.applies_because, said, written), "."), "quiet")
    for verdict in VERDICTS:
        some = [one for one in judgement.findings if one.verdict == verdict]
        if some:
            yield Heading(
                said.say(
                    "site-verdict", verdict=verdict.partition(" from")[0].replace(" ", "-"), count=len(some)
                ),
                3,
            )
            yield Items(
                tuple(
                    line(
                        strong(one.duty, said),
                        *((" (", free(one.name, said, written), ")") if one.name else ()),
                        ": ",
                        *told(one.why, said, written),
                        f" [{clause(one.clause, said)}]",
                    )
                    for one in some
                )
            )


def strong(duty: str, said: Language) -> Strong:
    """A duty, marked where it could not be told in the language of the page."""
    (piece,) = told(duty, said)
    return Strong(piece) if isinstance(piece, str) else Strong(duty, FIRST)


def trace(made: RepairabilityIndex, said: Language, written: str) -> Iterator[Block]:
    """The sums written out, then the steps of every part."""
    if said.code != FIRST:
        yield Words((said.say("site-own-words"),), "quiet")
    yield Items(tuple(told(text, said, written) for text in made.trace))
    for row in made.rows:
        if row.step_lines:
            yield Heading(said.say("site-steps-to", name=row.name), 3)
            yield Items(tuple(told(text, said, written) for text in row.step_lines))
        if row.clauses:
            clauses = [f"{what.replace('_', ' ')}: {place}" for what, place in row.clauses.items()]
            role = row.role.replace("_", " ")
            name = told(role, said) if row.name == role else (free(row.name, said, written),)
            rest = joined(clauses, "; ", said, written)
            yield Words(line(*name, ", ", *told(role, said), ": ", *rest, "."), "quiet")


def reading(one: Reading, said: Language) -> Line:
    """A reading with its id; those of the step count stand in the catalogue with it."""
    known = said.term(f"{one.id} {one.text}")
    if known is not None:
        return (f"{one.id}: {known.partition(' ')[2]}",)
    return line(f"{one.id}: ", *told(one.text, said))


def closing(found: DeviceIndex, said: Language, written: str) -> Iterator[Block]:
    """Readings in force, sources, and what the finding is not."""
    made = found.index
    yield Heading(said.say("readings-used"))
    yield Items(tuple(reading(one, said) for one in made.readings))
    yield Heading(said.say("sources-used"))
    yield Items(tuple((str(source),) for source in cited(made.sources)))
    yield Words(told(made.consolidation, said), "quiet")
    for note in made.notes:
        yield Words(told(note, said, written), "quiet")
    yield Words((said.say("site-not-legal-advice"),), "warning")
