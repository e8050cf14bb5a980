"""The repairability index as a sheet: R, its scores, every part with what decides, what is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.index.results import IndexValue, PartRow, Points, RepairabilityIndex, Score
from midframe.ways.wording import in_sentence

SCORES = (
    Column("score"),
    Column("", wraps=True),
    Column("points", figures=True),
    Column("weight", figures=True),
    Column("clause", wraps=True),
)
PARTS = (
    Column("part", wraps=True),
    Column("steps", figures=True),
    Column("SDD", figures=True),
    Column("SF", figures=True),
    Column("ST", figures=True),
    Column("segment from", wraps=True),
    Column("decided by", wraps=True),
)


def index_sheet(
    title: str,
    index: RepairabilityIndex,
    assumed: str,
    *,
    documented: Sequence[str] = (),
    unproven: Sequence[str] = (),
) -> list[str]:
    """The index of one device; `assumed` says what assumed conditions leave open, empty where nothing.

    `documented` names parts counted by a documented order, `unproven` parts whose sequence may
    not be the one of fewest steps.
    """
    width = sheet_width()
    lines = paragraph(f"{title}: EU repairability index", width)
    lines += paragraph(in_short(index), width)
    lines += paragraph(index.disclaimer, width)
    lines += ["", *table(SCORES, map(score_row, index.scores), width)]
    lines += ["", *table(PARTS, part_rows(index), width)]
    lines += paragraph(
        "steps: counted, + for remote actions. Segment: since which priority part was off; the fastener"
        " and the tool that decide in it. ( ): another part of the same role scores less and counts.",
        width,
    )
    lines += missing_lines(index, width)
    rows = [
        ("range", rounding(index)),
        ("assumed", assumed),
        ("documented", governed(documented)),
        ("not proven", "; ".join(unproven)),
        *[("note", note) for note in index.notes],
    ]
    return [*lines, *blocked(pairs(rows, width))]


def governed(documented: Sequence[str]) -> str:
    """Which parts are counted by a documented order, where midframe ways may find fewer steps."""
    if not documented:
        return ""
    return (
        f"{'; '.join(documented)}: steps of the documented order, which governs (reading Q14);"
        " midframe ways tells the way of fewest"
    )


def blocked(lines: list[str]) -> list[str]:
    """The lines with an empty one before them, if there are any."""
    return ["", *lines] if lines else []


def in_short(index: RepairabilityIndex) -> str:
    """R and its class, or its range, or why there is none."""
    if index.value is not None:
        return f"R = {index.value.shown} of 5 (exactly {index.value.exact}), class {class_words(index.value)}"
    if index.lowest is not None and index.highest is not None:
        low, high = index.lowest, index.highest
        return (
            f"R = {low.shown} to {high.shown} of 5, class {class_words(low)} to {class_words(high)}:"
            f" {count(len(index.missing), 'value is', 'values are')} missing"
        )
    return "R is not defined: the act gives no points for what stands below"


def class_words(value: IndexValue) -> str:
    """The class, or that there is none."""
    return value.repair_class or "none (below 1.00)"


def rounding(index: RepairabilityIndex) -> str:
    """Whether the class hangs on rounding, and how low an authority may find."""
    value = index.value
    if value is None:
        return ""
    if value.depends_on_rounding:
        return (
            f"the class hangs on rounding: {value.repair_class} by the exact value,"
            f" {value.class_if_rounded} if two decimals are taken first"
        )
    return f"class {class_words(value)} rounded or exact"


def score_row(score: Score) -> list[str]:
    """One of the six scores."""
    return [score.symbol, score.name, score.shown, f"{score.weight} %", score.clause]


def part_row(row: PartRow, twice: bool) -> list[str]:
    """One part in one role; the role is told where the part has several."""
    three = (row.depth, row.fastener, row.tool)
    if row.state != "present":
        return [f"{row.name} ({row.state})", "", *map(points, three), "", ""]
    scored = [
        points(value) if symbol in row.counts_for else f"({points(value)})"
        for symbol, value in zip(("SDD", "SF", "ST"), three, strict=True)
    ]
    extra = f"+{row.remote_extra}" if row.remote_extra else ""
    steps = "?" if row.steps is None else f"{row.steps}{extra}"
    name = f"{row.name} ({row.role.replace('_', ' ')})" if twice else row.name
    return [name, steps, *scored, in_sentence(row.segment_start) or "closed device", deciding(row)]


def part_rows(index: RepairabilityIndex) -> list[list[str]]:
    """Every part in every role."""
    often = Counter(row.part for row in index.rows)
    return [part_row(row, often[row.part] > 1) for row in index.rows]


def points(value: Points) -> str:
    """Points in a narrow column."""
    return str(value).replace(" to ", "–") if value.defined else "none"


def deciding(row: PartRow) -> str:
    """The fastener and the tool that decide; the trace tells their levels."""
    deciding = (row.deciding_fastener, row.deciding_tool)
    return "; ".join(one.name for one in deciding if one is not None)


def missing_lines(index: RepairabilityIndex, width: int) -> list[str]:
    """Values that the record lacks, the weightiest first, and those the act gives no points."""
    lines: list[str] = []
    if index.missing:
        columns = [Column("missing", wraps=True), Column("scores"), Column("could move R by", figures=True)]
        ordered = sorted(index.missing, key=lambda one: -one.moves_ten_thousandths)
        rows = [
            [one.what, ", ".join(one.scores), f"{one.moves_ten_thousandths / 10_000:.4f}"] for one in ordered
        ]
        lines += ["", *table(columns, rows, width)]
    if index.undefined:
        columns = [
            Column("below the lowest level", wraps=True),
            Column("scores"),
            Column("clause", wraps=True),
        ]
        rows = [[one.what, ", ".join(one.scores), one.clause] for one in index.undefined]
        lines += ["", *table(columns, rows, width)]
    return lines


def trace_part(index: RepairabilityIndex) -> list[str]:
    """The sums written out, and the steps of every part."""
    width = sheet_width()
    lines = ["", "Trace"]
    for line in index.trace:
        lines += paragraph(line, width, "  ", "    ")
    for row in index.rows:
        if row.step_lines:
            lines += ["", *paragraph(f"Steps to {row.name} ({row.role.replace('_', ' ')})", width)]
            lines += [part for line in row.step_lines for part in paragraph(line, width, "  ", "     ")]
    return lines


def closing_part(readings: Iterable[str], sources: Iterable[str]) -> list[str]:
    """Readings in force and the sources used."""
    width = sheet_width()
    lines = ["", "Readings (choices where the act is silent)"]
    lines += [part for line in readings for part in paragraph(line, width, "  ", "    ")]
    lines += ["", "Sources"]
    return lines + [part for line in sources for part in paragraph(line, width, "  ", "    ")]
