"""The words of the bench: what may be said, read once from the package's own table."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

import msgspec

from midframe.record.model import Face, JointKind, Role


class VerbWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing to do: the kind of joint, whether it opens it, the usual tools, other words for it."""

    verb: str
    said: tuple[str, ...]
    opens: bool
    joins: JointKind | None = None
    tools: tuple[str, ...] = ()


class DriveWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A drive as the record writes it, without its size; other words; the sizes usual in phones."""

    drive: str
    said: tuple[str, ...]
    sizes: tuple[str, ...]


class FaceWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A side to work from, and how it is said."""

    face: Face
    said: tuple[str, ...]


class ToolWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A tool and other words for it."""

    tool: str
    said: tuple[str, ...]


class AdhesiveWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a bond is made of, and other words for it."""

    adhesive: str
    said: tuple[str, ...]


class PartTerm(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The trade's term for a part, its role in the index, other words for it."""

    term: str
    said: tuple[str, ...]
    role: Role = "other"


class WordList(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A plain list of words."""

    words: tuple[str, ...]


class Lexicon(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """All words of one language."""

    verbs: tuple[VerbWords, ...]
    objects: Mapping[str, tuple[str, ...]]
    numbers: Mapping[str, float]
    units: Mapping[str, str]
    drives: tuple[DriveWords, ...]
    faces: tuple[FaceWords, ...]
    tools: tuple[ToolWords, ...]
    adhesives: tuple[AdhesiveWords, ...]
    parts: tuple[PartTerm, ...]
    qualifiers: WordList
    passed_over: WordList


@cache
def lexicon() -> Lexicon:
    """The English words that come with the package.

    >>> [verb.verb for verb in lexicon().verbs][:3]
    ['unscrew', 'unplug', 'peel']
    """
    text = files(__package__).joinpath("data", "words.toml").read_text(encoding="utf-8")
    return msgspec.convert(tomllib.loads(text), Lexicon)


@cache
def verb_words() -> Mapping[str, VerbWords]:
    """The verbs by name."""
    return {verb.verb: verb for verb in lexicon().verbs}


def folded(text: str) -> str:
    """Small letters, single spaces, hyphens as spaces: the form in which words are compared.

    >>> folded("  SIM-card  Tray ")
    'sim card tray'
    """
    return re.sub(r"[\s\-_/]+", " ", text.casefold()).strip()


@cache
def terms() -> Mapping[str, PartTerm]:
    """Every way of naming a part, folded, with its term; where two say the same, the first wins."""
    found: dict[str, PartTerm] = {}
    for part in lexicon().parts:
        for word in (part.term, *part.said):
            found.setdefault(folded(word), part)
    return found


@cache
def qualifiers() -> frozenset[str]:
    """Words that only qualify a name, folded."""
    return frozenset(folded(word) for word in lexicon().qualifiers.words)


def term_of(name: str) -> PartTerm | None:
    """The trade term that a name is, words that only qualify it left aside; `None` for any other name.

    >>> term_of("upper speaker box").term, term_of("battery connector plate").term, term_of("blue thing")
    ('Loudspeaker', 'Connector plate', None)
    """
    words = folded(name).split()
    known, qualifying = terms(), qualifiers()
    for length in range(len(words), 0, -1):
        for start in range(len(words) - length + 1):
            rest = words[:start] + words[start + length :]
            term = known.get(" ".join(words[start : start + length]))
            if term is not None and all(word in qualifying or word.isdecimal() for word in rest):
                return term
    return None


def role_of(name: str) -> Role:
    """The role in the index that a part of this name usually has.

    >>> role_of("Screen"), role_of("wide rear camera"), role_of("display bracket")
    ('display', 'rear_camera', 'other')
    """
    term = term_of(name)
    return term.role if term is not None else "other"
