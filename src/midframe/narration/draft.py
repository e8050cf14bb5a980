"""A talk as a draft: items with their words, times and how far they stand in them; the rest kept aside."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from midframe.narration.captions import Captions
from midframe.narration.figures import with_figures
from midframe.narration.found import Found, Grade, Kind
from midframe.narration.listening import Listening
from midframe.narration.misheard import repaired
from midframe.narration.phrases import with_parts, with_verbs
from midframe.narration.spoken import Token, Word, tokens_of, words_of
from midframe.narration.tagging import Span, spans_of
from midframe.narration.vocabulary import Vocabulary, english

FILLERS = 2
"""So many words without meaning between two of an item count as its words."""


PLAIN = "plain speech"


class Item(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One thing that a record or its log gets from the words.

    Parameters
    ----------
    number
        From 1, in the order in which the things were said.
    kind
        `move`, `figure` (read off a label), `reach` (what need not come out), `fact` (how it is held).
    words, start, end, cues
        The words behind it, from when to when (s), and the numbers of their captions.
    grade, reasons
        How far it stands in the words, and why not all the way; no probability.
    part
        What the move was done to, what the figure is on, what is to come out, what the fact is of.
    seconds, celsius
        As said; `None` where nothing was said.
    """

    number: int
    kind: Kind
    words: str
    start: float
    end: float
    cues: tuple[int, ...]
    grade: Grade = "said"
    reasons: tuple[str, ...] = ()
    part: str = ""
    to: str = ""
    verb: str = ""
    count: int | None = None
    drive: str = ""
    thread: str = ""
    length_mm: float | None = None
    seconds: float | None = None
    celsius: float | None = None
    tools: tuple[str, ...] = ()
    label: str = ""
    value: float | None = None
    unit: str = ""
    without: tuple[str, ...] = ()
    fact: str = ""


class Passed(msgspec.Struct, frozen=True, kw_only=True):
    """Words that became no item: when they were said, in which captions, and why they were kept aside."""

    words: str
    start: float
    end: float
    cues: tuple[int, ...]
    why: str

    @property
    def idle(self) -> bool:
        """Whether it is only a filler such as "um", which nobody needs to look at."""
        return self.why == PLAIN and len(self.words.split()) <= FILLERS


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """What was understood of a talk, and what was not."""

    items: tuple[Item, ...]
    aside: tuple[Passed, ...]


def draft_of(captions: Captions, vocabulary: Vocabulary | None = None) -> Draft:
    """What timed captions tell of a strip-down.

    >>> from midframe.narration.captions import read_captions
    >>> told = draft_of(read_captions("[0:05] nine number three star screws on the mid cover, no, eight"))
    >>> item = told.items[0]
    >>> item.verb, item.part, item.count, item.drive, item.grade
    ('unscrew', 'Mid cover', 8, 'hexalobular 3', 'filled in')
    """
    known = english() if vocabulary is None else vocabulary
    said = words_of(captions.cues)
    listening = Listening(known)
    listening.listen(understood(said, known))
    found = sorted(enumerate(listening.found), key=lambda one: (first_of(one[1].spans), one[0]))
    items = tuple(item_of(one, number, said) for number, (_, one) in enumerate(found, start=1))
    return Draft(items=items, aside=passed(listening, said))


def understood(said: tuple[Word, ...], known: Vocabulary) -> list[Span]:
    """The words as spans, repairs, figures, names and verbs put together."""
    tokens, notes = repaired([bared(token, known) for token in tokens_of(said)], known)
    spans = [with_note(span, notes) for span in spans_of(tokens, known)]
    return with_verbs(with_parts(with_figures(spans), known))


def bared(token: Token, known: Vocabulary) -> Token:
    """A token without an "'s" behind it, unless it is a word with it: "it's"."""
    stem = token.text.removesuffix("'s")
    return token if stem == token.text or known.kinds(token.text) else Token(stem, token.word)


def with_note(span: Span, notes: Mapping[int, str]) -> Span:
    """A span with what was repaired in it."""
    told = dict.fromkeys(notes[place] for place in range(span.first, span.last + 1) if place in notes)
    last = span.last
    while last in notes and notes.get(last + 1) == notes[last]:  # the rest of what was heard for one word
        last += 1
    return Span(span.tags, span.text, span.first, last, "; ".join(told)) if told else span


def first_of(spans: Sequence[Span]) -> int:
    """The place of the first word of some spans."""
    return min((span.first for span in spans), default=0)


def places_of(spans: Iterable[Span]) -> list[int]:
    """The places of the words of some spans, in order, without mere signs; fillers between them count."""
    found = sorted(
        {place for span in spans if not span.kind("sign") for place in range(span.first, span.last + 1)}
    )
    whole: list[int] = []
    for place in found:
        near = whole and place - whole[-1] <= FILLERS + 1
        whole += range(whole[-1] + 1 if near else place, place + 1)
    return whole


def stretch(places: Sequence[int], said: tuple[Word, ...]) -> tuple[str, float, float, tuple[int, ...]]:
    """The words at some places, with their time and captions; "…" where some were left out."""
    pieces: list[str] = []
    for number, place in enumerate(places):
        if number and place != places[number - 1] + 1:
            pieces.append("…")
        pieces.append(said[place].text)
    chosen = [said[place] for place in places]
    cues = tuple(dict.fromkeys(word.cue for word in chosen))
    return " ".join(pieces), min(w.start for w in chosen), max(w.end for w in chosen), cues


def item_of(one: Found, number: int, said: tuple[Word, ...]) -> Item:
    """An item from what was understood."""
    words, start, end, cues = stretch(places_of(one.spans), said)
    filled = [*one.filled]
    if one.kind == "move" and not one.open_said:
        filled.append("what was done is taken from what holds it or from the tool")
    grade: Grade = "doubtful" if one.doubts else "filled in" if filled else "said"
    return Item(
        number=number,
        kind=one.kind,
        words=words,
        start=start,
        end=end,
        cues=cues,
        grade=grade,
        reasons=(*dict.fromkeys((*one.doubts, *filled)), *one.notes),
        part=one.part,
        to=one.to,
        verb=one.verb,
        count=one.count,
        drive=one.drive_words,
        thread=one.thread,
        length_mm=one.length_mm,
        seconds=one.seconds,
        celsius=one.celsius,
        tools=tuple(dict.fromkeys(one.tools)),
        label=one.label,
        value=one.value if one.kind == "figure" else None,
        unit=one.unit,
        without=tuple(one.without),
        fact=one.fact,
    )


def passed(listening: Listening, said: tuple[Word, ...]) -> tuple[Passed, ...]:
    """All words that no item holds, in order, each stretch with why."""
    used = {place for one in listening.found for place in places_of(one.spans)}
    why = {place: one.why for one in listening.aside for place in places_of(one.spans)}
    rest = [place for place in range(len(said)) if place not in used]
    found: list[Passed] = []
    run: list[int] = []
    for place in [*rest, -1]:
        goes_on = run and place == run[-1] + 1 and reason(place, why) == reason(run[-1], why)
        if run and not goes_on:
            words, start, end, cues = stretch(run, said)
            found.append(Passed(words=words, start=start, end=end, cues=cues, why=reason(run[0], why)))
            run = []
        run.append(place)
    return tuple(found)


def reason(place: int, why: Mapping[int, str]) -> str:
    """Why a word became nothing."""
    return why.get(place, PLAIN)
