"""Records side by side as a sheet: one column a device."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.battery import known as known_figure
from midframe.cli.sheets.figures import duration, minutes
from midframe.cli.sheets.table import Column, paragraph, sheet_width, table
from midframe.dossier.compare import Comparison, PartRow, ScrewRow, Side
from midframe.dossier.compare_changes import PairChanges

COUNTS = (
    ("mass, g", "mass_g"),
    ("ingress", "ingress"),
    ("parts", "parts"),
    ("joints", "joints"),
    ("screws", "screws"),
    ("kinds of screw", "screw_kinds"),
    ("documented orders", "orders"),
    ("assumed conditions", "assumed"),
)


SIDE = "steps   min screws"
"""What stands in each cell of the table of ways."""


def compare_sheet(found: Comparison) -> list[str]:
    """All that is compared, each block a table with one column a device."""
    width = sheet_width()
    names = [f"{one.name} (invented)" if one.invented else one.name for one in found.devices]
    lines = paragraph(f"{', '.join(names)}: side by side", width)
    lines += [part for line in found.heritage for part in paragraph(f"{line}.", width)]
    heads = [Column(one.name, figures=True, wraps=True) for one in found.devices]
    counts = [[word, *(known(getattr(one, key)) for one in found.devices)] for word, key in COUNTS]
    lines += ["", *table([Column("device"), *heads], counts, width)]
    scores = [[f"{row.symbol}, {row.name}", *row.shown] for row in found.scores]
    lines += ["", *table([Column("index", wraps=True), *heads], scores, width), *index_lines(found, width)]
    if found.upkeep:
        times = [[row.name, *map(duration, row.seconds)] for row in found.upkeep]
        lines += ["", *table([Column("time to repair"), *heads], times, width)]
    lines += ["", *parts_table(found, heads, width)]
    for pair in found.changes:
        lines += ["", *changes_lines(found, pair, width)]
    rows = [
        [f"{row.name}, {row.unit}" if row.unit else row.name, *map(known_figure, row.values)]
        for row in found.batteries
    ]
    lines += ["", *table([Column("battery", wraps=True), *heads], rows, width)]
    if found.screws:
        screws = [
            [screw_words(row), *(str(one) if one else "–" for one in row.counts)] for row in found.screws
        ]
        lines += ["", *table([Column("screws", wraps=True), *heads], screws, width)]
    return lines


def known(value: object) -> str:
    """A figure, or that it is not known."""
    if value is None or value == "":
        return "?"
    return f"{value:g}" if isinstance(value, float) else str(value)


def index_lines(found: Comparison, width: int) -> list[str]:
    """R and class of each device in words."""
    pairs = zip(found.devices, found.index_lines, strict=True)
    lines = [part for one, line in pairs for part in paragraph(f"{one.name}: {line}", width)]
    return [*lines, *paragraph("A finding from the data given, not legal advice.", width)]


def changes_lines(found: Comparison, pair: PairChanges, width: int) -> list[str]:
    """What got better and what worse from one device to the other, and what did it."""
    before, after = (found.devices[number].name for number in (pair.before, pair.after))
    lines = paragraph(f"From {before} to {after}", width)
    for word, changes in (("better", pair.better), ("worse", pair.worse)):
        if not changes:
            lines += [f"nothing {word}"]
            continue
        rows = [
            [one.name, figure_of(one.unit, one.before), figure_of(one.unit, one.after)] for one in changes
        ]
        columns = [Column(word, wraps=True), Column(before, figures=True), Column(after, figures=True)]
        lines += table(columns, rows, width)
        for one in changes:
            if one.because:
                lines += paragraph(f"{one.name}: {one.because}", width, "  ", "    ")
    if pair.undecided:
        lines += paragraph(f"not decided, as one of the two lacks data: {'; '.join(pair.undecided)}", width)
    return lines


def figure_of(unit: str, value: float) -> str:
    """A figure of a comparison: minutes for seconds, two decimals of the index, whole steps and screws."""
    if unit == "seconds":
        return f"{minutes(value)} min"
    return f"{value:.2f}" if unit == "of 5" else f"{value:.0f}"


def parts_table(found: Comparison, heads: Sequence[Column], width: int) -> list[str]:
    """The ways in to each part, and under each what makes the difference."""
    rows = [["", *[SIDE for _ in heads]], *([row.name, *map(side_words, row.sides)] for row in found.parts)]
    lines = table([Column("way in", wraps=True), *heads], rows, width)
    lines += paragraph("steps: of the way of fewest; min: minutes of the fastest; screws: undone.", width)
    differences = [row for row in found.parts if row.text]
    for row in differences:
        lines += ["", *paragraph(row.name, width), *difference_lines(row, width)]
    return lines


def difference_lines(row: PartRow, width: int) -> list[str]:
    """What is on the way in one device only."""
    return [part for text in row.text.split("; ") for part in paragraph(text, width, "  ", "    ")]


def side_words(side: Side | None) -> str:
    """One way in a narrow column."""
    if side is None:
        return "–"
    if side.steps is None:
        return "no way"
    time = minutes(side.seconds) if side.seconds is not None else "?"
    return f"{side.steps:>5} {time:>5} {side.screws:>6}"


def screw_words(row: ScrewRow) -> str:
    """A kind of screw."""
    length = f"{row.length_mm:g} mm" if row.length_mm is not None else ""
    words = [row.drive or "drive not known", row.thread, length, row.head]
    return ", ".join(word for word in words if word)
