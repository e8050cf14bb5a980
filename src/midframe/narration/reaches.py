"""What need not come out: "you don't have to take the main board out to get at the battery"."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.narration.clauses import soft
from midframe.narration.tagging import Span

FAR = 14
"""So many spans around the words "don't have to" are looked at (house choice)."""


class Said(msgspec.Struct, frozen=True):
    """Which spans say it, the part that is meant to come out, the parts that need not; names may be bare."""

    first: int
    end: int
    part: Span | None
    without: tuple[Span, ...]
    pronoun: bool = False


def reach_in(spans: Sequence[Span]) -> Said | None:
    """The first reach that a sentence tells, `None` where it tells none."""
    place = next((number for number, span in enumerate(spans) if span.mark("needless", "stays")), None)
    if place is None:
        return None
    first, end = window(spans, place)
    stays = spans[place].mark("stays")
    named = [number for number in range(first, end) if spans[number].kind("part", "bare")]
    goal = place if spans[place].text.endswith(" of") else goal_in(spans, first, end, place)
    aimed = next((number for number in named if goal is not None and number > goal), None)
    if goal is not None and goal < place and aimed is not None and aimed > place:
        aimed = None
    before = [number for number in named if number < place]
    led = any(spans[number].kind("verb") or spans[number].mark("goal") for number in range(first, place))
    if aimed is None and before and spans[place].text.startswith("without"):
        aimed = before[-1]
    elif aimed is None and before and led and not stays and len(before) < len(named):
        aimed = before[0]
    if aimed is None and stays and len(before) > 1 and acts_between(spans, before):
        aimed = before[0]
    without = kept_back(named, place, goal, aimed, stays=stays)
    pronoun = stays and not without and any(span.mark("pronoun") for span in spans[first:place])
    if not (without or pronoun) or (stays and aimed is None):
        return None
    used = max([place, *without, *([aimed] if aimed is not None else [])])
    stop = next((number for number in range(used + 1, end) if soft(spans[number])), end)
    part = spans[aimed] if aimed is not None else None
    return Said(first, stop, part, tuple(spans[number] for number in without), pronoun)


def acts_between(spans: Sequence[Span], named: Sequence[int]) -> bool:
    """Whether something is done to the first part: "the battery comes out while the display stays"."""
    return any(span.kind("verb") for span in spans[named[0] : named[1]])


def window(spans: Sequence[Span], place: int) -> tuple[int, int]:
    """The spans that can belong to it: the clause before, up to a "then", and so many after it."""
    first = place
    while first and place - first < FAR and not spans[first - 1].mark("then"):
        first -= 1
    end = place + 1
    while (
        end < len(spans)
        and end - place < FAR
        and not (spans[end].mark("then") and spans[end - 1].text != "¦")
    ):
        end += 1
    return first, end


def goal_in(spans: Sequence[Span], first: int, end: int, place: int) -> int | None:
    """The place of the words that lead to the part that is meant to come out."""
    found = [
        number
        for number in range(first, end)
        if number != place and spans[number].mark("goal") and not spans[number].kind("verb")
    ]
    strong = [number for number in found if spans[number].text != "for"]
    weak = [
        number
        for number in found
        if any(span.kind("part", "bare") for span in spans[number + 1 : number + 3])
    ]
    chosen = strong or weak
    return chosen[-1] if chosen else None


def kept_back(
    named: Sequence[int], place: int, goal: int | None, aimed: int | None, *, stays: bool
) -> list[int]:
    """The places of the parts that need not come out."""
    others = [number for number in named if number != aimed]
    after = [
        number for number in others if number > place and not (goal is not None and place < goal < number)
    ]
    if stays:
        return [number for number in others if number < place][-1:] or after[:1]
    return after
