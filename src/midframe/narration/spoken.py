"""The words of all captions in one line of speech, each with its time, and the tokens they are read as."""

from __future__ import annotations

import re
from collections.abc import Iterator

import msgspec

from midframe.narration.captions import Cue, seconds_of

PAUSE_SECONDS = 1.5
"""A longer silence between two captions ends a sentence (house choice)."""

TOKEN = re.compile(
    r"m ?(?=\d)\d*(?:[.,]\d+)?(?!\w)|\d+(?:,\d{3})+(?!\d)|\d+(?:[.,]\d+)?"
    r"|°|&|[^\W\d_]+(?:'[^\W\d_]+)*|[.,;:!?…—–]"
)
INNER = re.compile(r"<((?:\d+:)?\d{1,2}:\d{2}\.\d{1,3})>")
NOISE = re.compile(
    r"\[[^\]\n]{0,60}\]|\*[^*\n]{1,40}\*|[♪♫]|(?<!\S)>>+|\((?:music|laughs|laughter|applause|inaudible|noise)\)",
    re.I,
)
SIGNS = frozenset(".,;:!?…—–¦")


class Word(msgspec.Struct, frozen=True):
    """A word as it stands in the captions: when it begins and ends (s), and the number of its caption."""

    text: str
    start: float
    end: float
    cue: int


class Token(msgspec.Struct, frozen=True):
    """A word or sign in the form in which it is compared, and the place of its word."""

    text: str
    word: int


def words_of(cues: tuple[Cue, ...]) -> tuple[Word, ...]:
    """All words in order; lines that rolling captions repeat are counted once.

    A word's time is that inside the caption where there is one, else its share
    of the caption by letters.

    >>> [word.start for word in words_of((Cue(1, 0.0, 4.0, "four star twos"),))]
    [0.0, 1.33, 2.67]
    """
    found: list[Word] = []
    before: tuple[str, ...] = ()
    for cue in cues:
        timed = list(timed_words(cue))
        said = tuple(word.text for word in timed)
        fresh = timed[repeated(before, said) :] if before else timed
        found += fresh
        before = said
    return tuple(found)


def repeated(before: tuple[str, ...], said: tuple[str, ...]) -> int:
    """How many first words of a caption are the last words of the one before; only of two words or more.

    >>> repeated(("hey", "this", "phone"), ("this", "phone", "is", "new"))
    2
    """
    for length in range(min(len(before), len(said)), 1, -1):
        if before[-length:] == said[:length]:
            return length
    return 0


def timed_words(cue: Cue) -> Iterator[Word]:
    """The words of one caption with their times."""
    pieces = INNER.split(NOISE.sub(" ", cue.text))
    stamps = [cue.start, *(min(max(seconds_of(one), cue.start), cue.end) for one in pieces[1::2])]
    for place, piece in enumerate(pieces[0::2]):
        start = stamps[place]
        end = stamps[place + 1] if place + 1 < len(stamps) else cue.end
        words = piece.split()
        letters = sum(len(word) + 1 for word in words)
        passed = 0
        for word in words:
            share = (end - start) / letters
            begins = start + share * passed
            passed += len(word) + 1
            yield Word(word, round(begins, 2), round(start + share * passed, 2), cue.number)


def tokens_of(words: tuple[Word, ...]) -> tuple[Token, ...]:
    """The words as tokens; a pause ends a sentence, and "¦" stands where a caption ends."""
    found: list[Token] = []
    for place, word in enumerate(words):
        plain = word.text.casefold().replace("\u2019", "'")
        found += (Token(one.replace(" ", ""), place) for one in TOKEN.findall(plain))
        after = words[place + 1] if place + 1 < len(words) else None
        if after is not None and after.cue != word.cue:
            gap = after.start - word.end
            found.append(Token(";" if gap > PAUSE_SECONDS else "¦", place))
    return tuple(found)
