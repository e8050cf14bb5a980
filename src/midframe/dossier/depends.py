"""What the way to a part can depend on: the parts, joints and tools of a record that matter to it."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.dossier.redesign import Subject
from midframe.record.model import Condition, Record
from midframe.record.structure import riders, seat_chain, seats
from midframe.ways.bench import Bench


class Depends:
    """All that the ways in to each part of a record, or the evidence from them, can depend on.

    A part depends on the joints that hold it, on what must be aside before it can be lifted, on what it
    carries or rides on, and on what is joined to it rigidly and so may come along; a joint on what must be
    aside before it can be opened. Nothing else can be in a way, and an edit of anything else leaves it alone.
    """

    def __init__(self, record: Record, bench: Bench) -> None:
        self.body = record.device.body
        self.parts = {part.id: part for part in record.parts}
        self.joints = {joint.id: joint for joint in record.joints}
        self.bench = bench
        self.seat_of = seats(record)
        self.riders = riders(record)
        self.holding: dict[str, list[str]] = {part: [] for part in self.parts}
        for joint in record.joints:
            for part in joint.holds:
                self.holding[part].append(joint.id)

    def of(self, target: str) -> frozenset[Subject]:
        """Everything the target depends on, itself included; the body is left out."""
        found: set[Subject] = set()
        left: list[Subject] = [("part", target)]
        while left:
            subject = left.pop()
            if subject in found or subject == ("part", self.body):
                continue
            found.add(subject)
            left.extend(self._next(subject))
        return frozenset(found)

    def _next(self, subject: Subject) -> Iterator[Subject]:
        kind, name = subject
        if kind == "part":
            part = self.parts[name]
            for other in (
                *named(part.under),
                *part.bundle,
                *self.riders[name],
                *seat_chain(name, self.seat_of),
            ):
                yield "part", other
            for joint in self.holding[name]:
                yield "joint", joint
            for tool in part.lift.tools if part.lift else ():
                yield "tool", tool
        elif kind == "joint":
            joined = self.joints[name]
            for other in (*named(joined.behind), *(() if joined.tether else joined.holds)):
                yield "part", other
            for work in self.bench.operations(joined):
                for step in work:
                    for tool in step.tools:
                        yield "tool", tool


def named(condition: Condition) -> Iterator[str]:
    """Every part that a condition names."""
    return (part for alternative in condition for part in alternative)
