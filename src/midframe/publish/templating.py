"""Templates of this package bound to a language: what they may say, how values are made fit for a page."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any, Literal

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from midframe.publish.contents import Renewed
from midframe.publish.language import Language, language
from midframe.publish.svg import legible

UNIT_APART = re.compile(r"(?<=\d) (?=(?:°C|%|mm|s|min|h|g|N·m|Nm|V|W)(?!\w))")
"""The space between a number and its unit."""


@cache
def environment(*, markup: bool, code: str = "en") -> Environment:
    """Templates of this package in one language; unknown names are errors, every value is escaped.

    `markup` is true for pages, false for Markdown. Templates say every word through `say`, and every
    figure through a filter of `bound`.
    """
    made = Environment(
        loader=PackageLoader("midframe.publish"),
        autoescape=markup,  # noqa: S701 - off for Markdown only, where `plain_value` escapes
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=legible_value if markup else plain_value,
    )
    spoken = language(code)
    made.globals["say"] = saying(spoken, shown if markup else plain_value)
    made.filters.update(bound(spoken, shown if markup else plain_value))
    return made


def saying(spoken: Language, fit: Callable[[Any], Any]) -> Callable[..., Markup]:
    """`say` for templates: values are made fit for the page, the message itself is text without markup."""

    def say(key: str, /, **values: Any) -> Markup:
        ready = {name: fit(value) if isinstance(value, str) else value for name, value in values.items()}
        return Markup(spoken.say(key, **ready))  # noqa: S704 - messages hold no markup, values are escaped

    return say


def bound(spoken: Language, fit: Callable[[Any], Any]) -> Mapping[str, Callable[..., Any]]:
    """The filters of a language; names of a list are made fit one by one, so that each may carry marks.

    `free` marks what is written in another language than the page; `word` says a word of the common
    vocabulary in the language of the page, and marks what it does not know.
    """

    def listed(names: Iterable[Any], last: Literal["and", "or"] = "and") -> Markup:
        return Markup(spoken.listed([fit(name) for name in names], last))  # noqa: S704 - each is fit

    def joined(names: Iterable[Any], key: str) -> Markup:
        between = f" {spoken.say(key)} "
        return Markup(between.join(str(fit(name)) for name in names))  # noqa: S704 - each is fit

    def free(text: str, written: str = "en") -> Any:
        if written == spoken.code or fit is plain_value or not text:
            return text
        return Markup('<bdi lang="{}">{}</bdi>').format(written, fit(text))

    def word(text: str, written: str = "en", *, capital: bool = False) -> Any:
        known = spoken.term(text)
        said = capitalised(known or text) if capital else known or text
        return said if known else free(said, written)

    return {
        "time": spoken.time,
        "minutes": spoken.minutes,
        "figure": spoken.figure,
        "fixed": spoken.fixed,
        "percent": spoken.percent,
        "listed": listed,
        "joined": joined,
        "capital": capitalised,
        "moves": spoken.moves,
        "in_sentence": spoken.in_sentence,
        "amount": lambda item: amount(item, spoken),
        "word": word,
        "free": free,
        "drawing": drawing,
        "css": css,
    }


def capitalised(text: str) -> str:
    """A text with a capital first letter.

    >>> capitalised("main board")
    'Main board'
    """
    return text[:1].upper() + text[1:]


def shown(value: Any) -> Any:
    """A value for a page, escaped; what is markup already stays."""
    return escape(legible_value(value))


def legible_value(value: Any) -> Any:
    """A value for a page: text without control characters, numbers on one line with their units."""
    return UNIT_APART.sub("\N{NO-BREAK SPACE}", legible(value)) if type(value) is str else value


def plain_value(value: Any) -> Any:
    """A value for Markdown: markup is escaped, line ends and control characters become spaces."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    return Markup(re.sub(r"([\\`*_\[\]<>|#])", r"\\\1", " ".join(legible(value).split())))  # noqa: S704


def drawing(svg: str) -> Markup:
    """A drawing of this package, whose texts are escaped already."""
    return Markup(svg)  # noqa: S704 - made by `svg.py`, which escapes


def css(text: str) -> Markup:
    r"""A text inside a CSS string: everything but letters and digits becomes a code point.

    >>> css('</style>')
    Markup('\\3c \\2f style\\3e ')
    """
    return Markup("".join(c if c.isalnum() else f"\\{ord(c):x} " for c in legible(text)))  # noqa: S704 - escaped


def amount(item: Renewed, spoken: Language) -> str:
    """How much of something is renewed, with its unit unless it is a piece.

    >>> amount(Renewed("Pad", "Board", 220.5, "mm2"), language("de"))
    '220,5 mm²'
    >>> amount(Renewed("Tape", "Plate", 1.0, "piece"), language())
    '1'
    """
    if item.amount is None:
        return "–"
    unit = "" if item.unit == "piece" else re.sub(r"(?<=m)2$", "²", re.sub(r"(?<=m)3$", "³", item.unit))
    return f"{spoken.figure(item.amount)} {unit}".strip()
