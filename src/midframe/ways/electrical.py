"""Electrical joints: a battery's connector, those that are opened live, and the cautions they carry."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.record.model import Joint, Move, Record
from midframe.ways.bench import Bench
from midframe.ways.count import ruined_by

ELECTRICAL = ("connector", "solder")
"""Kinds of joint that carry current."""


class Caution(msgspec.Struct, frozen=True):
    """A move (number from 1) that opens an electrical joint while a cell is still connected."""

    move: int
    joint: str
    text: str


def cells(record: Record) -> tuple[str, ...]:
    """Parts that are batteries, in the order of the record."""
    return tuple(part.id for part in record.parts if "battery" in (part.role, *part.also))


def cell_connectors(record: Record) -> tuple[str, ...]:
    """Electrical joints that lead from a cell to anything that is not a cell, in the order of the record."""
    batteries = frozenset(cells(record))
    return tuple(
        joint.id
        for joint in record.joints
        if joint.kind in ELECTRICAL
        and not batteries.isdisjoint(joint.holds)
        and not batteries.issuperset(joint.holds)
    )


def live_joints(record: Record) -> frozenset[str]:
    """Electrical joints that are no connector of a cell."""
    own = cell_connectors(record)
    return frozenset(joint.id for joint in record.joints if joint.kind in ELECTRICAL and joint.id not in own)


def opening(joint: Joint, bench: Bench) -> Move:
    """The move that opens a joint by the alternative that ruins and takes least."""

    def taken(by: int) -> tuple[int, float]:
        work = bench.operations(joint)[by - 1]
        return len(ruined_by(joint, work)), sum(step.seconds or 0.0 for step in work)

    return Move(open=joint.id, by=min(range(1, len(bench.operations(joint)) + 1), key=taken))


def cautions_of(record: Record, moves: Sequence[Move]) -> tuple[Caution, ...]:
    """A caution for every live joint opened while a cell of the record is still connected."""
    connectors, live = set(cell_connectors(record)), live_joints(record)
    kinds = {joint.id: joint.kind for joint in record.joints}
    found = []
    for number, move in enumerate(moves, start=1):
        connectors.discard(move.open)
        if move.open in live and (connectors or not cell_connectors(record)):
            noun = "connector" if kinds[move.open] == "connector" else "solder joint"
            found.append(Caution(number, move.open, f"device off; this {noun} is opened live"))
    return tuple(found)
