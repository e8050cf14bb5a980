"""On and off in turn: whether the source is on at a time, and until when."""

from __future__ import annotations

import msgspec

from midframe.heat.attempts import Cycles


class Turn(msgspec.Struct, frozen=True):
    """Whether the source is on, until when (s since it first went on), and which turn of on it is or was.

    `soft` says that the cycles are over: the bond is soft.
    """

    on: bool
    until_seconds: float
    number: int
    soft: bool = False


def turn_at(cycles: Cycles, seconds: float) -> Turn:
    """The turn at a time.

    >>> from midframe.heat.model import NO_CURVES
    >>> turns = Cycles(works=True, count=3, first_on_seconds=60.0, on_seconds=10.0, off_seconds=5.0,
    ...     soft_seconds=100.0, stopped_by="", curves=NO_CURVES)
    >>> turn_at(turns, 30.0)
    Turn(on=True, until_seconds=60.0, number=1, soft=False)
    >>> turn_at(turns, 62.0).on, turn_at(turns, 62.0).until_seconds
    (False, 65.0)
    >>> turn_at(turns, 82.0).number, turn_at(turns, 101.0).soft
    (3, True)
    """
    if cycles.soft_seconds is not None and seconds >= cycles.soft_seconds:
        return Turn(False, cycles.soft_seconds, cycles.count, soft=True)
    start, number = cycles.first_on_seconds, 1
    if seconds < start:
        return Turn(True, start, number)
    whole = cycles.off_seconds + cycles.on_seconds
    past = int((seconds - start) // whole) if whole > 0 else 0
    start += past * whole
    number += past
    if seconds < start + cycles.off_seconds:
        return Turn(False, start + cycles.off_seconds, number)
    return Turn(True, start + whole, number + 1)
