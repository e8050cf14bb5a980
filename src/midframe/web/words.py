"""Figures as the pages write them: with unit, in words a person reads at a glance."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from midframe.dossier.firmness import share_words
from midframe.trials import CHANGE_WORDS


def duration(seconds: float | None) -> str:
    """Seconds as a person says them.

    >>> duration(42), duration(90), duration(3725), duration(None)
    ('42 s', '1 min 30 s', '1 h 2 min', 'not known')
    """
    if seconds is None:
        return "not known"
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60} min" + (f" {whole % 60} s" if whole % 60 and whole < 600 else "")
    return f"{whole // 3600} h" + (f" {whole % 3600 // 60} min" if whole % 3600 >= 60 else "")


def clock(seconds: float) -> str:
    """Seconds as a running clock shows them.

    >>> clock(7), clock(3725)
    ('0:07', '1:02:05')
    """
    whole = int(seconds)
    hours, minutes = whole // 3600, whole % 3600 // 60
    return f"{hours}:{minutes:02}:{whole % 60:02}" if hours else f"{minutes}:{whole % 60:02}"


def figure(value: float | None, digits: int = 2) -> str:
    """A number with a fixed count of decimals, or a dash where it is not known.

    >>> figure(3.14159), figure(None)
    ('3.14', '–')
    """
    return "–" if value is None else f"{value:.{digits}f}"


def index_figure(value: float) -> str:
    """R with two decimals, a tie upwards as on the label.

    >>> index_figure(2.855), index_figure(2.8549)
    ('2.86', '2.85')
    """
    hundredths = (round(value * 10_000) + 50) // 100
    return f"{hundredths // 100}.{hundredths % 100:02}"


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "screw"), counted(3, "screw"), counted(2, "box", "boxes")
    ('1 screw', '3 screws', '2 boxes')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def day(at: str) -> str:
    """An ISO moment as date and minute, in UTC.

    >>> day("2026-11-25T04:40:12.345+00:00")
    '2026-11-25 04:40'
    """
    return at[:16].replace("T", " ")


def stored(value: Any) -> str:
    """A value of a record as one of two versions: a field, a whole part, or nothing.

    >>> stored(52.0), stored(None)
    ('52', 'not there')
    """
    from midframe.record.differences import shown

    return "not there" if value is None else shown(value)


def read_figure(value: float | str) -> str:
    """A figure as it was read: a number in its shortest form, or the words.

    >>> read_figure(312.0), read_figure("good")
    ('312', 'good')
    """
    return value if isinstance(value, str) else f"{value:.10g}"


def signed(value: float) -> str:
    """A difference with its sign.

    >>> signed(-120.0), signed(2.0), signed(0.0)
    ('−120', '+2', '±0')
    """
    return f"{'+' if value > 0 else '−' if value < 0 else '±'}{abs(value):.6g}"


FILTERS: Mapping[str, Callable[..., Any]] = MappingProxyType(
    {
        "duration": duration,
        "clock": clock,
        "figure": figure,
        "index_figure": index_figure,
        "counted": counted,
        "day": day,
        "stored": stored,
        "read_figure": read_figure,
        "signed": signed,
        "share_words": share_words,
        "change_words": CHANGE_WORDS.__getitem__,
    }
)
"""What the templates may write a figure with."""
