"""Whether the figures of a battery's label agree with one another and are plausible for its size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

import msgspec

from midframe.battery.label import Figure, Kind, Label
from midframe.battery.third_capacity import explained

Outcome: TypeAlias = Literal["agrees", "differs", "note", "missing"]

NOMINAL_V = (3.2, 3.95)
"""Nominal voltage of one lithium-ion cell, phosphate to high-voltage oxide; common practice, no source."""

LIMIT_PAIRS = ((4.2, 3.6, 3.7), (4.35, 3.8, 3.8), (4.4, 3.85, 3.85), (4.45, 3.87, 3.88), (4.48, 3.87, 3.89))
"""Charge limit, then the nominal voltages seen with it, in V; common practice, no source."""

ABOVE_RATED = 0.04
"""Typical is usually 1 to 4 % above rated; common practice, no source."""

DENSITY_WH_L = (400.0, 800.0)
"""Energy of a pouch cell per litre of its box; common practice, no source."""

DENSITY_WH_KG = (170.0, 320.0)
"""Energy of a pouch cell per kilogram; common practice, no source."""

CHARGE_MAH = (200.0, 20_000.0)
"""Charge of a battery of a phone or tablet; common practice, no source."""


class LabelFinding(msgspec.Struct, frozen=True):
    """One thing that was looked at: `key` names the check, `text` says what was compared and what came out.

    `sources` are keys of the list of sources; the text says where a figure is common practice.
    """

    key: str
    outcome: Outcome
    text: str
    sources: tuple[str, ...] = ()


class Meaning(msgspec.Struct, frozen=True):
    """One printed figure and what it means."""

    figure: Figure
    text: str
    sources: tuple[str, ...] = ()


class LabelReport(msgspec.Struct, frozen=True, kw_only=True):
    """A label, what each figure means, what was checked, and the density where the size is known."""

    label: Label
    meanings: tuple[Meaning, ...]
    findings: tuple[LabelFinding, ...]
    energy_wh: float | None
    energy_density_wh_l: float | None
    energy_density_wh_kg: float | None
    sources: tuple[str, ...]


def check_label(label: Label) -> LabelReport:
    """Check a label: energy against voltage times charge, rated against typical, a further charge, units.

    Energy in Wh is rated charge in Ah times nominal voltage in V [cfr-49-171-8, watt-hour]; two figures agree
    where they do within half a unit of the last printed digit of each.

    Examples
    --------
    >>> from midframe.battery.label import typed_label
    >>> label = typed_label([("rated", "1650 mAh")], [("nominal", "3.8 V")], [("rated", "6.7 Wh")])
    >>> [(found.key, found.outcome) for found in check_label(label).findings if found.outcome == "differs"]
    [('energy', 'differs')]

    References
    ----------
    [cfr-49-171-8, watt-hour], [lbl-2023-1669, Annex I (3)].
    """
    findings = tuple(
        finding
        for check in (units, energies, order, further, voltages, densities, gaps)
        for finding in check(label)
    )
    meanings = tuple(meaning(figure) for figure in label.figures)
    energy = label.energy_wh
    keys = {key for one in findings for key in one.sources} | {key for one in meanings for key in one.sources}
    return LabelReport(
        label=label,
        meanings=meanings,
        findings=findings,
        energy_wh=energy,
        energy_density_wh_l=energy / label.volume_cm3 * 1000 if energy and label.volume_cm3 else None,
        energy_density_wh_kg=energy / label.mass_g * 1000 if energy and label.mass_g else None,
        sources=tuple(sorted(keys)),
    )


def meaning(figure: Figure) -> Meaning:
    """What one printed figure means [lbl-2023-1669, Annex I (3), (8)], [iec-62257-8-1, 3.12]."""
    texts: dict[tuple[str, str], tuple[str, tuple[str, ...]]] = {
        ("charge", "rated"): (
            "rated capacity: charge the maker declares for a discharge over five hours under specified"
            " conditions; state of health is reckoned against it",
            ("lbl-2023-1669", "iec-62257-8-1"),
        ),
        ("charge", "typical"): (
            "typical capacity: mean of what the maker produces, usually 1 to 4 % above rated"
            " (common practice, no source); not for comparisons",
            (),
        ),
        ("charge", "further"): ("a capacity without a word that says which", ()),
        ("voltage", "nominal"): (
            "nominal voltage: midway between full and empty at a discharge of 0.2 C",
            ("lbl-2023-1669",),
        ),
        ("voltage", "limit"): (
            "charge limit: voltage that charging must not pass; not the one that gives watt-hours",
            (),
        ),
        ("energy", "rated"): (
            "rated energy: rated capacity times nominal voltage; decides the shipping class",
            ("cfr-49-171-8",),
        ),
        ("energy", "typical"): ("typical energy: typical capacity times nominal voltage", ()),
        ("energy", "further"): ("an energy without a word that says of which capacity", ("cfr-49-171-8",)),
    }
    text, sources = texts[figure.quantity, figure.kind]
    return Meaning(figure, f"{text}; {figure.note}" if figure.note else text, sources)


def units(label: Label) -> Iterator[LabelFinding]:
    """Figures that would be usual in another unit."""
    for one in label.figures:
        if one.quantity == "charge" and not CHARGE_MAH[0] <= one.value <= CHARGE_MAH[1]:
            slip = "Ah" if one.value < CHARGE_MAH[0] else "µAh, or Wh in place of mAh"
            yield LabelFinding("unit", "differs", f"{one.printed} is no charge of a phone or tablet; {slip}?")
        if one.quantity == "energy" and one.value > 200:
            yield LabelFinding("unit", "differs", f"{one.printed} is {one.value:g} Wh; mWh or mAh meant?")
        if one.quantity == "voltage" and not 2.5 <= one.value <= 20:
            yield LabelFinding("unit", "differs", f"{one.printed} is no voltage of such a battery; mV or V?")


def energies(label: Label) -> Iterator[LabelFinding]:
    """Every printed energy against voltage times charge."""
    voltage = label.figure("voltage", "nominal")
    for energy in (one for one in label.figures if one.quantity == "energy"):
        kinds: tuple[Kind, ...] = ("rated", "typical") if energy.kind == "further" else (energy.kind,)
        charges = [one for kind in kinds if (one := label.figure("charge", kind)) is not None]
        if not charges:
            charges = [one for one in label.figures if one.quantity == "charge"][:1]
        if voltage is None or not charges:
            lacks = "nominal voltage" if voltage is None else "capacity"
            yield LabelFinding("energy", "missing", f"{energy.printed} cannot be checked without a {lacks}")
            continue
        verdicts = [energy_verdict(energy, voltage, charge) for charge in charges]
        good = next((one for one in verdicts if one.outcome == "agrees"), None)
        yield good or at_limit(label, energy, charges[0]) or verdicts[0]


def energy_verdict(energy: Figure, voltage: Figure, charge: Figure) -> LabelFinding:
    """One energy against one charge: agrees when rounding can hide the difference."""
    value = voltage.value * charge.value / 1000
    low = (voltage.value - voltage.half) * (charge.value - charge.half) / 1000
    high = (voltage.value + voltage.half) * (charge.value + charge.half) / 1000
    sum_text = f"{charge.printed} × {voltage.printed} = {value:.4g} Wh"
    keys = ("cfr-49-171-8",)
    slack = 1e-9
    if low - energy.half - slack <= energy.value <= high + energy.half + slack:
        return LabelFinding("energy", "agrees", f"{sum_text}; printed {energy.printed}", keys)
    if low - 2 * energy.half - slack <= energy.value <= high + 2 * energy.half + slack:
        text = (
            f"{sum_text}; printed {energy.printed}: agrees if the last digit was cut or raised, not rounded"
        )
        return LabelFinding("energy", "agrees", text, keys)
    percent = 100 * (energy.value / value - 1)
    hint = ""
    for factor, words in ((1000, "a thousandfold: Ah and mAh, or Wh and mWh, mixed up"), (0.001, "")):
        if abs(energy.value / value / factor - 1) < 0.02:
            hint = f"; {words or 'a thousandth: Ah and mAh, or Wh and mWh, mixed up'}"
    room = f"({low:.4g} to {high:.4g} with rounding)"
    text = f"{sum_text} {room}; printed {energy.printed}, {percent:+.1f} %{hint}"
    return LabelFinding("energy", "differs", text, keys)


def at_limit(label: Label, energy: Figure, charge: Figure) -> LabelFinding | None:
    """An energy that was reckoned with the charge limit in place of the nominal voltage."""
    limit = label.figure("voltage", "limit")
    if limit is None or energy_verdict(energy, limit, charge).outcome != "agrees":
        return None
    sum_text = f"{charge.printed} times the charge limit {limit.printed}"
    text = f"{energy.printed} is {sum_text}, not the nominal voltage"
    return LabelFinding("energy", "differs", text, ("cfr-49-171-8",))


def order(label: Label) -> Iterator[LabelFinding]:
    """Rated is at most typical, and typical usually 1 to 4 % above it."""
    rated, typical = label.figure("charge", "rated"), label.figure("charge", "typical")
    if rated is None or typical is None:
        return
    above = typical.value / rated.value - 1
    words = f"typical {typical.printed} is {100 * above:.1f} % above rated {rated.printed}"
    usual = "usual is 1 to 4 %, common practice, no source"
    if above < 0:
        text = f"rated {rated.printed} is above typical {typical.printed}: swapped, or one misread"
        yield LabelFinding("order", "differs", text)
    elif above <= ABOVE_RATED + 0.005:
        yield LabelFinding("order", "agrees", f"{words}; {usual}")
    else:
        yield LabelFinding("order", "note", f"{words}; {usual}")


def further(label: Label) -> Iterator[LabelFinding]:
    """Every capacity without a word: what it may be."""
    for one in label.figures:
        if one.quantity == "charge" and one.kind == "further":
            text, known = explained(one, label)
            yield LabelFinding("further", "agrees" if known else "note", text)


def voltages(label: Label) -> Iterator[LabelFinding]:
    """Nominal voltage against what a cell has, and against the charge limit."""
    nominal, limit = label.figure("voltage", "nominal"), label.figure("voltage", "limit")
    if nominal is None:
        return
    cells = label.cells_in_series or max(1, round(nominal.value / 3.8))
    per_cell = nominal.value / cells
    usual = f"usual for one cell is {NOMINAL_V[0]:g} to {NOMINAL_V[1]:g} V, common practice, no source"
    if not NOMINAL_V[0] <= per_cell <= NOMINAL_V[1]:
        text = f"nominal {nominal.printed} for {cells} in series is {per_cell:.3g} V a cell; {usual}"
        yield LabelFinding("voltage", "differs" if 2.5 <= nominal.value <= 20 else "note", text)
    elif cells > 1:
        yield LabelFinding("voltage", "note", f"nominal {nominal.printed} is that of {cells} cells in series")
    if limit is None:
        return
    if limit.value <= nominal.value:
        text = f"charge limit {limit.printed} is not above nominal {nominal.printed}: swapped, or one misread"
        yield LabelFinding("limit", "differs", text)
        return
    _, low, high = min(LIMIT_PAIRS, key=lambda pair: abs(pair[0] - limit.value / cells))
    fits = low - 0.03 <= per_cell <= high + 0.03
    seen = f"{low:g} V" if low == high else f"{low:g} to {high:g} V"
    text = f"with a charge limit of {limit.printed}, nominal is usually {seen} a cell"
    text = f"{text} (common practice, no source); printed {nominal.printed}"
    yield LabelFinding("limit", "agrees" if fits else "note", text)


def densities(label: Label) -> Iterator[LabelFinding]:
    """Energy for the size and for the mass."""
    energy = label.energy_wh
    sizes = (
        ("volume", label.volume_cm3, "cm³", "Wh/l", DENSITY_WH_L),
        ("mass", label.mass_g, "g", "Wh/kg", DENSITY_WH_KG),
    )
    for name, size, unit, density_unit, (low, high) in sizes:
        if size is None:
            yield LabelFinding("density", "missing", f"no {name} known, so no {density_unit}")
        elif energy is not None:
            density = energy / size * 1000
            outcome: Outcome = "agrees" if low <= density <= high else "differs"
            text = (
                f"{energy:.4g} Wh in {size:.4g} {unit} is {density:.0f} {density_unit}; usual of a pouch cell"
            )
            hint = slip(density, low, high) if outcome == "differs" else ""
            yield LabelFinding(
                "density", outcome, f"{text} {low:g} to {high:g} (common practice, no source){hint}"
            )


def slip(density: float, low: float, high: float) -> str:
    """The unit that would make an odd density a usual one."""
    for factor, words in ((1000, "; Ah read as mAh?"), (0.001, "; mAh read as Ah, or mWh as Wh?")):
        if low <= density * factor <= high:
            return words
    return "; a box larger or smaller than the cell, or a figure of another battery?"


def gaps(label: Label) -> Iterator[LabelFinding]:
    """What a label should say and this one does not."""
    if label.figure("charge", "rated") is None:
        text = "no rated capacity: state of health is reckoned against rated"
        yield LabelFinding("rated", "missing", text, ("eco-2023-1670",))
    if label.figure("voltage", "nominal") is None:
        yield LabelFinding("voltage", "missing", "no nominal voltage: charge cannot be turned into energy")
    if all(one.quantity != "energy" for one in label.figures):
        text = (
            "no watt-hours: marked on lithium-ion batteries since 31 December 2011 (trade pages, from memory)"
        )
        yield LabelFinding("energy", "missing", text)
