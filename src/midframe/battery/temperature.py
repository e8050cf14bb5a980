"""What the temperature of a log means for a result, and where it was too warm or too cold."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.battery.counting import Run
from midframe.battery.log_series import Log

RATED_C = (15.0, 25.0)
"""Rated capacity is that at 20 ± 5 °C; from memory of IEC 61960-3."""

CHARGE_C = (0.0, 45.0)
"""Makers let a lithium-ion cell be charged within; common practice, no source."""

STOP_C = 60.0
"""A cell this warm is left alone; common practice, no source."""


def temperature_notes(log: Log, run: Run) -> Iterator[str]:
    """Notes on the temperature while charge was counted; none where the log holds none.

    Examples
    --------
    >>> import msgspec
    >>> from midframe.battery.counting import runs
    >>> from midframe.battery.log_series import plain_log
    >>> log = plain_log([0.0, 60.0, 120.0], [3.9, 3.8, 3.7], [-1.0, -1.0, -1.0])
    >>> log = msgspec.structs.replace(log, temperature_c=(9.0, 10.0, 11.0))
    >>> list(temperature_notes(log, runs(log)[0]))
    ['at 9 to 11 °C: rated capacity is that at 20 ± 5 °C (IEC 61960-3, from memory); colder gives less']

    References: from memory and common practice, as marked beside each figure.
    """
    found = log.temperature_c[run.first : run.last + 1]
    if not found:
        return
    low, high = min(found), max(found)
    mean = sum(found) / len(found)
    if high >= STOP_C:
        yield (
            f"up to {high:.0f} °C: a cell at {STOP_C:g} °C and more is left alone and not measured again;"
            " watch it for swelling (common practice, no source)"
        )
    elif run.charging and (high > CHARGE_C[1] or low < CHARGE_C[0]):
        yield (
            f"charged at {low:.0f} to {high:.0f} °C: makers allow {CHARGE_C[0]:g} to {CHARGE_C[1]:g} °C"
            " (common practice, no source)"
        )
    if not RATED_C[0] <= mean <= RATED_C[1]:
        other = "colder gives less" if mean < RATED_C[0] else "warmer gives more"
        yield (
            f"at {low:.0f} to {high:.0f} °C: rated capacity is that at 20 ± 5 °C (IEC 61960-3, from memory);"
            f" {other}"
        )
