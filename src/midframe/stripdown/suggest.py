"""What probably comes next: joints within reach, parts that hold by nothing any more, terms of the trade."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

import msgspec

from midframe.record.model import Joint, Part, Record
from midframe.stripdown.done import LIFTS, Verb
from midframe.stripdown.state import BenchState
from midframe.stripdown.tell import details
from midframe.stripdown.words import folded, lexicon, term_of, verb_words

MOST = 12


class Suggestion(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that may be meant: `value` goes into the move, `text` is shown, `why` speaks for it."""

    kind: Literal["joint", "part", "term"]
    value: str
    text: str
    why: str = ""


def suggest(
    record: Record, state: BenchState, verb: Verb, typed: str = "", *, most: int = MOST
) -> tuple[Suggestion, ...]:
    """What may be meant, the likeliest first; what is typed must begin words of it.

    >>> from midframe.record.draft import begin
    >>> from midframe.stripdown.state import bench_state
    >>> record = begin("Tern", "phone")
    >>> [one.text for one in suggest(record, bench_state(record), "unscrew", "main")]
    ['Main board', 'Mid cover', 'Interconnect flex', 'Rear camera']
    """
    candidates = to_lift(record, state) if verb in LIFTS else to_open(record, state, verb_words()[verb].joins)
    possible = (*candidates, *new_terms(record))
    found: dict[str, Suggestion] = {}
    for ways in (own_words, other_words):
        for one in possible:
            if fits(ways(one), typed):
                found.setdefault(folded(one.text), one)
    return tuple(found.values())[:most]


def fits(ways: Iterable[str], typed: str) -> bool:
    """Whether each word typed begins a word of one of these ways of saying it."""
    words = folded(typed).split()
    return any(
        all(any(part.startswith(word) for part in folded(way).split()) for word in words) for way in ways
    )


def own_words(one: Suggestion) -> tuple[str, ...]:
    """What a suggestion is called."""
    return one.text, one.value


def other_words(one: Suggestion) -> tuple[str, ...]:
    """What else it may be called."""
    term = term_of(one.text)
    return () if term is None else (term.term, *term.said)


def to_open(record: Record, state: BenchState, kind: str | None) -> Iterator[Suggestion]:
    """Closed joints of the kind within reach, then parts still in place, then joints out of reach."""
    closed = [joint for joint in record.joints if joint.id not in state.state.open and joint.kind == kind]
    yield from (joint_line(joint, "within reach") for joint in closed if joint.id in state.reachable)
    yield from (part_line(part, "still in place") for part in in_place(record, state))
    yield from (joint_line(joint, "behind others") for joint in closed if joint.id not in state.reachable)


def to_lift(record: Record, state: BenchState) -> Iterator[Suggestion]:
    """Parts whose joints were just opened, then others that can be lifted, then those still held."""
    places = {entry.open: number for number, entry in enumerate(record.log) if entry.open}
    latest = {
        part: max((places.get(joint.id, -1) for joint in record.joints if joint.holds[0] == part), default=-1)
        for part in (one.id for one in record.parts)
    }
    there = sorted(in_place(record, state), key=lambda part: -latest[part.id])
    free = set(state.liftable)
    yield from (part_line(one, "free now") for one in there if one.id in free and latest[one.id] >= 0)
    yield from (part_line(one, "nothing holds it") for one in there if one.id in free and latest[one.id] < 0)
    yield from (part_line(one, "still held") for one in there if one.id not in free)


def in_place(record: Record, state: BenchState) -> Iterable[Part]:
    """Parts that are not aside, without the body."""
    return [part for part in record.parts if part.id not in (*state.aside, record.device.body)]


def new_terms(record: Record) -> Iterator[Suggestion]:
    """Terms of the trade for parts that the record does not have yet, in their usual order."""
    there = {term.term for part in record.parts if (term := term_of(part.name)) is not None}
    absent = set(record.device.absent)
    for term in lexicon().parts:
        if term.term not in there and term.role not in absent:
            yield Suggestion(kind="term", value=term.term, text=term.term, why="new part")


def joint_line(joint: Joint, why: str) -> Suggestion:
    """A joint as a suggestion."""
    words = details(joint)
    return Suggestion(kind="joint", value=joint.id, text=words[:1].upper() + words[1:], why=why)


def part_line(part: Part, why: str) -> Suggestion:
    """A part as a suggestion."""
    return Suggestion(kind="part", value=part.id, text=part.name, why=why)
