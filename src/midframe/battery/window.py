"""How full a battery was at the two ends of a stretch of a log, and how well that is known."""

from __future__ import annotations

import msgspec

from midframe.battery.counting import Run
from midframe.faults import BadSetting

LEAST_SHARE = 0.2
"""Below this share of a full charge nothing is said; own construction."""

FIGURE_SHARE = 0.6
"""From this share on a single figure is given, below it a range only; own construction."""

PHONE_PERCENT = 2.0
"""Standard uncertainty of a percentage read off a phone, in points: its steps are 1, its estimate is off by
less than 5 % after rest [phone-battery-2016, abstract]; the 2 is own construction."""

FULL_PERCENT = 0.5
"""Standard uncertainty of an end that is full or empty by the cell's own limits; own construction."""

EMPTY_V = 3.05
"""A discharge to this voltage or less ends empty: makers end at 2.5 to 3.0 V; common practice, no source."""

TAPER = 0.2
"""A charge that ends below this share of its largest current has tapered; own construction."""


class Window(msgspec.Struct, frozen=True, kw_only=True):
    """State of charge at both ends, in per cent, with standard uncertainties in points, and where from."""

    start_percent: float
    end_percent: float
    start_room: float
    end_room: float
    why: str
    given: bool

    @property
    def share(self) -> float:
        """The part of a full charge between the ends, from 0 to 1."""
        return abs(self.end_percent - self.start_percent) / 100

    @property
    def room(self) -> float:
        """Standard uncertainty of the share."""
        return float((self.start_room**2 + self.end_room**2) ** 0.5) / 100


def given_window(start_percent: float, end_percent: float, room: float = PHONE_PERCENT) -> Window:
    """The window that a person reads off: from so many per cent to so many.

    Raises
    ------
    BadSetting
        Where a figure is no percentage or both are the same.

    >>> given_window(20, 80).share
    0.6
    """
    for name, value in (("from", start_percent), ("to", end_percent)):
        if not 0 <= value <= 100:
            raise BadSetting(f"{name}: found {value:g} %; right: a state of charge from 0 to 100 %")
    if start_percent == end_percent:
        raise BadSetting(f"from and to: found {start_percent:g} % twice; right: the percentages at both ends")
    if not 0 <= room <= 50:
        raise BadSetting(f"percent uncertainty: found {room:g} points; right: 0 to 50")
    why = f"{start_percent:g} % to {end_percent:g} % as given, each within {room:g} points (standard)"
    return Window(
        start_percent=start_percent,
        end_percent=end_percent,
        start_room=room,
        end_room=room,
        why=why,
        given=True,
    )


def full_window(charging: bool, why: str) -> Window:
    """The window of a whole charge or discharge."""
    start, end = (0.0, 100.0) if charging else (100.0, 0.0)
    return Window(
        start_percent=start,
        end_percent=end,
        start_room=FULL_PERCENT,
        end_room=FULL_PERCENT,
        why=why,
        given=False,
    )


def seen_window(run: Run, before: Run | None) -> Window | None:
    """The window that the log itself shows: a discharge from full to empty, or a charge from empty to full.

    Full is the end of a charge whose current has tapered; empty a discharge down to `EMPTY_V`. None where
    the log does not show both ends.
    """
    if not run.charging:
        filled = before is not None and before.charging and before.end_a <= TAPER * before.largest_a
        if filled and run.end_v <= EMPTY_V:
            return full_window(
                False, f"from full (the charge before it tapered) to empty at {run.end_v:.2f} V"
            )
        return None
    emptied = before is not None and not before.charging and before.end_v <= EMPTY_V
    if emptied and run.end_a <= TAPER * run.largest_a:
        return (
            full_window(True, f"from empty ({before.end_v:.2f} V before it) to full (tapered)")
            if before
            else None
        )
    return None
