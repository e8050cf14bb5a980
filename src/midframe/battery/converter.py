"""Health from a USB meter before the phone's converter: in energy, with efficiency and standby as ranges."""

from __future__ import annotations

import msgspec

from midframe.battery.counting import Run, count, row_at, runs, steady
from midframe.battery.health import BASIS, METER_PERCENT, Estimate, Health, side, soh_of, verdict
from midframe.battery.log_series import Log
from midframe.battery.window import Window
from midframe.faults import BadSetting
from midframe.sources import Basis

EFFICIENCY = (0.80, 0.92)
"""Energy stored over energy at the meter, standby apart: cable, converter, cell losses; from memory."""

STANDBY_W = (0.2, 1.0)
"""What a phone with its display off draws for itself at the meter while it charges; from memory."""

LEAST_SUPPLY_V = 4.0
"""A charging port sees no less: 5 V less the drop in the cable; common practice, no source."""

LEAST_WAIT_SECONDS = 300.0
"""Shortest wait at full charge that measures standby; own construction."""

FULL_SHARE = 0.15
"""A wait at full charge draws at most this share of the largest power; own construction."""

NARROW = 0.05
"""A figure is given where half the range is no more than this share of it; own construction."""


class Supply(msgspec.Struct, frozen=True, kw_only=True):
    """What lies between the meter and the cell: efficiency (0 to 1) and standby load in W, each as a range.

    `efficiency_given` and `standby_given` tell figures that a person gave or the log showed from defaults.
    """

    efficiency_low: float = EFFICIENCY[0]
    efficiency_high: float = EFFICIENCY[1]
    standby_low_w: float = STANDBY_W[0]
    standby_high_w: float = STANDBY_W[1]
    efficiency_given: bool = False
    standby_given: bool = False


class FullWait(msgspec.Struct, frozen=True, kw_only=True):
    """A wait at full charge at the end of a log: its begin, its length, mean power and its spread in W."""

    start_s: float
    seconds: float
    mean_w: float
    spread_w: float


def supply(
    efficiency: tuple[float, float] | None = None, standby_w: tuple[float, float] | None = None
) -> Supply:
    """The ranges that a person gives; what is not given stays at its default.

    Raises
    ------
    BadSetting
        Where a range runs backwards, an efficiency is not within 0 to 1, or a standby load is below zero.

    >>> supply(efficiency=(0.85, 0.9)).standby_given
    False
    """
    low, high = efficiency or EFFICIENCY
    if not 0 < low <= high <= 1:
        raise BadSetting(
            f"efficiency: found {low:g} to {high:g}; right: a range within 0 to 1, such as 0.85 to 0.90"
        )
    least, most = standby_w or STANDBY_W
    if not 0 <= least <= most <= 50:
        raise BadSetting(
            f"standby: found {least:g} to {most:g} W; right: a range from 0 W up, such as 0.3 to 0.5"
        )
    return Supply(
        efficiency_low=low,
        efficiency_high=high,
        standby_low_w=least,
        standby_high_w=most,
        efficiency_given=efficiency is not None,
        standby_given=standby_w is not None,
    )


def full_wait(log: Log) -> FullWait | None:
    """The wait at full charge at the end of a log, where there is one of five minutes or more.

    The wait begins after the last row whose power is more than 15 % of the largest.
    """
    powers = [abs(volt * ampere) for volt, ampere in zip(log.voltage_v, log.current_a, strict=True)]
    most = max(powers)
    last_high = max((at for at, power in enumerate(powers) if power > FULL_SHARE * most), default=0)
    first = last_high + 1
    if most <= 0 or first >= len(powers) - 2 or any(stop > first for stop in log.pieces):
        return None
    seconds = log.seconds[-1] - log.seconds[first]
    if seconds < LEAST_WAIT_SECONDS:
        return None
    settled = row_at(log, log.seconds[first] + seconds / 2)  # the taper fades out first
    mean, spread = steady(log, settled, len(powers) - 1)
    return FullWait(start_s=log.seconds[first], seconds=seconds, mean_w=mean, spread_w=spread)


def with_wait(between: Supply, wait: FullWait | None) -> Supply:
    """The supply with the standby load that a wait at full charge showed, unless a person gave one."""
    if wait is None or between.standby_given:
        return between
    return msgspec.structs.replace(
        between,
        standby_low_w=max(0.0, wait.mean_w - 2 * wait.spread_w),
        standby_high_w=wait.mean_w + 2 * wait.spread_w,
        standby_given=True,
    )


def meter_health(
    log: Log,
    rated_mah: float | None,
    nominal_v: float | None,
    window: Window | None,
    between: Supply | None = None,
    *,
    meter_percent: float = METER_PERCENT,
) -> Health:
    """Capacity and state of health from a meter between the charger and the phone.

    E_stored = η · (E_meter − P_standby · t); C_Wh = E_stored/ΔSOC; state of health is C_Wh over rated
    energy (rated capacity times nominal voltage). Every factor is a range, so the result is one; a single
    figure is given only where efficiency and standby are both known closely. The meter's milliampere-hours
    are never compared with the battery's.

    Parameters
    ----------
    log
        Time, voltage and current at the phone's charging port.
    rated_mah, nominal_v
        Off the label; without both, no state of health.
    window
        State of charge at both ends, as the phone shows it; without it, nothing is said.
    between
        Efficiency and standby load; by default ranges from memory, and standby as a wait at full charge in
        the log shows it.
    meter_percent
        Standard uncertainty of the meter in per cent.

    Raises
    ------
    BadSetting
        A voltage that is a cell's, no current, rated figures that are none.

    References
    ----------
    Own construction on [eco-2023-1670, Annex I (40)]; energy for charge by [cfr-49-171-8, watt-hour].
    """
    check_figures(log, rated_mah, nominal_v)
    wait = full_wait(log)
    kind = with_wait(between or Supply(), wait)
    run = charging_run(log, wait)
    outcome, reason = verdict(window)
    stored = energy_range(run, kind, meter_percent)
    if outcome != "refused" and stored.low <= 0:
        outcome = "refused"
        hours = run.counted.seconds / 3600
        reason = (
            f"the standby load of up to {kind.standby_high_w:.2g} W over {hours:.1f} h may be as much as the"
            f" {run.counted.energy_wh:.2g} Wh of the meter; a wait at full charge measures it"
        )
    capacity = mah = soh = None
    if window is not None and outcome != "refused":
        capacity = over_window(stored, window)
        outcome = "figure" if outcome == "figure" and capacity.value is not None else "range"
        capacity = capacity if outcome == "figure" else msgspec.structs.replace(capacity, value=None)
        if nominal_v:
            mah = scaled(capacity, 1000 / nominal_v)
        if rated_mah and nominal_v:
            soh = soh_of(capacity, rated_mah * nominal_v / 1000)
        if outcome == "range" and not reason:
            reason = "before the converter only a range is known; a measured efficiency and standby narrow it"
    return Health(
        place="before_converter",
        outcome=outcome,
        reason=reason,
        window=window,
        charging=True,
        start_s=run.start_s,
        seconds=run.counted.seconds,
        charge_ah=run.counted.charge_ah,
        energy_wh=run.counted.energy_wh,
        meter_mah=run.counted.charge_ah * 1000,
        meter_v=run.counted.mean_v,
        rate=None,
        capacity_mah=mah,
        capacity_wh=capacity,
        soh_percent=soh,
        line=side(soh),
        resistances=(),
        notes=meter_notes(log, run, nominal_v, wait),
        rests_on=(*meter_basis(log, run, window, kind, wait), *rated_basis(rated_mah, nominal_v)),
        sources=(*BASIS, "cfr-49-171-8", "phone-battery-2016"),
    )


def check_figures(log: Log, rated_mah: float | None, nominal_v: float | None) -> None:
    """Refuse a log taken at the cell, and figures that no label holds."""
    if rated_mah is not None and not 1 <= rated_mah <= 100_000:
        raise BadSetting(f"rated capacity: found {rated_mah:g} mAh; right: that of the label in mAh")
    if nominal_v is not None and not 2.5 <= nominal_v <= 20:
        raise BadSetting(
            f"nominal voltage: found {nominal_v:g} V; right: that of the label in V, such as 3.88"
        )
    loaded = [volt for volt, ampere in zip(log.voltage_v, log.current_a, strict=True) if abs(ampere) > 0.01]
    if not loaded:
        raise BadSetting("current: found none; right: a log of a charge")
    if sorted(loaded)[len(loaded) // 2] < LEAST_SUPPLY_V + 0.5:
        raise BadSetting(
            f"voltage: found {min(loaded):.2f} to {max(loaded):.2f} V, that of a cell, not of a port;"
            " right: the same log without --before-converter"
        )


def charging_run(log: Log, wait: FullWait | None) -> Run:
    """All that flowed into the phone, its taper too, up to where only the standby load is left."""
    all_runs = [run for run in runs(log) if run.charging]
    if not all_runs:
        raise BadSetting("current: found none into the phone; right: the sign or the columns of the mapping")
    first, last = all_runs[0].first, all_runs[-1].last
    if wait is not None:
        faded = wait.mean_w + 2 * wait.spread_w
        rows = range(row_at(log, wait.start_s), len(log.seconds))
        left = (at for at in rows if abs(log.voltage_v[at] * log.current_a[at]) <= faded)
        last = max(first + 1, next(left, rows.stop) - 1)
    return msgspec.structs.replace(
        all_runs[0], first=first, last=last, counted=count(log, first, last), end_s=log.seconds[last]
    )


def energy_range(run: Run, between: Supply, meter_percent: float) -> Estimate:
    """Energy stored in the cell in Wh: η · (E − P · t), from the worst to the best of every range."""
    room = ((meter_percent / 100 * run.counted.energy_wh) ** 2 + run.counted.sampling_wh**2) ** 0.5
    hours = run.counted.seconds / 3600
    low = between.efficiency_low * (run.counted.energy_wh - 2 * room - between.standby_high_w * hours)
    high = between.efficiency_high * (run.counted.energy_wh + 2 * room - between.standby_low_w * hours)
    eta = (between.efficiency_low + between.efficiency_high) / 2
    load = (between.standby_low_w + between.standby_high_w) / 2
    return Estimate(value=eta * (run.counted.energy_wh - load * hours), low=low, high=high)


def over_window(stored: Estimate, window: Window) -> Estimate:
    """Capacity in Wh; the middle only where efficiency, standby and meter leave under 5 % to each side."""
    relative = 2 * window.room / window.share
    middle = (stored.low + stored.high) / 2
    close = (stored.high - stored.low) / 2 <= NARROW * middle
    return Estimate(
        value=stored.value / window.share if close and stored.value is not None else None,
        low=stored.low / window.share * max(0.0, 1 - relative),
        high=stored.high / window.share * (1 + relative),
    )


def scaled(one: Estimate, factor: float) -> Estimate:
    """The estimate in another unit."""
    value = None if one.value is None else one.value * factor
    return Estimate(value=value, low=one.low * factor, high=one.high * factor)


def meter_notes(log: Log, run: Run, nominal_v: float | None, wait: FullWait | None) -> tuple[str, ...]:
    """What the meter's charge is not, and how to know more."""
    counted = run.counted
    mah = f"the meter counted {counted.charge_ah * 1000:.0f} mAh at {counted.mean_v:.2f} V"
    if nominal_v:
        same = counted.energy_wh / nominal_v * 1000
        mah += f"; the same {counted.energy_wh:.2f} Wh are {same:.0f} mAh at {nominal_v:g} V"
    notes = [f"{mah}: neither is the battery's capacity, so only energy is used"]
    if wait is None:
        notes.append(
            "standby is a default: leave the phone at full charge on the meter for ten minutes, display off,"
            " and its load is measured"
        )
    if counted.gap_share > 0.01:
        notes.append(f"{100 * counted.gap_share:.0f} % of the charge is reckoned across gaps of the log")
    return (*notes, *(str(finding.found) for finding in log.findings))


def meter_basis(
    log: Log, run: Run, window: Window | None, between: Supply, wait: FullWait | None
) -> tuple[Basis, ...]:
    """Where each figure comes from."""
    eta = f"{between.efficiency_low:.2f} to {between.efficiency_high:.2f}"
    load = f"{between.standby_low_w:.2f} to {between.standby_high_w:.2f} W at the meter"
    rows = [
        Basis("energy", "measured", f"{run.counted.energy_wh:.3f} Wh at the meter, {log.file}"),
        Basis(
            "efficiency",
            "given" if between.efficiency_given else "default",
            eta if between.efficiency_given else f"{eta}, cable, converter and cell together; from memory",
        ),
    ]
    if wait is not None and between.standby_given:
        rows.append(
            Basis("standby", "measured", f"{load}, a wait of {wait.seconds / 60:.0f} min at full charge")
        )
    elif between.standby_given:
        rows.append(Basis("standby", "given", load))
    else:
        rows.append(Basis("standby", "default", f"{load}, display off; from memory"))
    if window is not None:
        rows.append(Basis("window", "given", window.why))
    return tuple(rows)


def rated_basis(rated_mah: float | None, nominal_v: float | None) -> tuple[Basis, ...]:
    """The rated energy, where both figures of it are known."""
    if not rated_mah or not nominal_v:
        return ()
    text = f"{rated_mah:g} mAh × {nominal_v:g} V = {rated_mah * nominal_v / 1000:.2f} Wh"
    return (Basis("rated energy", "given", text, ("cfr-49-171-8",)),)
