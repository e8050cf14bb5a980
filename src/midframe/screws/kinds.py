"""Kinds of screws in a record, their groups, and the tally by kind and by cover."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from midframe.record.model import Joint, Record
from midframe.record.structure import seats
from midframe.screws.threads import Thread, thread_of


class Kind(msgspec.Struct, frozen=True, order=True):
    """What makes screws alike: drive, thread, head, length. What the record does not say is empty."""

    drive: str
    thread: str
    head: str
    length_mm: float | None

    def __str__(self) -> str:
        """Give the kind as a shop would write it; what is not known is left out.

        >>> str(Kind("hexalobular 4", "M1.4", "pan", 4.0)), str(Kind("hexalobular 4", "", "", 3.0))
        ('M1.4×4 pan, hexalobular 4', '3 mm, hexalobular 4')
        """
        length = "" if self.length_mm is None else f"{self.length_mm:g}"
        if self.thread:
            size = f"{self.thread}×{length}" if length else self.thread
        else:
            size = f"{length} mm" if length else ""
        told = " ".join(filter(None, (size, self.head)))
        return ", ".join(filter(None, (told, self.drive))) or "screw of unknown kind"

    @property
    def metric(self) -> Thread | None:
        """The metric thread, where the record names one whose pitch is known."""
        return thread_of(self.thread)

    @property
    def complete(self) -> bool:
        """Whether thread, length and drive are all known."""
        return bool(self.drive and self.metric and self.length_mm is not None)


class Group(msgspec.Struct, frozen=True):
    """The screws of one joint: how many, of which kind, from which cover, at which places."""

    joint: str
    cover: str
    letter: str
    kind: Kind
    count: int
    counted: bool
    """Whether the record says the count; else it is one at least."""
    spots_mm: tuple[tuple[float, float], ...]
    hole_depth_mm: float | None

    @property
    def without_place(self) -> int:
        """How many of its screws have no place on the plan."""
        return max(0, self.count - len(self.spots_mm))


class KindLine(msgspec.Struct, frozen=True):
    """One kind in the tally: its letter, how many, in which joints."""

    letter: str
    kind: Kind
    count: int
    joints: tuple[str, ...]


class CoverLine(msgspec.Struct, frozen=True):
    """One cover in the tally: the part that its screws hold, and how many of which letter."""

    part: str
    name: str
    count: int
    kinds: tuple[tuple[str, int], ...]


class Tally(msgspec.Struct, frozen=True):
    """All screws of a device.

    `uncounted` are joints whose count the record does not say (each counts as one), `unclear` those
    that lack thread, length or drive: nothing can be said about what they fit.
    """

    count: int
    kinds: tuple[KindLine, ...]
    covers: tuple[CoverLine, ...]
    groups: tuple[Group, ...]
    uncounted: tuple[str, ...]
    unclear: tuple[str, ...]
    without_place: int


def letter_of(number: int) -> str:
    """The letters of the alphabet, then pairs of them.

    >>> letter_of(0), letter_of(25), letter_of(26), letter_of(27)
    ('A', 'Z', 'AA', 'AB')
    """
    head, tail = divmod(number, 26)
    return (letter_of(head - 1) if head else "") + chr(ord("A") + tail)


def kind_of(joint: Joint) -> Kind:
    """The kind of the screws of a joint."""
    drive, head = (" ".join(text.casefold().split()) for text in (joint.drive, joint.head))
    thread = thread_of(joint.thread)
    return Kind(drive, str(thread) if thread else joint.thread.strip(), head, joint.length_mm)


def cover_of(record: Record, joint: Joint) -> str:
    """The part that the screws hold down: the one whose seat is another part of the joint.

    Where none is, the first that is not the body.
    """
    seat_of = seats(record)
    for part in joint.holds:
        if seat_of.get(part) in joint.holds and part != record.device.body:
            return part
    return next((part for part in joint.holds if part != record.device.body), joint.holds[0])


def groups(record: Record) -> tuple[Group, ...]:
    """The screw joints in the order of the record, each kind with a letter in order of appearance."""
    return tuple(found_groups(record))


def found_groups(record: Record) -> Iterator[Group]:
    """The groups one after the other."""
    letters: dict[Kind, str] = {}
    for joint in record.joints:
        if joint.kind == "screw":
            kind = kind_of(joint)
            letter = letters.setdefault(kind, letter_of(len(letters)))
            count = max(joint.count or 1, len(joint.spots_mm))
            known = joint.count is not None or bool(joint.spots_mm)
            cover = cover_of(record, joint)
            spots = joint.spots_mm
            yield Group(joint.id, cover, letter, kind, count, known, spots, joint.hole_depth_mm)


def tally(record: Record) -> Tally:
    """Count the screws by kind and by cover.

    >>> from midframe import demo
    >>> found = tally(demo.load("tern-3"))
    >>> found.count, [(line.letter, str(line.kind), line.count) for line in found.kinds][:2]
    (36, [('A', 'M1.4×4 pan, hexalobular 4', 10), ('B', 'M1.4×2.5 pan, hexalobular 4', 8)])
    """
    found = groups(record)
    by_letter: dict[str, list[Group]] = {}
    by_cover: dict[str, list[Group]] = {}
    for group in found:
        by_letter.setdefault(group.letter, []).append(group)
        by_cover.setdefault(group.cover, []).append(group)
    names = {part.id: part.name for part in record.parts}
    return Tally(
        count=sum(group.count for group in found),
        kinds=tuple(
            KindLine(letter, alike[0].kind, sum(g.count for g in alike), tuple(g.joint for g in alike))
            for letter, alike in by_letter.items()
        ),
        covers=tuple(cover_line(part, names.get(part, part), held) for part, held in by_cover.items()),
        groups=found,
        uncounted=tuple(group.joint for group in found if not group.counted),
        unclear=tuple(group.joint for group in found if not group.kind.complete),
        without_place=sum(group.without_place for group in found),
    )


def cover_line(part: str, name: str, held: list[Group]) -> CoverLine:
    """The screws of one cover, like kinds together."""
    counts: dict[str, int] = {}
    for group in held:
        counts[group.letter] = counts.get(group.letter, 0) + group.count
    return CoverLine(part, name, sum(counts.values()), tuple(counts.items()))
