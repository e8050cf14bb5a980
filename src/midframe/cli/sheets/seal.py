"""A seal check as text."""

from __future__ import annotations

from midframe.cli.sheets.table import pairs, paragraph, sheet_width
from midframe.seal import Instrument, SealCheck, from_pa_m3_s
from midframe.sources import cited

UNCERTAIN = "jcgm-100"
"""Source of how uncertainties add and are told."""


def told(rate: float) -> str:
    """A leak rate as the sheet writes it."""
    return f"{rate:.2e} Pa·m³/s"


def seal_sheet(found: SealCheck, tool: Instrument) -> list[str]:
    """A seal check with what it rests on, its criteria, doubts and sources."""
    width = sheet_width()
    rate, around = found.rate_pa_m3_s, found.uncertainty_pa_m3_s
    rows = [
        ("leak rate", f"{told(rate)} ± {around:.1e} (about 95 %)"),
        (
            "the same",
            f"{from_pa_m3_s(rate, 'mbar·L/s'):.2g} mbar·L/s, "
            f"{from_pa_m3_s(rate, 'atm·cc/min'):.2g} atm·cc/min, {from_pa_m3_s(rate, 'sccm'):.2g} sccm",
        ),
        ("at", f"{found.over_pa / 1000:+.2f} kPa against ambient, over {found.seconds:g} s"),
        (
            "temperature",
            "not measured"
            if found.apparent_pa_m3_s is None
            else f"taken out; its change alone made {told(found.apparent_pa_m3_s)}",
        ),
        (
            "rests on",
            f"standard uncertainties of {100 * tool.volume_share:g} % of the volume, "
            f"{tool.pressure_pa:g} Pa, {tool.kelvin:g} K",
        ),
        ("one hole", hole(found) if rate > 0 else ""),
    ]
    lines = pairs(rows, width)
    for one in found.compared:
        text = f"{one.verdict}: {one.criterion.name}, limit {one.criterion.limit_pa_m3_s:.1e} Pa·m³/s, "
        lines += paragraph(f"{text}here {told(one.rate_pa_m3_s)}. {one.criterion.note}", width, "  ", "    ")
    for doubt in found.doubts:
        lines += paragraph(f"In doubt: {doubt}", width)
    lines += ["", *paragraph(found.statement, width), "", "Sources"]
    keys = dict.fromkeys(
        [*(one.criterion.source for one in found.compared if one.criterion.source), UNCERTAIN]
    )
    return lines + [text for one in cited(keys) for text in paragraph(str(one), width, "  ", "    ")]


def hole(found: SealCheck) -> str:
    """What the one hole that would leak so would do under water."""
    held = (
        f"; where it is not wetted, none up to {found.meniscus_pa / 1000:.1f} kPa"
        if found.meniscus_pa
        else ""
    )
    return (
        f"{found.hole_um:.0f} µm across and 1 mm long would leak so; wetted, at 1 m of water, it would let "
        f"in {found.water_ml:.2g} mL in 30 min{held}"
    )
