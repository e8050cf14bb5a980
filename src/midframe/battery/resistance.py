"""Internal resistance from steps of the current, each with the time over which the step was seen."""

from __future__ import annotations

import msgspec

from midframe.battery.log_series import Log

LONGEST_STEP_SECONDS = 15.0
"""Rows further apart say nothing of a step: the state of charge moves too; own construction."""

LEAST_SHARE = 0.15
"""A step is at least this share of the largest current; own construction."""

LEAST_PAIR = 0.03
"""Rows that belong to one step differ by at least this share each; own construction."""

LEAST_V = 0.005
"""Least change of voltage that is told from a voltage held by the charger; own construction."""


class StepResistance(msgspec.Struct, frozen=True, kw_only=True):
    """One step: R = (U2 − U1)/(I2 − I1), seen `step_seconds` after it began.

    The figure depends on that time: milliseconds show the ohmic part, seconds the slower parts too. Compare
    only like with like.
    """

    at_s: float
    step_seconds: float
    from_a: float
    to_a: float
    from_v: float
    to_v: float
    resistance_ohm: float


def step_resistances(log: Log) -> tuple[StepResistance, ...]:
    """Every step of the current in a log, in order of time.

    Rows in which the current goes on changing in one direction are one step. Steps in which the voltage
    hardly moves or moves the other way are left out: a charger held the voltage.

    Parameters
    ----------
    log
        A log at the cell; seconds, volts, amperes.

    Returns
    -------
    tuple of StepResistance
        In ohm, with the time of the step in seconds.

    Examples
    --------
    >>> from midframe.battery.log_series import plain_log
    >>> log = plain_log([0.0, 1.0, 2.0], [3.9, 3.8, 3.8], [0.0, -2.0, -2.0])
    >>> [(step.step_seconds, round(step.resistance_ohm, 3)) for step in step_resistances(log)]
    [(1.0, 0.05)]

    References
    ----------
    Principle of two current levels of IEC 61960-3, its currents and times from memory.
    """
    largest = max(map(abs, log.current_a))
    found = []
    for first, last in ramps(log, LEAST_PAIR * largest):
        change = log.current_a[last] - log.current_a[first]
        swing = log.voltage_v[last] - log.voltage_v[first]
        if abs(change) < LEAST_SHARE * largest or abs(swing) < LEAST_V or change * swing <= 0:
            continue
        found.append(
            StepResistance(
                at_s=log.seconds[first],
                step_seconds=log.seconds[last] - log.seconds[first],
                from_a=log.current_a[first],
                to_a=log.current_a[last],
                from_v=log.voltage_v[first],
                to_v=log.voltage_v[last],
                resistance_ohm=swing / change,
            )
        )
    return tuple(found)


def ramps(log: Log, least: float) -> list[tuple[int, int]]:
    """Stretches of rows over which the current goes on changing in one direction, no longer than a step."""
    stops = set(log.pieces)
    found: list[tuple[int, int]] = []
    for at in range(1, len(log.seconds)):
        change = log.current_a[at] - log.current_a[at - 1]
        if at in stops or abs(change) < least or log.seconds[at] - log.seconds[at - 1] > LONGEST_STEP_SECONDS:
            continue
        if found and found[-1][1] == at - 1 and at - 1 not in stops:
            first = found[-1][0]
            goes_on = (log.current_a[at - 1] - log.current_a[first]) * change > 0
            if goes_on and log.seconds[at] - log.seconds[first] <= LONGEST_STEP_SECONDS:
                found[-1] = (first, at)
                continue
        found.append((at - 1, at))
    return [(first, last) for first, last in found if log.seconds[last] > log.seconds[first]]
