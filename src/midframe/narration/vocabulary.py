"""The words that are understood: those of the bench, those of one language's file, and the reader's own."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from importlib.resources import files
from itertools import chain

import msgspec

from midframe.faults import LogFault
from midframe.record.findings import Finding
from midframe.stripdown.done import VERBS
from midframe.stripdown.words import lexicon

KINDS = (
    *(
        "verb",
        "take",
        "particle",
        "pull",
        "held",
        "object",
        "part",
        "head",
        "place",
        "qualifier",
        "wary",
        "edge",
    ),
    *("tool", "tool_verb", "wary_tool", "drive", "adhesive", "fact", "label", "unit", "number", "time"),
    *("homophone", "misheard", "mark", "idle", "filler", "stop"),
)
"""The tables that a file of words may have."""

ZEROS: Mapping[str, str] = {"double zero": "00", "zero zero": "00", "triple zero": "000"}
TRADE = frozenset(("part", "tool", "drive", "verb", "fact", "adhesive", "number", "object", "unit"))
"""Kinds of words that may be what a misheard word was; plain speech is left as it was heard."""

PLURAL = frozenset(("part", "tool", "head"))
"""Kinds of words that are understood with an "s" behind them as well."""

UNITS = ("mm", "s", "min", "c", "mAh", "Ah", "V", "Wh", "g")

Table = Mapping[str, Mapping[str, tuple[str, ...]]]


class Vocabulary(msgspec.Struct, frozen=True):
    """Each phrase, as its words, with the kinds of word it is and what it means as each.

    `longest` gives the most words of a phrase that begins with a word, `begun` the
    beginnings of all phrases; `tables` holds
    the words of each kind as they were written; `sounds` has, by the first letter of its
    sound, each phrase of the trade: its letters, its sound, its words.
    """

    phrases: Mapping[tuple[str, ...], Mapping[str, str]]
    longest: Mapping[str, int]
    begun: frozenset[tuple[str, ...]]
    tables: Table
    sounds: Mapping[str, tuple[tuple[str, str, tuple[str, ...]], ...]]

    def kinds(self, word: str) -> frozenset[str]:
        """The kinds of word that a single word is."""
        return frozenset(self.phrases.get((word,), {}))

    def of(self, kind: str, value: str) -> tuple[str, ...]:
        """The ways of saying something."""
        return self.tables.get(kind, {}).get(value, ())


def split(text: str) -> tuple[str, ...]:
    """A phrase as the words in which speech is compared.

    >>> split("Three-wing"), split("don’t pry")
    (('three', 'wing'), ("don't", 'pry'))
    """
    plain = text.casefold().replace("\u2019", "'")
    return tuple(re.findall(r"\d+(?:[.,]\d+)*|°|&|[^\W\d_]+(?:'[^\W\d_]+)*", plain))


@cache
def english() -> Vocabulary:
    """The words of the bench and the spoken English that come with the package."""
    return vocabulary_with()


def vocabulary_with(*more: tuple[str, str]) -> Vocabulary:
    r"""The English words with those of further files, each given as its text and its name.

    Raises `LogFault` with what is wrong in a file.

    >>> own = vocabulary_with(("[part]\nBattery = ['akku']", "own.toml"))
    >>> own.phrases["akku",]
    {'part': 'Battery'}
    """
    text = files(__package__).joinpath("data", "english.toml").read_text(encoding="utf-8")
    tables = [bench_table(), *(table_of(one, name) for one, name in ((text, "english.toml"), *more))]
    merged: dict[str, dict[str, tuple[str, ...]]] = {}
    for table in tables:
        for kind, rows in table.items():
            for value, said in rows.items():
                known = merged.setdefault(kind, {})
                known[value] = (*known.get(value, ()), *said)
    phrases: dict[tuple[str, ...], dict[str, str]] = {}
    for kind, value, way in rows_of(merged):
        words = split(way)
        if words:
            phrases.setdefault(words, {}).setdefault(kind, value)
    for words, tags in tuple(phrases.items()):  # "that's all" is heard as "that all"
        heard = tuple(one if (one,) in phrases else one.removesuffix("'s") for one in words)
        phrases.setdefault(heard, dict(tags)) if len(words) > 1 else None
    sounds = sounds_of(phrases)
    for words, tags in tuple(phrases.items()):
        several = (*words[:-1], f"{words[-1]}s")
        if PLURAL & set(tags) and not words[-1].endswith("s") and several not in phrases:
            phrases[several] = dict(tags)
    longest: dict[str, int] = {}
    for words in phrases:
        longest[words[0]] = max(longest.get(words[0], 0), len(words))
    begun = frozenset(words[:length] for words in phrases for length in range(1, len(words) + 1))
    return Vocabulary(phrases, longest, begun, merged, sounds)


def sounds_of(
    phrases: Mapping[tuple[str, ...], Mapping[str, str]],
) -> Mapping[str, tuple[tuple[str, str, tuple[str, ...]], ...]]:
    """The phrases of the trade by the first letter of how they sound."""
    from jellyfish import metaphone

    found: dict[str, list[tuple[str, str, tuple[str, ...]]]] = {}
    for words, tags in phrases.items():
        letters = "".join(words)
        if TRADE & set(tags) and len(letters) > 4:
            sound = metaphone(letters)
            found.setdefault(sound[:1], []).append((letters, sound, words))
    return {first: tuple(rows) for first, rows in found.items()}


def rows_of(table: Table) -> Iterator[tuple[str, str, str]]:
    """Each kind, meaning and phrase; what a tool does alone is no phrase."""
    for kind, rows in table.items():
        for value, said in rows.items():
            yield from ((kind, value, one) for one in said if kind != "tool_verb")


def bench_table() -> Table:
    """The words of the bench in the shape of a file of words."""
    known = lexicon()
    numbers: dict[str, tuple[str, ...]] = {}
    for word, value in known.numbers.items():
        meant = ZEROS.get(word, f"{value:g}")
        numbers[meant] = (*numbers.get(meant, ()), word)
    units: dict[str, tuple[str, ...]] = {}
    for word, unit in known.units.items():
        units[unit] = (*units.get(unit, ()), word)
    return {
        "verb": {one.verb: (one.verb, *one.said) for one in known.verbs if one.verb != "note"},
        "object": dict(known.objects),
        "number": numbers,
        "unit": units,
        "drive": {one.drive: (one.drive, *one.said) for one in known.drives},
        "tool": {one.tool: (one.tool, *one.said) for one in known.tools},
        "adhesive": {one.adhesive: (one.adhesive, *one.said) for one in known.adhesives},
        "part": {one.term: (one.term, *one.said) for one in known.parts},
        "qualifier": {one: (one,) for one in known.qualifiers.words if not one.isdecimal()},
    }


def table_of(text: str, name: str) -> Table:
    """A file of words; raises `LogFault` with the table and what would be right."""
    try:
        plain = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = f"no TOML: {error}"
        raise LogFault([Finding("fault", name, "", "", found, "a file of words (docs/draft.md)")]) from None
    misshapen = tuple(out_of_shape(plain, name))
    if misshapen:
        raise LogFault(misshapen)
    table = msgspec.convert(plain, dict[str, dict[str, tuple[str, ...]]])
    unknown = [*unknown_kinds(table, name), *unknown_meanings(table, name)]
    if unknown:
        raise LogFault(unknown)
    return table


def out_of_shape(plain: Mapping[str, object], name: str) -> Iterator[Finding]:
    """What in a file of words is no table of lists of words."""
    right = 'a table with lines such as: "Battery" = ["cell"]'
    for kind, rows in plain.items():
        if not isinstance(rows, Mapping):
            yield Finding("fault", name, kind, "", f"no table but {rows!r}", right)
            continue
        for value, said in rows.items():
            if not isinstance(said, list) or not all(isinstance(one, str) for one in said):
                yield Finding("fault", name, f"{kind}.{value}", "", f"no list of words but {said!r}", right)


def unknown_kinds(table: Table, name: str) -> Iterator[Finding]:
    """Tables that are no kind of word."""
    for kind in table:
        if kind not in KINDS:
            yield Finding("fault", name, kind, "", f"the unknown table [{kind}]", ", ".join(KINDS))


def unknown_meanings(table: Table, name: str) -> Iterator[Finding]:
    """Meanings that nothing is made of: verbs and units are fixed, numbers are figures."""
    fixed: dict[str, Iterable[str]] = {"verb": VERBS, "unit": UNITS, "take": VERBS}
    for kind, allowed in fixed.items():
        for value in table.get(kind, {}):
            if value not in allowed:
                right = f"one of {', '.join(allowed)}"
                yield Finding("fault", name, f"{kind}.{value}", "", f"the unknown meaning '{value}'", right)
    for value in chain(*(table.get(kind, {}) for kind in ("number", "homophone", "time"))):
        if not re.fullmatch(r"\d{1,9}(?:\.\d{1,6})?", value):
            yield Finding("fault", name, f"number.{value}", "", f"'{value}'", "a figure, such as 12 or 0.5")
