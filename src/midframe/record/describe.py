"""Values and types in plain words, for what a finding says was found and would be right."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable
from typing import Any

import msgspec.inspect as shape

LONGEST = 60


def shown(value: object) -> str:
    """A value of a file in plain words, kept short.

    >>> shown("14 g"), shown([1, 2]), shown(True)
    ('the text "14 g"', 'a list of 2', 'true')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'the text "{shortened(value)}"' if value else "an empty text"
    if isinstance(value, int):
        return f"the number {value}" if abs(value) < 10**LONGEST else "a very large number"
    if isinstance(value, float):
        return f"the number {value!r}" if math.isfinite(value) else f"{value!r}, which is no finite number"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    return "nothing" if value is None else f"a {type(value).__name__}"


def shortened(text: str) -> str:
    """The text, cut where it is too long for a message."""
    return text if len(text) <= LONGEST else text[: LONGEST - 1] + "…"


def expected(kind: Any) -> str:
    """What a field of this type takes, in plain words.

    >>> import typing, msgspec
    >>> expected(typing.Annotated[float, msgspec.Meta(ge=0, le=1)])
    'a number from 0 to 1'
    """
    return in_words(shape.type_info(kind))


def within(kind: Any, value: float) -> str:
    """The same with its upper end, where a number lies above that.

    >>> import typing, msgspec
    >>> within(typing.Annotated[float, msgspec.Meta(ge=0, le=1e9)], 1e300)
    'a number from 0 to 1000000000'
    """
    said, info = expected(kind), shape.type_info(kind)
    top = getattr(info.type if isinstance(info, shape.Metadata) else info, "le", None)
    return said if top is None or value <= top or " to " in said else f"{said} to {top:.0f}"


def in_words(info: shape.Type) -> str:
    """The same for msgspec's own description of a type."""
    if isinstance(info, shape.Metadata):
        return in_words(info.type)
    if isinstance(info, shape.UnionType):
        return " or ".join(in_words(one) for one in info.types if not isinstance(one, shape.NoneType))
    if isinstance(info, shape.LiteralType):
        return "one of " + ", ".join(
            f'"{value}"' if isinstance(value, str) else str(value) for value in info.values
        )
    if isinstance(info, shape.IntType | shape.FloatType):
        return bounds(info)
    if isinstance(info, shape.BoolType):
        return "true or false"
    return text_in_words(info)


def text_in_words(info: shape.Type) -> str:
    """The same for texts."""
    if isinstance(info, shape.StrType) and info.pattern is not None:
        return "an id of letters, digits, hyphens, dots and underscores, letter or digit first"
    if isinstance(info, shape.StrType) and info.min_length:
        return "a text that is not empty"
    return "a text"


def bounds(info: shape.IntType | shape.FloatType) -> str:
    """A number's kind and range in words."""
    noun = "a whole number" if isinstance(info, shape.IntType) else "a number"
    low = info.ge if info.ge is not None else info.gt
    if low is None:
        return noun
    first = f"above {low:g}" if info.gt is not None else f"from {low:g}"
    return f"{noun} {first} to {info.le:g}" if info.le is not None and info.le < 1e6 else f"{noun} {first}"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like this one, if any is like it at all."""
    close = difflib.get_close_matches(word, list(known), n=1, cutoff=0.5)
    return close[0] if close else None


def proposal(word: str, known: Iterable[str], kind: str) -> str:
    """What would be right in place of an unknown word: the nearest known one, else all of them."""
    words = sorted(set(known))
    close = nearest(word, words)
    if close is not None:
        return f'{kind} "{close}", if that is meant'
    listing = ", ".join(words[:20]) + (", …" if len(words) > 20 else "")
    return f"one of the {kind}s: {listing}" if words else f"a {kind}; there is none yet"
