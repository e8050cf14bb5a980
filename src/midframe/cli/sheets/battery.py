"""Battery checks as text: the answer first, then what it rests on and where it is from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from midframe.battery import BatteryComparison, Columns, Estimate, Handling, Health, LabelReport, LogMapping
from midframe.battery.kept import resistance_of, step_note
from midframe.cli.sheets.figures import count, duration
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.cli.sheets.ways import title_of
from midframe.record import Record
from midframe.sources import cited

OUTCOMES: Mapping[str, str] = {"agrees": "agrees", "differs": "DIFFERS", "note": "note", "missing": "missing"}
MOST_STEPS = 12
"""Steps of the current that are told singly; house choice."""


def label_sheet(record: Record | None, reports: Sequence[LabelReport]) -> list[str]:
    """Every label: what differs, what each figure means, what was checked."""
    width = sheet_width()
    lines = [] if record is None else [*paragraph(f"{title_of(record)}: battery label", width), ""]
    for number, report in enumerate(reports):
        lines += [""] if number else []
        lines += one_label(report, width)
    return lines + sources(key for report in reports for key in report.sources)


def one_label(report: LabelReport, width: int) -> list[str]:
    """One label."""
    one = report.label
    wrong = sum(found.outcome == "differs" for found in report.findings)
    verdict = (
        f"{wrong} of the checks {'differs' if wrong == 1 else 'differ'}" if wrong else "no check differs"
    )
    verdict = verdict if one.figures else "nothing to check"
    lines = paragraph(f"{one.name or 'Label'}: {verdict}", width)
    if not one.confirmed:
        lines += paragraph("Read from a photo, not confirmed: look at every figure, then type it.", width)
    if not one.figures:
        lines += paragraph("No figure with a unit was found.", width)
    rows = [[mean.figure.printed, mean.text] for mean in report.meanings]
    if rows:
        lines += ["", *table((Column("figure"), Column("what it means", wraps=True)), rows, width)]
    checks = [[OUTCOMES[found.outcome], found.text] for found in report.findings]
    return [*lines, "", *table((Column("check"), Column("what came out", wraps=True)), checks, width)]


def health_sheet(
    columns: Columns, mapping: LogMapping, found: Health, written: Sequence[str] = ()
) -> list[str]:
    """The result of a log."""
    width = sheet_width()
    uses = ", ".join(f"{one.role} = {one.column} in {one.unit}" for one in mapping.columns)
    rows = [
        *result_rows(found),
        (
            "columns",
            f"{uses}; {mapping.sign.replace('_', ' ')}{', remembered' if columns.remembered else ''}",
        ),
        *(("" if at else "note", text) for at, text in enumerate(found.notes)),
        *(
            ("" if at else "rests on", f"{one.figure}: {one.kind}, {one.text}")
            for at, one in enumerate(found.rests_on)
        ),
    ]
    lines = [*paragraph(f"{columns.file}: {count(columns.rows, 'row')}", width), "", *pairs(rows, width)]
    if found.resistances:
        lines += ["", *steps(found, width)]
    if written:
        lines += ["", f"Written: {', '.join(written)}"]
    return lines + sources(found.sources)


def result_rows(found: Health) -> list[tuple[str, str]]:
    """State of health, capacity, the 80 % line, what was counted."""
    place = "at the cell" if found.place == "cell" else "before the phone's converter"
    way = "charged" if found.charging else "discharged"
    counted = (
        f"{found.charge_ah:.4g} Ah, {found.energy_wh:.4g} Wh {way} in {duration(found.seconds)}, {place}"
    )
    rows = [("result", found.reason)] if found.outcome == "refused" else []
    if found.soh_percent is not None:
        rows.append(("state of health", f"{estimate(found.soh_percent, '%', 1)} of rated capacity"))
        rows.append(("80 % line", found.line))
    if found.capacity_mah is not None:
        rows.append(("capacity", estimate(found.capacity_mah, "mAh", 0)))
    if found.capacity_wh is not None:
        rows.append(("usable energy", estimate(found.capacity_wh, "Wh", 2)))
    resistance = resistance_of(found)
    if resistance is not None:
        rows.append(("resistance", f"{estimate(resistance, 'mΩ', 1)}, {step_note(found)}"))
    if found.outcome == "range":
        rows.append(("range only", found.reason))
    rows.append(("counted", counted))
    return rows


def estimate(one: Estimate, unit: str, digits: int) -> str:
    """A figure with its range, about 95 %.

    >>> estimate(Estimate(value=91.2, low=88.0, high=94.4), "%", 1)
    '91.2 % (88.0 to 94.4)'
    """
    span = f"{one.low:.{digits}f} to {one.high:.{digits}f}"
    return f"{span} {unit}" if one.value is None else f"{one.value:.{digits}f} {unit} ({span})"


def steps(found: Health, width: int) -> list[str]:
    """Resistances, each with the time after which its step was seen."""
    heads = (Column("step at", figures=True), Column("seen after, s", figures=True), Column("current, A"),
             Column("resistance, mΩ", figures=True))  # fmt: skip
    rows = [
        [
            duration(one.at_s),
            f"{one.step_seconds:.3g}",
            f"{one.from_a:.2f} to {one.to_a:.2f}",
            f"{1000 * one.resistance_ohm:.1f}",
        ]
        for one in found.resistances[:MOST_STEPS]
    ]
    more = len(found.resistances) - len(rows)
    return [*table(heads, rows, width), *([f"and {count(more, 'step')} more"] if more > 0 else [])]


def handling_sheet(record: Record | None, found: Iterable[tuple[str, Handling, bool]]) -> list[str]:
    """How each battery is handled and sent; the last of each is whether anybody said how it looks."""
    width, keys = sheet_width(), list[str]()
    lines = [] if record is None else [*paragraph(f"{title_of(record)}: handling", width), ""]
    for name, one, seen in found:
        keys += one.sources
        condition = one.condition if seen else f"taken as {one.condition}, nobody said how it looks"
        energy = "energy not known" if one.energy_wh is None else f"{one.energy_wh:.4g} Wh"
        packing = one.packing.replace("_", " ")
        lines += paragraph(
            f"{name or 'Battery'}: {condition}, {energy}, {one.un_number}, sent {packing}", width
        )
        if one.highest_charge_wh is not None:
            lines += paragraph(f"At most {one.highest_charge_wh:.1f} Wh in it by air.", width, "  ", "  ")
        rows = [[advice.topic, advice.text, advice.certainty] for advice in one.advice]
        heads = (Column("about"), Column("rule", wraps=True), Column("certainty", wraps=True))
        lines += ["", *table(heads, rows, width), "", *paragraph(one.ask, width), ""]
    return lines[:-1] + sources(keys)


def comparison_sheet(found: BatteryComparison) -> list[str]:
    """Two batteries side by side."""
    width = sheet_width()
    heads = (
        Column("battery", wraps=True),
        Column(found.now, figures=True, wraps=True),
        Column(found.before, figures=True, wraps=True),
        Column("change", figures=True),
    )
    rows = [
        [
            f"{row.name}, {row.unit}" if row.unit else row.name,
            known(row.now),
            known(row.before),
            "" if row.change_percent is None or not row.unit else f"{row.change_percent:+.1f} %",
        ]
        for row in found.rows
    ]
    lacking = sorted({name for row in found.rows for name in row.missing})
    told = [f"? is not in the record of {', '.join(lacking)}."] if lacking else []
    return [
        *paragraph(f"Battery of {found.now} beside {found.before}", width),
        "",
        *table(heads, rows, width),
        *told,
    ]


def known(value: float | None) -> str:
    """A figure with four digits, or that it is not known."""
    return "?" if value is None else f"{value:.4g}"


def sources(keys: Iterable[str]) -> list[str]:
    """The sources of these keys under their heading."""
    found = cited(keys)
    lines = ["", "Sources"] if found else []
    return lines + [text for one in found for text in paragraph(str(one), sheet_width(), "  ", "    ")]
