"""Capacity and state of health from a log taken at the cell: coulombs over the part of a charge they are."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from midframe.battery.counting import Run, counter_difference, runs
from midframe.battery.log_series import Log
from midframe.battery.resistance import StepResistance, step_resistances
from midframe.battery.temperature import temperature_notes
from midframe.battery.window import FIGURE_SHARE, LEAST_SHARE, Window, seen_window
from midframe.faults import BadSetting
from midframe.sources import Basis

Outcome: TypeAlias = Literal["figure", "range", "refused"]

LINE_PERCENT = 80.0
"""Usable capacity at which endurance in cycles ends [lbl-2023-1669, Annex I (5)]."""

RATED_RATE = 0.2
"""Rated capacity is withdrawn over five hours: 0.2 of it in an hour [lbl-2023-1669, Annex I (3)]."""

METER_PERCENT = 1.0
"""Standard uncertainty of a meter's charge and energy, in per cent; common practice, no source."""

CELL_V = 4.65
"""No single cell is charged above this: the highest limits are 4.48 to 4.55 V; common practice, no source."""

COVERAGE = 2.0
"""Ranges are this many standard uncertainties to each side (about 95 %); textbook."""

BASIS = ("eco-2023-1670", "lbl-2023-1669")


class Estimate(msgspec.Struct, frozen=True, kw_only=True):
    """A figure with its range; `value` is none where only the range is worth saying."""

    value: float | None
    low: float
    high: float


class Health(msgspec.Struct, frozen=True, kw_only=True):
    """Capacity and state of health from one log, and what they rest on.

    `place` says where the meter sat. `outcome` is `refused` where the window is too small: `reason` then says
    so, and no figure is given. `soh_percent` is remaining over rated capacity [eco-2023-1670, Annex I (40)].
    `line` says on which side of the 80 % line it lies: above, below, across or unknown. Charge in Ah, energy
    in Wh, capacity in mAh. `meter_mah` is what the meter counted, at `meter_v` on average,
    over `seconds` from `start_s` of the log on.
    """

    place: Literal["cell", "before_converter"]
    outcome: Outcome
    reason: str
    window: Window | None
    charging: bool
    start_s: float
    seconds: float
    charge_ah: float
    energy_wh: float
    meter_mah: float
    meter_v: float
    rate: float | None
    capacity_mah: Estimate | None
    capacity_wh: Estimate | None
    soh_percent: Estimate | None
    line: Literal["above", "below", "across", "unknown"]
    resistances: tuple[StepResistance, ...]
    notes: tuple[str, ...]
    rests_on: tuple[Basis, ...]
    sources: tuple[str, ...]


def state_of_health(remaining: float, rated: float) -> float:
    """State of health in per cent: SOH = 100 · C_remaining / C_rated.

    Parameters
    ----------
    remaining, rated
        Capacities in one unit, rated above zero.

    Examples
    --------
    >>> round(state_of_health(0.020887, 0.021738), 2)
    96.09

    References
    ----------
    [eco-2023-1670, Annex I (40)].
    """
    if rated <= 0:
        raise BadSetting(f"rated capacity: found {rated:g}; right: a capacity above zero")
    return 100 * remaining / rated


def window_capacity(quantity: float, room: float, share: float, share_room: float) -> Estimate:
    """Capacity from a part of a charge: C = Q/ΔSOC, (δC/C)² = (δQ/Q)² + (δΔSOC/ΔSOC)².

    Parameters
    ----------
    quantity, room
        Charge or energy that flowed, and its standard uncertainty in the same unit.
    share, share_room
        ΔSOC as a share of one, and its standard uncertainty.

    Returns
    -------
    Estimate
        In the unit of `quantity`, with the range of two standard uncertainties.

    Raises
    ------
    BadSetting
        Where the quantity or the share is not above zero.

    Examples
    --------
    >>> found = window_capacity(2.4, 0.0, 0.6, 0.03)
    >>> found.value, round(found.low, 2), round(found.high, 2)
    (4.0, 3.6, 4.4)

    References
    ----------
    Textbook propagation of uncertainty; the rule to demand a large window is own construction.
    """
    if quantity <= 0 or share <= 0:
        raise BadSetting(f"window: found {quantity:g} over a share of {share:g}; right: both above zero")
    value = quantity / share
    relative = ((room / quantity) ** 2 + (share_room / share) ** 2) ** 0.5
    return Estimate(
        value=value,
        low=value * max(0.0, 1 - COVERAGE * relative),
        high=value * (1 + COVERAGE * relative),
    )


def cell_health(
    log: Log,
    rated_mah: float | None,
    window: Window | None = None,
    *,
    run_number: int | None = None,
    meter_percent: float = METER_PERCENT,
) -> Health:
    """Capacity and state of health from a log taken at the cell's own terminals.

    Parameters
    ----------
    log
        Time, voltage and current at the cell.
    rated_mah
        Rated capacity off the label; without it, no state of health.
    window
        State of charge at both ends; without it, the log must show a whole charge or discharge.
    run_number
        Which stretch of charging or discharging, from 1; by default one that shows both its ends, the
        largest discharge before a charge.
    meter_percent
        Standard uncertainty of the meter in per cent.

    Raises
    ------
    BadSetting
        A voltage that no single cell has (the meter sat before the converter), no current, an unknown run.

    References
    ----------
    [eco-2023-1670, Annex I (40)], [lbl-2023-1669, Annex I (3), (5)].
    """
    if rated_mah is not None and not 1 <= rated_mah <= 100_000:
        raise BadSetting(f"rated capacity: found {rated_mah:g} mAh; right: that of the label in mAh")
    refuse_supply(log)
    all_runs = runs(log)
    run, before = chosen_run(all_runs, run_number)
    seen = window or seen_window(run, before)
    counted = run.counted
    room_ah = ((meter_percent / 100 * counted.charge_ah) ** 2 + counted.sampling_ah**2) ** 0.5
    room_wh = ((meter_percent / 100 * counted.energy_wh) ** 2 + counted.sampling_wh**2) ** 0.5
    outcome, reason = verdict(seen)
    capacity = energy = soh = None
    if seen is not None and outcome != "refused":
        capacity = plain(
            window_capacity(counted.charge_ah * 1000, room_ah * 1000, seen.share, seen.room), outcome
        )
        energy = plain(window_capacity(counted.energy_wh, room_wh, seen.share, seen.room), outcome)
        soh = soh_of(capacity, rated_mah) if rated_mah else None
    rate = (
        counted.charge_ah * 3600 / counted.seconds / (rated_mah / 1000)
        if rated_mah and counted.seconds
        else None
    )
    return Health(
        place="cell",
        outcome=outcome,
        reason=reason,
        window=seen,
        charging=run.charging,
        start_s=run.start_s,
        seconds=counted.seconds,
        charge_ah=counted.charge_ah,
        energy_wh=counted.energy_wh,
        meter_mah=counted.charge_ah * 1000,
        meter_v=counted.mean_v,
        rate=rate,
        capacity_mah=capacity,
        capacity_wh=energy,
        soh_percent=soh,
        line=side(soh),
        resistances=step_resistances(log),
        notes=cell_notes(log, run, rate, rated_mah),
        rests_on=cell_basis(log, run, seen, rated_mah, meter_percent),
        sources=(*BASIS, "phone-battery-2016") if seen is not None and seen.given else BASIS,
    )


def refuse_supply(log: Log) -> None:
    """Refuse a voltage that is a supply's, not a cell's; and one that is nothing at all."""
    high, low = max(log.voltage_v), min(log.voltage_v)
    if high > CELL_V:
        mah = sum(run.counted.charge_ah for run in runs(log)) * 1000
        raise BadSetting(
            f"voltage: found up to {high:.2f} V, that of a supply and not of a cell: the meter sat before the"
            f" phone's converter, and its {mah:.0f} mAh are counted at that voltage and hold what the phone"
            " draws for itself; right: --before-converter, which works in energy, or a log taken at the cell"
        )
    if high <= 0.5 or low < -0.5:
        raise BadSetting(
            f"voltage: found {low:.3g} to {high:.3g} V; right: the voltage of a cell, 2 to 4.6 V"
        )


def chosen_run(all_runs: tuple[Run, ...], number: int | None) -> tuple[Run, Run | None]:
    """The stretch to use, and the one before it."""
    if not all_runs:
        raise BadSetting("current: found none that lasts; right: a log of a charge or discharge")
    if number is not None:
        if not 1 <= number <= len(all_runs):
            raise BadSetting(f"run: found {number}; right: 1 to {len(all_runs)}")
        return all_runs[number - 1], all_runs[number - 2] if number > 1 else None
    pairs = [(run, all_runs[at - 1] if at else None) for at, run in enumerate(all_runs)]
    whole = [pair for pair in pairs if seen_window(*pair) is not None]
    usable = whole or pairs
    return max(usable, key=lambda pair: (not pair[0].charging and bool(whole), pair[0].counted.charge_ah))


def verdict(window: Window | None) -> tuple[Outcome, str]:
    """Whether the window allows a figure, a range or nothing."""
    if window is None:
        return "refused", (
            "the log does not show how full the battery was at both ends; give the percentages at the start"
            " and at the end, or log a whole charge or discharge"
        )
    percent = 100 * window.share
    if window.share < LEAST_SHARE:
        known = 100 * COVERAGE * window.room / window.share
        return "refused", (
            f"{percent:.0f} % of a charge is too small a part: with {window.room * 100:.1f} points uncertain"
            f" the capacity would be known within {known:.0f} % only; log at least {100 * LEAST_SHARE:.0f} %,"
            f" better {100 * FIGURE_SHARE:.0f} % or more"
        )
    if window.share < FIGURE_SHARE - 1e-9:
        return (
            "range",
            f"{percent:.0f} % of a charge: a range only; {100 * FIGURE_SHARE:.0f} % or more give a figure",
        )
    return "figure", ""


def plain(estimate: Estimate, outcome: Outcome) -> Estimate:
    """The estimate without its middle where only the range is worth saying."""
    return msgspec.structs.replace(estimate, value=None) if outcome == "range" else estimate


def soh_of(capacity: Estimate, rated: float) -> Estimate:
    """State of health with the range of the capacity."""
    value = None if capacity.value is None else state_of_health(capacity.value, rated)
    return Estimate(
        value=value,
        low=state_of_health(capacity.low, rated),
        high=state_of_health(capacity.high, rated),
    )


def side(soh: Estimate | None) -> Literal["above", "below", "across", "unknown"]:
    """On which side of the 80 % line a state of health lies, range included [lbl-2023-1669, Annex I (5)].

    >>> side(Estimate(value=90.0, low=86.0, high=94.0)), side(Estimate(value=None, low=75.0, high=85.0))
    ('above', 'across')
    """
    if soh is None:
        return "unknown"
    if soh.low >= LINE_PERCENT:
        return "above"
    return "below" if soh.high < LINE_PERCENT else "across"


def cell_notes(log: Log, run: Run, rate: float | None, rated_mah: float | None) -> tuple[str, ...]:
    """What else should be known of the figures."""
    notes = [str(finding.found) for finding in log.findings]
    if rated_mah is None:
        notes.append("no rated capacity given: a capacity, but no state of health")
    if rate is not None and not run.charging and rate > 1.5 * RATED_RATE:
        notes.append(
            f"discharged at {rate:.2g} C: rated capacity is that of five hours (0.2 C), faster gives less, so"
            " the state of health is a lower end"
        )
    if rate is not None and not run.charging and rate < 0.5 * RATED_RATE:
        notes.append(f"discharged at {rate:.2g} C: slower than the five hours of rated capacity gives more")
    if run.charging:
        notes.append(
            "charged, not discharged: a little more goes in than comes out (about 1 %, common practice)"
        )
    notes += temperature_notes(log, run)
    role = "charge" if run.charging else "discharge"
    counter = counter_difference(log, role, run.first, run.last)
    if counter:
        percent = 100 * (run.counted.charge_ah / counter - 1)
        notes.append(f"the meter's own counter says {counter:.4g} Ah, the current over time {percent:+.2f} %")
    if run.counted.gap_share > 0.01:
        notes.append(f"{100 * run.counted.gap_share:.0f} % of the charge is reckoned across gaps of the log")
    return tuple(notes)


def cell_basis(
    log: Log, run: Run, window: Window | None, rated_mah: float | None, meter_percent: float
) -> tuple[Basis, ...]:
    """Where each figure comes from."""
    rows = [
        Basis(
            "charge",
            "measured",
            f"current over time by the rule of trapezoids, rows {run.first + 1} to {run.last + 1} of"
            f" {log.file}, meter within {meter_percent:g} % (standard; common practice, no source)",
        )
    ]
    if window is not None:
        rows.append(Basis("window", "given" if window.given else "assumed", window.why))
    if rated_mah is not None:
        rows.append(Basis("rated capacity", "given", f"{rated_mah:g} mAh", ("lbl-2023-1669",)))
    rows.append(Basis("80 % line", "default", "end of endurance in cycles", ("lbl-2023-1669",)))
    return tuple(rows)
