"""Charge and energy between two rows of a log, by the rule of trapezoids, with what sampling hides."""

from __future__ import annotations

import msgspec

from midframe.battery.log_series import Log

PAUSE_SECONDS = 600.0
"""A pause of the current up to this long does not end a run; own construction."""

IDLE_SHARE = 0.002
"""Currents below this share of the largest count as none; own construction."""


NOISE_SHARE = 0.005
"""A run with less than this share of the largest run's charge is noise of the meter; own construction."""


class Counted(msgspec.Struct, frozen=True, kw_only=True):
    """What flowed between two rows: charge in Ah, energy in Wh, both positive.

    `sampling_ah` and `sampling_wh` are standard uncertainties from the steps between rows and from gaps:
    half the difference between the left and the right sum, over the root of 3, and a quarter of what is
    reckoned across gaps. `gap_share` is the share of the charge that was reckoned across gaps.
    """

    charge_ah: float
    energy_wh: float
    seconds: float
    sampling_ah: float
    sampling_wh: float
    gap_share: float

    @property
    def mean_v(self) -> float:
        """Mean voltage at which the charge flowed."""
        return self.energy_wh / self.charge_ah if self.charge_ah else 0.0


class Run(msgspec.Struct, frozen=True, kw_only=True):
    """One stretch of charging or discharging: rows `first` to `last`, both counted."""

    charging: bool
    first: int
    last: int
    counted: Counted
    start_s: float
    end_s: float
    start_v: float
    end_v: float
    end_a: float
    largest_a: float


def count(log: Log, first: int = 0, last: int | None = None) -> Counted:
    """Count what flows from row `first` to row `last`, whichever way.

    Q = Σ (I_k + I_k+1)/2 · Δt, E = Σ (U_k I_k + U_k+1 I_k+1)/2 · Δt.

    Parameters
    ----------
    log
        Seconds, volts, amperes.
    first, last
        Numbers of rows, counted from 0; the last row by default.

    Returns
    -------
    Counted
        Net charge in Ah and energy in Wh, as positive figures.

    Examples
    --------
    >>> from midframe.battery.log_series import plain_log
    >>> log = plain_log([0.0, 10.0, 3600.0], [4.0, 4.0, 4.0], [2.0, 2.0, 2.0])
    >>> count(log).charge_ah, count(log).energy_wh
    (2.0, 8.0)

    References
    ----------
    Textbook rule of trapezoids; the uncertainty is own construction.
    """
    end = len(log.seconds) - 1 if last is None else last
    stops, gap_starts = set(log.pieces), {start for start, _ in log.gaps}
    charge = energy = charge_room = energy_room = gap_charge = 0.0
    for at in range(first + 1, end + 1):
        step = log.seconds[at] - log.seconds[at - 1]
        if at in stops or step <= 0:
            continue
        one, two = log.current_a[at - 1], log.current_a[at]
        power_one, power_two = one * log.voltage_v[at - 1], two * log.voltage_v[at]
        charge += (one + two) / 2 * step
        energy += (power_one + power_two) / 2 * step
        charge_room += abs(two - one) / 2 * step / 3**0.5
        energy_room += abs(power_two - power_one) / 2 * step / 3**0.5
        if log.seconds[at - 1] in gap_starts:
            across = abs(one + two) / 2 * step
            gap_charge += across
            charge_room += across / 4
            energy_room += abs(power_one + power_two) / 8 * step
    whole = abs(charge)
    return Counted(
        charge_ah=whole / 3600,
        energy_wh=abs(energy) / 3600,
        seconds=log.seconds[end] - log.seconds[first],
        sampling_ah=charge_room / 3600,
        sampling_wh=energy_room / 3600,
        gap_share=gap_charge / whole if whole else 0.0,
    )


def runs(log: Log) -> tuple[Run, ...]:
    """The stretches of charging and discharging in a log, short pauses within them, in order of time."""
    largest = max(map(abs, log.current_a))
    idle = IDLE_SHARE * largest
    found: list[tuple[bool, int, int]] = []
    stops = set(log.pieces)
    for at, current in enumerate(log.current_a):
        if abs(current) <= idle:
            continue
        charging = current > 0
        if found:
            before, first, last = found[-1]
            pause = log.seconds[at] - log.seconds[last]
            if (
                before == charging
                and (pause <= PAUSE_SECONDS or at == last + 1)
                and not crossed(stops, last, at)
            ):
                found[-1] = (charging, first, at)
                continue
        found.append((charging, at, at))
    kept = [run_of(log, *one) for one in found if one[2] > one[1]]
    most = max((run.counted.charge_ah for run in kept), default=0.0)
    return tuple(run for run in kept if run.counted.charge_ah >= NOISE_SHARE * most)


def crossed(stops: set[int], first: int, last: int) -> bool:
    """Whether a new piece begins after row `first`, up to row `last`."""
    return any(first < stop <= last for stop in stops)


def run_of(log: Log, charging: bool, first: int, last: int) -> Run:
    """One run with the steps into and out of it, where those rows are near."""
    stops = set(log.pieces)
    begin = first - 1 if first > 0 and first not in stops and near(log, first - 1, first) else first
    end = (
        last + 1
        if last + 1 < len(log.seconds) and last + 1 not in stops and near(log, last, last + 1)
        else last
    )
    begin = begin if (log.current_a[begin] > 0) == charging or abs(log.current_a[begin]) < 1e-3 else first
    end = end if (log.current_a[end] > 0) == charging or abs(log.current_a[end]) < 1e-3 else last
    return Run(
        charging=charging,
        first=begin,
        last=end,
        counted=count(log, begin, end),
        start_s=log.seconds[begin],
        end_s=log.seconds[end],
        start_v=log.voltage_v[begin],
        end_v=log.voltage_v[last],
        end_a=abs(log.current_a[last]),
        largest_a=max(abs(one) for one in log.current_a[first : last + 1]),
    )


def near(log: Log, one: int, two: int) -> bool:
    """Whether two rows lie no further apart than is usual in the log."""
    return log.seconds[two] - log.seconds[one] <= max(10.0, 3 * log.interval_seconds)


def counter_difference(log: Log, role: str, first: int, last: int) -> float | None:
    """What the meter's own counter says of a stretch, in Ah or Wh."""
    counts = log.counters.get(role)
    return None if counts is None else abs(counts[last] - counts[first])


def steady(log: Log, first: int, last: int) -> tuple[float, float]:
    """Mean power in W between two rows, and its spread (standard deviation of the rows)."""
    powers = [abs(log.voltage_v[at] * log.current_a[at]) for at in range(first, last + 1)]
    mean = sum(powers) / len(powers)
    return mean, (sum((one - mean) ** 2 for one in powers) / len(powers)) ** 0.5


def row_at(log: Log, seconds: float) -> int:
    """The first row at or after a time since the start.

    >>> from midframe.battery.log_series import plain_log
    >>> log = plain_log([0.0, 5.0, 9.0], [4.0, 4.0, 4.0], [2.0, 2.0, 2.0])
    >>> row_at(log, 4.0), row_at(log, 99.0)
    (1, 2)
    """
    return next((at for at, one in enumerate(log.seconds) if one >= seconds), len(log.seconds) - 1)
