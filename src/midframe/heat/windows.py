"""When a bond is soft, when something is too hot, and the window between the two."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import numpy as np

from midframe.heat.limits import Limit
from midframe.heat.model import Curves


class Window(msgspec.Struct, frozen=True, kw_only=True):
    """The window of one run.

    Attributes
    ----------
    soft_seconds
        When the coldest point of the bond has been soft for the dwell; absent where it never has.
    hot_seconds, hot_key
        When the first limit less its margin is reached and which; absent where none is.
    seconds
        From the one to the other, to the end of the run where no limit is reached; 0 where there is none.
    reached_c
        The most that the coldest point of the bond reaches before anything is too hot.
    """

    soft_seconds: float | None
    hot_seconds: float | None
    hot_key: str
    seconds: float
    reached_c: float

    @property
    def open_ended(self) -> bool:
        """Whether no limit is reached as long as was looked."""
        return self.soft_seconds is not None and self.hot_seconds is None


def crossing(seconds: Sequence[float], values: Sequence[float], level: float) -> float | None:
    """The first time at which a curve is at or above a level; linear between the points.

    >>> crossing([0, 10, 20], [20, 40, 80], 60), crossing([0, 10], [20, 40], 60)
    (15.0, None)
    """
    at = np.asarray(values, dtype=float)
    above = at >= level
    if not above.any():
        return None
    first = int(np.argmax(above))
    if first == 0:
        return float(seconds[0])
    share = (level - at[first - 1]) / (at[first] - at[first - 1])
    return float(seconds[first - 1] + share * (seconds[first] - seconds[first - 1]))


def soft_from(seconds: Sequence[float], bond: Sequence[float], soft_c: float, dwell: float) -> float | None:
    """When the bond has been soft for the dwell without a break.

    >>> soft_from([0, 10, 20, 60], [20, 60, 70, 70], 60, 30)
    40.0
    >>> soft_from([0, 10, 20, 30, 70], [20, 60, 50, 60, 70], 60, 30)
    60.0
    """
    first = 0
    while first < len(seconds):
        start = crossing(seconds[first:], bond[first:], soft_c)
        if start is None or start + dwell > seconds[-1]:
            return None
        falls = [n for n in range(first, len(seconds)) if seconds[n] > start and bond[n] < soft_c]
        if not falls or seconds[falls[0]] >= start + dwell:
            return start + dwell
        first = falls[0]
    return None


def window(curves: Curves, soft_c: float, dwell: float, limits: Sequence[Limit]) -> Window:
    """The window of a run: from soft to the first limit less its margin.

    Parameters
    ----------
    curves
        The run.
    soft_c
        Softening temperature.
    dwell
        How long the coldest point has to be soft, s.
    limits
        What must not get hotter than what.
    """
    times = curves.seconds
    soft = soft_from(times, curves.bond, soft_c, dwell)
    reached = [
        (moment, limit.key)
        for limit in limits
        if curves.of(limit.key)
        and (moment := crossing(times, curves.of(limit.key), limit.stop_c)) is not None
    ]
    hot, key = min(reached, default=(None, ""))
    end = times[-1] if hot is None else hot
    length = 0.0 if soft is None else max(0.0, end - soft)
    before = [b for t, b in zip(times, curves.bond, strict=True) if t <= end]
    at_end = float(np.interp(end, times, curves.bond))
    return Window(
        soft_seconds=soft,
        hot_seconds=hot,
        hot_key=key,
        seconds=length,
        reached_c=max(*before, at_end),
    )


def until(curves: Curves, key: str, seconds: float) -> float:
    """The most that a watched temperature reaches up to a time."""
    before = [value for t, value in zip(curves.seconds, curves.of(key), strict=True) if t <= seconds]
    return max([*before, at(curves, key, seconds)])


def at(curves: Curves, key: str, seconds: float) -> float:
    """A watched temperature at a time; not a number where the section has no such thing."""
    values = curves.of(key)
    return float(np.interp(seconds, curves.seconds, values)) if values else float("nan")
