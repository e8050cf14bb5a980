"""Time cells of a log as seconds: numbers with a unit, h:mm:ss, or date and time."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Literal, TypeAlias

TimeForm: TypeAlias = Literal["s", "ms", "min", "h", "d", "h:mm:ss", "date"]
"""How the time column is written."""

FACTORS: tuple[tuple[str, TimeForm, float], ...] = (
    ("s", "s", 1.0),
    ("sec", "s", 1.0),
    ("secs", "s", 1.0),
    ("second", "s", 1.0),
    ("seconds", "s", 1.0),
    ("ms", "ms", 0.001),
    ("min", "min", 60.0),
    ("minutes", "min", 60.0),
    ("h", "h", 3600.0),
    ("hr", "h", 3600.0),
    ("hours", "h", 3600.0),
    ("d", "d", 86_400.0),
)

CLOCK = re.compile(r"(?:(\d+)\s*d\w*\s+)?(\d+):(\d{1,2})(?::(\d{1,2}(?:[.,]\d+)?))?")
ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})")
DAY_OR_MONTH = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{2,4})")
TIME_OF_DAY = re.compile(
    r"(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([AaPp][Mm])?\s*(Z|[+-]\d{2}:?\d{2})?\s*$"
)


def clock_seconds(cell: str) -> float | None:
    """Seconds of h:mm:ss, days and fractions too; two fields are minutes and seconds.

    >>> clock_seconds("1:02:03,5"), clock_seconds("02:30"), clock_seconds("1d 00:00:10"), clock_seconds("x")
    (3723.5, 150.0, 86410.0, None)
    """
    match = CLOCK.fullmatch(cell.strip())
    if match is None:
        return None
    days, first, second, third = match.groups()
    if third is None:
        total = int(first) * 60.0 + int(second)
    else:
        total = int(first) * 3600.0 + int(second) * 60.0 + float(third.replace(",", "."))
    return total + int(days or 0) * 86_400.0


def date_seconds(cell: str, day_first: bool) -> float | None:
    """Seconds of a date with time, from any fixed start; zones are taken into account where they are given.

    >>> date_seconds("25.11.2026 04:35:10", True) - date_seconds("2026-11-25T04:35:00", True)
    10.0
    >>> date_seconds("11/25/2026 4:35:00 PM", False) - date_seconds("2026-11-25 04:35", True)
    43200.0
    """
    text = cell.strip()
    if match := ISO.match(text):
        year, month, day = (int(part) for part in match.groups())
    elif match := DAY_OR_MONTH.match(text):
        one, two, year = (int(part) for part in match.groups())
        day, month = (one, two) if day_first else (two, one)
        year += 2000 if year < 100 else 0
    else:
        return None
    rest = text[match.end() :].lstrip("T ")
    try:
        start = datetime(year, month, day, tzinfo=UTC)
    except ValueError:
        return None
    if not rest:
        return start.timestamp()
    time = TIME_OF_DAY.match(rest)
    return None if time is None else (start + since_midnight(time)).timestamp()


def since_midnight(time: re.Match[str]) -> timedelta:
    """The time of day of one match, in universal time where a zone is given."""
    hour, minute, second, half, zone = time.groups()
    hours = int(hour) % 12 + 12 * (half.lower() == "pm") if half else int(hour)
    passed = timedelta(hours=hours, minutes=int(minute), seconds=float((second or "0").replace(",", ".")))
    if zone and zone != "Z":
        sign = 1 if zone[0] == "+" else -1
        passed -= sign * timedelta(hours=int(zone[1:3]), minutes=int(zone[-2:]))
    return passed


def day_comes_first(cells: Sequence[str]) -> tuple[bool, bool]:
    """Whether the day stands before the month, and whether that is certain.

    >>> day_comes_first(["25.11.2026 04:35"]), day_comes_first(["11/25/2026"]), day_comes_first(["1/2/2026"])
    ((True, True), (False, True), (False, False))
    """
    pairs = [
        (int(match[1]), int(match[2]))
        for cell in cells
        if not ISO.match(cell) and (match := DAY_OR_MONTH.match(cell))
    ]
    if any(first > 12 for first, _ in pairs):
        return True, True
    if any(second > 12 for _, second in pairs):
        return False, True
    dotted = any("." in cell for cell in cells[:1])
    return dotted, not pairs or dotted
