"""Thermal layers as text: each layer, the ways of the heat, substitute pads, the predecessor, a bar test."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.cli.sheets.ways import title_of
from midframe.record import Record
from midframe.sources import cited
from midframe.thermal import Needed, PadFit, Path, Span, Stack, Substitutes, ThermalComparison
from midframe.thermal.resistance import M2K_W_TO_CM2K_W
from midframe.thermal.substitutes import MEASURE, Substitute
from midframe.thermal.wording import figure, per_area, ranged, signed

MOST = 12
"""Pads that are listed unless all are asked for."""


def thermal_sheet(
    record: Record,
    stack: Stack,
    paths: Sequence[Path],
    found: Substitutes | None,
    beside: ThermalComparison | None,
    *,
    everything: bool = False,
) -> list[str]:
    """All that is known of the layers of a record."""
    width = sheet_width()
    if not stack.layers:
        return paragraph(f"{title_of(record)}: no thermal layer in the record ([[layers]])", width)
    given = "" if stack.power_given else " (default; --power says another)"
    lines = paragraph(f"{title_of(record)}: thermal layers at {stack.power_w:g} W{given}", width)
    lines += ["", *layers_table(stack, width), *missing_lines(stack, width)]
    lines += ["", *paths_table(record, paths, stack.power_w, width)]
    if found is not None:
        lines += ["", *substitutes_lines(found, width, everything=everything)]
    if beside is not None:
        lines += ["", *beside_lines(beside, width)]
    lines += ["", *paragraph(stack.note, width), "", "What it rests on"]
    lines += [line for text in rests_on(stack) for line in paragraph(text, width, "  ", "    ")]
    lines += ["", "Sources"]
    return lines + [part for one in cited(stack.sources) for part in paragraph(str(one), width, "  ", "    ")]


def layers_table(stack: Stack, width: int) -> list[str]:
    """One row a layer."""
    columns = (
        Column("layer", wraps=True),
        Column("mm", figures=True),
        Column("W/(m·K)", figures=True),
        Column("mm²", figures=True),
        Column("K·cm²/W", figures=True),
        Column("K/W", figures=True),
        Column("K", figures=True),
    )
    rows = [
        [
            f"{layer.id}, {layer.kind}",
            "–" if layer.thickness_mm is None else f"{layer.thickness_mm:g}",
            f"{layer.conductivity_w_mk.usual:g}",
            "–" if layer.area_mm2 is None else f"{layer.area_mm2:g}",
            per_area(layer.unit_m2k_w),
            "–" if layer.resistance_k_w is None else figure(layer.resistance_k_w.usual),
            ranged(layer.drop_k),
        ]
        for layer in stack.layers
    ]
    return table(columns, rows, width)


def missing_lines(stack: Stack, width: int) -> list[str]:
    """What the record does not say."""
    told = [f"{layer.id}: no {', '.join(layer.missing)}" for layer in stack.layers if layer.missing]
    return ["", *paragraph(f"Not in the record: {'; '.join(told)}", width)] if told else []


def paths_table(record: Record, paths: Sequence[Path], power_w: float, width: int) -> list[str]:
    """The ways of the heat, were all of the power to go there."""
    if not paths:
        return []
    names = {part.id: part.name for part in record.parts}
    columns = (
        Column(f"from {names[paths[0].parts[0]]} to", wraps=True),
        Column("over", wraps=True),
        Column("K/W", figures=True),
        Column("K", figures=True),
    )
    rows = [
        [
            names.get(path.parts[-1], path.parts[-1]),
            "; ".join(step.text for step in path.steps),
            "–" if path.resistance_k_w is None else figure(path.resistance_k_w.usual),
            ranged(path.drop_k),
        ]
        for path in paths
    ]
    lines = table(columns, rows, width)
    if any(path.other_ways for path in paths):
        text = (
            "Layers lead around in a ring: other ways carry some too, so these figures are on the high side."
        )
        lines += paragraph(text, width)
    return [*lines, *paragraph(f"Each as if all {power_w:g} W went there.", width)]


def substitutes_lines(found: Substitutes, width: int, *, everything: bool) -> list[str]:
    """Substitute pads ranked, and the least conductivity by thickness."""
    whence = "in the record" if found.gap_from == "record" else "as given"
    head = (
        f"Pads in place of {found.layer}: gap {found.gap_mm:g} mm {whence}; the original drops "
        f"{ranged(found.original_drop_k)} K at {found.power_w:g} W; up to {found.limit_k:g} K more allowed"
    )
    columns = (
        Column("pad", wraps=True),
        Column("K more", figures=True),
        Column("margin", figures=True),
        Column("verdict"),
        Column("in the gap", wraps=True),
    )
    good = [one for one in found.pads if one.verdict in ("within", "in doubt")]
    shown = found.pads if everything or len(found.pads) <= MOST else tuple(good[:MOST])
    lines = [*paragraph(head, width), ""]
    lines += table(columns, [substitute_row(one) for one in shown], width)
    if len(shown) < len(found.pads):
        left = len(found.pads) - len(shown)
        lines += paragraph(f"{count(left, 'further pad')}, warmer or without a fit: --all", width)
    if not good:
        lines += paragraph("No pad fits the gap and stays within the limit.", width)
    if found.gap_from == "record":
        lines += paragraph(MEASURE, width)
    least = [needed_row(one) for one in found.needed]
    heads = (Column("thickness"), Column("least W/(m·K)", figures=True), Column("in the gap", wraps=True))
    return [*lines, "", *table(heads, least, width)]


def substitute_row(one: Substitute) -> list[str]:
    """One pad."""
    return [one.pad.words, signed(one.warmer_k), signed(one.margin_k), one.verdict, one.seat.text]


def needed_row(one: Needed) -> list[str]:
    """One thickness."""
    least = "none" if one.conductivity_w_mk is None else figure(one.conductivity_w_mk)
    return [f"{one.thickness_mm:g} mm", least, one.seat.text]


def beside_lines(beside: ThermalComparison, width: int) -> list[str]:
    """The layers of both devices."""
    columns = (
        Column("layer", wraps=True),
        Column(f"{beside.before}, K", figures=True),
        Column(f"{beside.now}, K", figures=True),
        Column("colder by", figures=True),
        Column("what changed", wraps=True),
    )
    rows = []
    for row in beside.rows:
        text = "; ".join([*row.differs, *row.missing]) or row.change
        colder = "" if row.colder_k is None else signed(row.colder_k)
        rows.append([row.id, drop(row.before_drop_k), drop(row.now_drop_k), colder, text])
    head = f"{beside.now} beside {beside.before}, drops at {beside.power_w:g} W"
    return [*paragraph(head, width), "", *table(columns, rows, width)]


def drop(span: Span | None) -> str:
    """The usual drop, or a dash."""
    return "–" if span is None else figure(span.usual)


def rests_on(stack: Stack) -> Iterator[str]:
    """What the figures rest on, each said once."""
    seen: dict[str, list[str]] = {}
    for layer in stack.layers:
        for basis in layer.rests_on:
            if basis.figure != "thickness":
                keys = "".join(f" [{key}]" for key in basis.sources)
                seen.setdefault(f"{basis.figure}, {basis.kind}: {basis.text}{keys}", []).append(layer.id)
    for text, names in seen.items():
        yield f"{', '.join(names)}: {text}"


def fit_lines(fit: PadFit) -> list[str]:
    """Conductivity and contact of a bar test."""
    width = sheet_width()

    def within(low: float | None, high: float | None, factor: float = 1.0) -> str:
        if low is None:
            return ""
        end = "no upper end" if high is None else figure(high * factor)
        return f" ({figure(low * factor)} to {end}, 95 %)"

    k = within(fit.conductivity_low_w_mk, fit.conductivity_high_w_mk)
    contact = within(fit.contact_low_m2k_w, fit.contact_high_m2k_w, M2K_W_TO_CM2K_W)
    rows = [
        ("conductivity", f"{fit.conductivity_w_mk:.3g} W/(m·K){k}"),
        ("both contacts", f"{figure(fit.contact_m2k_w * M2K_W_TO_CM2K_W)} K·cm²/W{contact}"),
    ]
    lines = [*paragraph(f"Bar test of {count(fit.samples, 'sample')} [astm-d5470, calculation]", width)]
    lines += pairs(rows, width, "  ")
    for doubt in fit.doubts:
        lines += paragraph(f"In doubt: {doubt}", width, "  ", "    ")
    return lines
