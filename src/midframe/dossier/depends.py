"""What the way to a part can depend on: the parts, joints and tools of a record that matter to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal, NamedTuple

from midframe.dossier.redesign import Subject
from midframe.record.model import Condition, Joint, Record
from midframe.record.structure import riders, seat_chain, seats
from midframe.ways.bench import Bench


class Need(NamedTuple):
    """One thing a way may do: put a part aside, move it along, carry a rider on `base`, open a joint."""

    what: Literal["aside", "moved", "carried", "open"]
    name: str
    base: str = ""


class Depends:
    """All that the best ways in to each part of a record, or the evidence from them, can depend on.

    Followed back from the target: a part that leaves depends on its rigid joints, on what lies over it, on
    what it rides on and on what may come along; an opening on what must be aside before it.

    Two things are left out because a best way does without them. A tether holds nothing down, so it is opened
    for the target (or its bundle) only. A part that rides on another leaves with it; it is taken off before
    only where a condition names it, where its own condition cannot be met while it rides, or where it is
    joined to something that stays. A needless move may be left out of any way, and the way costs no more: a
    removal that is saved pays for the one change of tools it may have let pass free.
    """

    def __init__(self, record: Record, bench: Bench) -> None:
        self.body = record.device.body
        self.parts = {part.id: part for part in record.parts}
        self.joints = {joint.id: joint for joint in record.joints}
        self.orders = record.orders
        self.bench = bench
        self.seat_of = seats(record)
        self.riders = riders(record)
        self.holding: dict[str, list[Joint]] = {part: [] for part in self.parts}
        for joint in record.joints:
            for part in joint.holds:
                self.holding[part].append(joint)

    def of(self, target: str) -> frozenset[Subject]:
        """Everything the target depends on, itself included; the body is left out."""
        done: set[Need] = set()
        left = [*self._goal(target), *self._documented(target)]
        while left:
            need = left.pop()
            if need in done or need.name == self.body:
                continue
            done.add(need)
            left.extend(self._next(need))
        return frozenset(subject for need in done for subject in self._subjects(need))

    def _goal(self, target: str) -> Iterator[Need]:
        """The target and its bundle aside, all that leads from them open."""
        bundle = {target, *self.parts[target].bundle}
        for part in bundle:
            yield Need("aside", part)
            for joint in self.holding[part]:
                if not bundle.issuperset(joint.holds):
                    yield Need("open", joint.id)

    def _documented(self, target: str) -> Iterator[Need]:
        """What its documented orders do, needed or not."""
        for move in (move for order in self.orders if order.target == target for move in order.moves):
            if move.open in self.joints:
                yield Need("open", move.open)
            for part in move.lift:
                if part in self.parts:
                    yield Need("moved", part)

    def _next(self, need: Need) -> Iterator[Need]:
        match need.what:
            case "open":
                yield from asides(self.joints[need.name].behind)
            case "aside":
                yield Need("moved", need.name)
                for carrier in seat_chain(need.name, self.seat_of)[1:]:
                    yield Need("aside", carrier)
            case "moved":
                yield from asides(self.parts[need.name].under)
                yield from self._detached(need.name, self.riders[need.name])
                for rider in self.riders[need.name] - {need.name}:
                    yield Need("carried", rider, need.name)
            case "carried":
                along = self.riders[need.base]
                under = self.parts[need.name].under
                if not any(along.issuperset(alternative) for alternative in under):
                    yield from asides(under)
                yield from self._detached(need.name, along)

    def _detached(self, part: str, along: frozenset[str]) -> Iterator[Need]:
        """The rigid joints that hold a part to more than what comes along, and what they hold."""
        for joint in self.holding[part]:
            if not joint.tether and not along.issuperset(joint.holds):
                yield Need("open", joint.id)
                for other in joint.holds:
                    if other not in along:
                        yield Need("moved", other)

    def _subjects(self, need: Need) -> Iterator[Subject]:
        if need.what == "open":
            yield "joint", need.name
            for work in self.bench.operations(self.joints[need.name]):
                yield from tools(tool for step in work for tool in step.tools)
        else:
            yield "part", need.name
            lift = self.parts[need.name].lift
            yield from tools(lift.tools if lift else ())


def tools(names: Iterable[str]) -> Iterator[Subject]:
    """Tools as subjects."""
    return (("tool", name) for name in names)


def asides(condition: Condition) -> Iterator[Need]:
    """Every part that a condition names, put aside."""
    return (Need("aside", part) for alternative in condition for part in alternative)
