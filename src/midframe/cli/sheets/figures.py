"""Figures as they stand in a sheet: with their unit, as many digits as they carry."""

from __future__ import annotations


def minutes(seconds: float) -> str:
    """Seconds as minutes, for a column whose head says so.

    >>> minutes(487), minutes(20)
    ('8.1', '0.3')
    """
    return f"{seconds / 60:.1f}"


def duration(seconds: float) -> str:
    """A time in words of its size.

    >>> duration(45), duration(487), duration(655), duration(5400)
    ('45 s', '8.1 min', '11 min', '1 h 30 min')
    """
    whole = round(seconds)
    if whole < 100:
        return f"{whole} s"
    if seconds < 600:
        return f"{seconds / 60:.1f} min"
    whole_minutes = round(seconds / 60)
    hours, rest = divmod(whole_minutes, 60)
    if hours:
        return f"{hours} h {rest:02d} min"
    return f"{whole_minutes} min"


def money(amount: float, currency: str = "") -> str:
    """An amount with its currency.

    >>> money(61.333, "EUR"), money(4.0)
    ('61.33 EUR', '4.00')
    """
    return f"{amount:.2f} {currency}".rstrip()


def count(number: int, word: str, plural: str = "") -> str:
    """A number with its word.

    >>> count(1, "part"), count(2, "part"), count(2, "way in", "ways in")
    ('1 part', '2 parts', '2 ways in')
    """
    return f"{number} {word if number == 1 else plural or word + 's'}"


def percent(share: float) -> str:
    """A share of one as per cent.

    >>> percent(0.123), percent(0.004)
    ('12 %', '0.4 %')
    """
    whole = 100 * share
    return f"{whole:.0f} %" if whole >= 9.95 or whole == 0 else f"{whole:.1f} %"
