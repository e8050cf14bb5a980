"""Sentences of results told anew: what the index and the legal findings say in English, in another language.

The English catalogue `results.ftl` holds these sentences with variables; a sentence that fits one of
them gives its values back, and the same message of the other language says them. The names of the
variables say what each holds: `name` and `names` are texts of the record, `word`, `words`, `plain` and
`tools` are told in turn, a `count` chooses the plural, a `figure` takes the decimal mark, a `clause`
goes word by word, `text` stays.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

import msgspec

from midframe.publish.blocks import Line, Other, Piece
from midframe.publish.language import FIRST, Language, language, messages, resources

if TYPE_CHECKING:
    from fluent.syntax import ast

Keep: TypeAlias = Callable[[str], str]
"""Puts a text of the record aside and gives the mark that stands for it."""

SHAPES: Mapping[str, str] = MappingProxyType(
    {
        "name": ".+?",
        "names": ".+",
        "word": ".+?",
        "words": ".+",
        "plain": "[^()]+",
        "tools": ".+?",
        "figure": "(?:[0-9.·+() to]|no score defined)+?",
        "clause": r"[^\[\]]+?",
        "count": "[0-9]+",
        "text": "[^ ,;:()]+",
    }
)
"""What may stand for a variable, by the first word of its name."""

NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")

KEPT = re.compile("\ue010(\\d+)\ue011")
"""The mark of a text that was put aside."""


class Sentence(msgspec.Struct, frozen=True):
    """A message of the results: its key, its English form as a pattern, its variables in order."""

    key: str
    pattern: re.Pattern[str]
    variables: tuple[str, ...]
    weight: int


def told(text: str, said: Language, written: str = FIRST) -> Line:
    """A sentence of a result in the language of the page, texts of the record marked with their own.

    What no catalogue knows stays as it is, and is marked too.

    >>> told("1 steps, 5", language("de"))
    ('1 Schritt, Punkte 5',)
    >>> told("offered to end users: Battery", language("de"))
    ('Endnutzern angeboten: ', Other(text='Battery', code='en'))
    """
    if said.code == FIRST:
        return (text,)
    held: list[str] = []

    def keep(name: str) -> str:
        held.append(name)
        return f"\ue010{len(held) - 1}\ue011"

    pieces = KEPT.split(listed(text, said, keep))
    line: list[Piece] = []
    for number, piece in enumerate(pieces):
        if number % 2:
            name = held[int(piece)]
            line.append(name if said.code == written else Other(name, written))
        elif piece:
            line.append(piece)
    return tuple(line)


def listed(text: str, said: Language, keep: Keep) -> str:
    """A sentence, or a list of words and names told one by one."""
    known = retold(text, said, keep)
    if known is not None:
        return known
    items = text.split(", ")
    if len(items) == 1:
        return keep(text)
    return ", ".join(retold(item, said, keep) or keep(item) for item in items)


def retold(text: str, said: Language, keep: Keep) -> str | None:
    """A sentence in another language; `None` for one that the catalogue of results does not know."""
    known = text.replace(".", said.point) if NUMBER.fullmatch(text) else said.term(text)
    if known is not None:
        return known
    for sentence in sentences():
        found = sentence.pattern.fullmatch(text)
        if found:
            values = zip(sentence.variables, found.groups(), strict=True)
            return said.say(sentence.key, **{name: value(name, part, said, keep) for name, part in values})
    return None


def value(name: str, text: str, said: Language, keep: Keep) -> str | int:
    """The value of a variable, told as its name asks for."""
    kind = name.partition("-")[0]
    match kind:
        case "name" | "names":
            return ", ".join(map(keep, text.split(", ") if kind == "names" else [text]))
        case "word" | "plain":
            return retold(text, said, keep) or keep(text)
        case "words":
            return ", ".join(retold(item, said, keep) or keep(item) for item in text.split(", "))
        case "tools":
            return said.listed(retold(item, said, keep) or keep(item) for item in text.split(" and "))
        case "count":
            return int(text)
        case "figure":
            return figures(text, said)
        case _:
            return clause(text, said) if kind == "clause" else text


def figures(text: str, said: Language) -> str:
    """Figures, ranges and sums with the decimal mark and the words of a language.

    >>> figures("0.30·(1 to 5) + 0.10·(no score defined)", language("de"))
    '0,30·(1 bis 5) + 0,10·(keine Punktzahl festgelegt)'
    """
    ranges = re.sub(
        r"([0-9.]+) to ([0-9.]+)", lambda found: said.say("from-to", first=found[1], last=found[2]), text
    )
    none = ranges.replace("no score defined", said.say("result-points-none"))
    return none.replace(".", said.point)


def clause(text: str, said: Language) -> str:
    """A place in an act, word by word.

    >>> clause("Annex II B points 1.1(1)(c)(i) and 1.1(5)(b)", language("de"))
    'Anhang II B Nr. 1.1(1)(c)(i) und 1.1(5)(b)'
    """
    if said.code == FIRST:
        return text
    words = places()
    return re.sub(
        r"\b(" + "|".join(map(re.escape, words)) + r")\b", lambda found: said.say(words[found[0]]), text
    )


@cache
def sentences() -> tuple[Sentence, ...]:
    """The English sentences as patterns, those with most words of their own first."""
    from fluent.syntax import ast

    found = [
        sentence(entry)
        for entry in resources(FIRST)["results"].body
        if isinstance(entry, ast.Message) and entry.id.name.startswith("result-")
    ]
    return tuple(sorted(found, key=lambda one: -one.weight))


def sentence(entry: ast.Message) -> Sentence:
    """A message as a pattern: its texts as they are, each variable in its shape."""
    shape, variables, weight = [], [], 0
    for element in entry.value.elements if entry.value is not None else ():
        text = getattr(element, "value", None)
        if isinstance(text, str):
            shape.append(re.escape(text))
            weight += len(text)
        else:
            name = element.expression.id.name  # type: ignore[union-attr]  # variables only
            shape.append(f"({SHAPES[name.partition('-')[0]]})")
            variables.append(name)
    return Sentence(entry.id.name, re.compile("".join(shape)), tuple(variables), weight)


@cache
def places() -> Mapping[str, str]:
    """The words of clauses with their keys, the longest first."""
    keys = (key for key in messages(resources(FIRST)["results"]) if key.startswith("clause-"))
    found = {language().say(key): key for key in keys}
    return MappingProxyType(dict(sorted(found.items(), key=lambda one: -len(one[0]))))
