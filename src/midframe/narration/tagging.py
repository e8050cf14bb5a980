"""Tokens as spans: phrases that are known, figures, units, names of parts put together."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

import msgspec

from midframe.narration.spoken import SIGNS, Token
from midframe.narration.vocabulary import Vocabulary

ENDS = frozenset(".?!;…")


class Span(msgspec.Struct, frozen=True):
    """Some tokens in a row and what they are: for each kind of word the meaning.

    `first` and `last` are places of words; `tail` is the place of the token after.
    `heard` tells a repair: what was said and what it was taken for.
    """

    tags: Mapping[str, str]
    text: str
    first: int
    last: int
    heard: str = ""

    def kind(self, *kinds: str) -> bool:
        """Whether it is one of these kinds."""
        return not self.tags.keys().isdisjoint(kinds)

    def mark(self, *values: str) -> bool:
        """Whether it is a mark of one of these meanings."""
        return self.tags.get("mark") in values


def spans_of(tokens: Sequence[Token], words: Vocabulary) -> list[Span]:
    """The tokens as spans: the longest phrase known at each place, else the token alone."""
    found: list[Span] = []
    place = 0
    while place < len(tokens):
        length, tags = longest(tokens, place, words)
        piece = tokens[place : place + length]
        text = " ".join(token.text for token in piece)
        found.append(Span(tags or alone(piece[0].text), text, piece[0].word, piece[-1].word))
        place += length
    return [span for span in found if not set(span.tags) <= {"filler"} or not span.tags]


def longest(tokens: Sequence[Token], place: int, words: Vocabulary) -> tuple[int, Mapping[str, str]]:
    """The longest phrase at a place, fillers inside it passed over: its length in tokens, what it is."""
    best: tuple[int, Mapping[str, str]] = (1, {})
    said: list[str] = []
    most = words.longest.get(tokens[place].text, 0)
    if not most:
        return best
    for length, token in enumerate(tokens[place : place + most + 2], start=1):
        if token.text in SIGNS and token.text != "¦":
            break
        passed = token.text == "¦" or (said and "filler" in words.kinds(token.text))
        if passed and (*said, token.text) not in words.begun:
            continue
        said.append(token.text)
        if tuple(said) not in words.begun:
            break
        tags = words.phrases.get(tuple(said))
        if tags is not None:
            best = (length, tags)
    return best


def alone(text: str) -> Mapping[str, str]:
    """What a token that no phrase holds is: a sign, a figure, a thread, or an unknown word.

    >>> alone("7,600"), alone("m1,4"), alone("."), alone("haha")
    ({'number': '7600'}, {'thread': 'M1.4'}, {'sign': '.'}, {})
    """
    if text in SIGNS:
        return {"sign": text}
    if re.fullmatch(r"\d+(?:,\d{3})+", text):
        return {"number": text.replace(",", "")}
    if re.fullmatch(r"\d+(?:[.,]\d+)?", text):
        return {"number": text.replace(",", ".")}
    thread = re.fullmatch(r"m(\d+(?:[.,]\d+)?)", text)
    return {"thread": f"M{thread[1].replace(',', '.')}"} if thread else {}


def joined(spans: Sequence[Span], tags: Mapping[str, str]) -> Span:
    """Several spans as one."""
    heard = "; ".join(dict.fromkeys(filter(None, (span.heard for span in spans))))
    text = " ".join(span.text for span in spans)
    return Span(tags, text, spans[0].first, spans[-1].last, heard)
