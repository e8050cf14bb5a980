"""Kinds that can be mistaken for each other: they enter each other's holes, or one bit turns both."""

from __future__ import annotations

from itertools import combinations

import msgspec

from midframe.record.model import Record
from midframe.screws.drives import turned_alike
from midframe.screws.kinds import Kind, KindLine, tally
from midframe.screws.threads import starts_in


class Mistaken(msgspec.Struct, frozen=True):
    """Two kinds that fit each other's holes, most alike first.

    `bit` is how one bit turns both: "fits" (nothing stops the hand), "loose", "unknown" or "no" (the
    drive tells them apart). `told_apart_by` names what differs: length, head, drive, thread.
    `shorter` and `longer` are letters; equal lengths keep the order of the tally.
    """

    shorter: str
    longer: str
    length_difference_mm: float | None
    told_apart_by: tuple[str, ...]
    bit: str
    thread: str
    """"same", or "near": the thinner one bites askew in the hole of the thicker one."""


def mistaken(record: Record) -> tuple[Mistaken, ...]:
    """Every pair of kinds whose threads take each other, the hardest to tell apart first.

    Hardest: one bit turns both, same head, least difference in length (common practice, no source).

    >>> from midframe import demo
    >>> first = mistaken(demo.load("tern-2"))[0]
    >>> first.shorter, first.longer, first.length_difference_mm, first.told_apart_by
    ('C', 'F', 0.2, ('length',))
    """
    found = [
        pair
        for one, other in combinations(tally(record).kinds, 2)
        if (pair := pair_of(one, other)) is not None
    ]
    return tuple(sorted(found, key=likeness))


def likeness(pair: Mistaken) -> tuple[bool, int, bool, float]:
    """The order of the list: thread, bit, head, then length."""
    order = ("fits", "loose", "unknown", "no")
    unlike = 99.0 if pair.length_difference_mm is None else pair.length_difference_mm
    return pair.thread != "same", order.index(pair.bit), "head" in pair.told_apart_by, unlike


def pair_of(one: KindLine, other: KindLine) -> Mistaken | None:
    """Two kinds as a pair, if one of them enters the hole of the other and the hand may not notice."""
    thread = threads_meet(one.kind, other.kind)
    bit = turned_alike(one.kind.drive, other.kind.drive)
    if thread == "" or (thread == "near" and bit == "no"):
        return None
    lengths = one.kind.length_mm, other.kind.length_mm
    difference = None if None in lengths else abs(lengths[0] - lengths[1])  # type: ignore[operator]
    if difference is not None and lengths[0] > lengths[1]:  # type: ignore[operator]
        one, other = other, one
    return Mistaken(
        one.letter,
        other.letter,
        None if difference is None else round(difference, 6),
        differences(one.kind, other.kind),
        bit,
        thread,
    )


def threads_meet(one: Kind, other: Kind) -> str:
    """Whether threads are the "same", "near" or neither; others are compared by their words."""
    a, b = one.metric, other.metric
    if a is None or b is None:
        return "same" if one.thread and one.thread.casefold() == other.thread.casefold() else ""
    if a == b:
        return "same"
    return "near" if "askew" in (starts_in(a, b), starts_in(b, a)) else ""


def differences(one: Kind, other: Kind) -> tuple[str, ...]:
    """What two kinds differ in, as far as both say it."""
    words = {"length": "length_mm", "head": "head", "drive": "drive", "thread": "thread"}
    return tuple(word for word, name in words.items() if getattr(one, name) != getattr(other, name))
