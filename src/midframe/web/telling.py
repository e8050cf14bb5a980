"""Words of answers: moves, shares, money and sources as the pages write them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from types import MappingProxyType
from typing import Any

from midframe.publish.cautions import cautions
from midframe.publish.language import language
from midframe.publish.names import title_of
from midframe.sources import Source, cited
from midframe.ways.wording import in_sentence
from midframe.web.heat_form import after_words, hot_name


def money(amount: float | None, currency: str = "") -> str:
    """An amount with its currency.

    >>> money(61.333, "EUR"), money(None)
    ('61.33 EUR', 'not known')
    """
    return "not known" if amount is None else f"{amount:.2f} {currency}".rstrip()


def brief(seconds: float | None) -> str:
    """A time in one figure: seconds below a hundred of them, minutes above.

    >>> brief(45.0), brief(487.0), brief(655.0), brief(None)
    ('45 s', '8.1 min', '11 min', 'not known')
    """
    if seconds is None:
        return "not known"
    return f"{seconds:.0f} s" if round(seconds) < 100 else f"{language().minutes(seconds)} min"


def span(low: float, high: float) -> str:
    """The range of a time, with one unit.

    >>> span(10.0, 28.0), span(47.0, 270.0)
    ('10 to 28 s', '0.8 to 4.5 min')
    """
    if round(high) < 100:
        return f"{low:.0f} to {high:.0f} s"
    return f"{language().minutes(low)} to {language().minutes(high)} min"


def share(value: float) -> str:
    """A share of one in per cent.

    >>> share(0.123), share(0.004), share(0.0)
    ('12 %', '0.4 %', '0 %')
    """
    whole = 100 * value
    return f"{whole:.0f} %" if whole >= 9.95 or whole == 0 else f"{whole:.1f} %"


def capital(text: str) -> str:
    """A text with a capital first letter.

    >>> capital("main board")
    'Main board'
    """
    return text[:1].upper() + text[1:]


def role_words(role: str) -> str:
    """A role of a part as it is said.

    >>> role_words("back_cover"), role_words("other")
    ('back cover', 'other')
    """
    return role.replace("_", " ")


def of_sources(keys: Iterable[str]) -> tuple[Source, ...]:
    """The sources behind some keys, once each."""
    return cited(keys)


def signed_minutes(seconds: float) -> str:
    """Minutes with their sign; nothing below three seconds.

    >>> signed_minutes(90.0), signed_minutes(-600.0), signed_minutes(1.0)
    ('+1.5', '−10.0', '')
    """
    if abs(seconds) < 3:
        return ""
    return f"{'+' if seconds > 0 else '−'}{abs(seconds) / 60:.1f}"


def caution_title(key: str) -> str:
    """What a caution is about."""
    return cautions()[key].title


def caution_lines(key: str) -> tuple[str, ...]:
    """What a caution says."""
    return cautions()[key].lines


FILTERS: Mapping[str, Callable[..., Any]] = MappingProxyType(
    {
        "money": money,
        "share": share,
        "brief": brief,
        "span": span,
        "capital": capital,
        "role_words": role_words,
        "sources": of_sources,
        "signed_minutes": signed_minutes,
        "caution_title": caution_title,
        "caution_lines": caution_lines,
        "hot_name": hot_name,
        "joint_title": title_of,
        "after_words": after_words,
        "in_sentence": in_sentence,
        "listed": language().listed,
        "plain_figure": language().figure,
        "moves_words": language().moves,
    }
)
"""What the templates of answers may write with."""
