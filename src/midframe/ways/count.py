"""Counting any sequence of moves: steps with the rule behind each, seconds, money, tools, renewals."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from midframe.record.model import Face, Joint, Move, Operation, Part, Record
from midframe.ways.bench import CONSUMABLES, Bench, lift_face
from midframe.ways.posture import Posture, advance, start, tail, uses_of
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules, State

TICK = 1000
"""Ticks per unit: seconds, money and risk are compared in whole thousandths, so that ties are exact."""


def ticks(value: float) -> int:
    """A figure in whole thousandths."""
    return round(value * TICK)


class Step(msgspec.Struct, frozen=True):
    """One step of the regulation: its number, what ends it, the number of the move it ends in (from 1)."""

    number: int
    ends_with: str
    move: int


class CountedMove(msgspec.Struct, frozen=True):
    """One move with all it takes.

    `group` are the parts that leave together, `aside` those that leave their
    seat with it; `steps` the kinds of step counted in it; seconds are medians.
    """

    move: Move
    operations: tuple[Operation, ...]
    face: Face | None
    flipped: bool
    group: tuple[str, ...]
    aside: tuple[str, ...]
    steps: tuple[str, ...]
    work_seconds: float
    change_seconds: float
    flip_seconds: float
    default_times: bool

    @property
    def seconds(self) -> float:
        """Work, tool changes and turning of the device together, seconds."""
        return self.work_seconds + self.change_seconds + self.flip_seconds


class Count(msgspec.Struct, frozen=True):
    """A sequence counted: moves, steps, and the sums. Money is in the record's currency.

    `money` = labour + renewals + breakage: seconds at the bench's wage, prices
    of parts and of what must be renewed, and chance of harm times price.
    """

    moves: tuple[CountedMove, ...]
    steps: tuple[Step, ...]
    seconds: float
    labour_per_hour: float
    renewals_ticks: int
    breakage_ticks: int
    ruined: tuple[str, ...]
    renewed_joints: tuple[str, ...]
    tools: tuple[str, ...]
    consumables: tuple[str, ...]
    readings: tuple[str, ...]
    unpriced: tuple[str, ...] = ()

    @property
    def labour(self) -> float:
        """Seconds at the bench's wage, in the record's currency."""
        return self.seconds * self.labour_per_hour / 3600.0

    @property
    def renewals_price(self) -> float:
        """Prices of ruined parts and of what opened joints need new."""
        return self.renewals_ticks / TICK

    @property
    def breakage(self) -> float:
        """Expected cost of harm: chance times price, summed over operations."""
        return self.breakage_ticks / TICK

    @property
    def money(self) -> float:
        """Labour, renewals and expected breakage together."""
        return self.labour + self.renewals_price + self.breakage


class Prices(msgspec.Struct, frozen=True):
    """Prices of parts and of what a joint needs new, by id; what has none is absent."""

    parts: dict[str, float]
    joints: dict[str, float]

    @classmethod
    def of(cls, record: Record) -> Prices:
        """The prices a record gives."""
        parts = {part.id: part.price for part in record.parts if part.price is not None}
        renewed = [(joint.id, joint.renew.price) for joint in record.joints if joint.renew is not None]
        joints = {joint: price for joint, price in renewed if price is not None}
        return cls(parts, joints)


def consumables_of(record: Record) -> frozenset[str]:
    """Names of what is used up: the known ones and those the record marks."""
    return CONSUMABLES | {tool.name for tool in record.tools if tool.consumable}


def ruined_by(joint: Joint, work: Sequence[Operation]) -> tuple[str, ...]:
    """Parts that opening this joint this way always costs."""
    return tuple(dict.fromkeys([*joint.ruins, *(part for step in work for part in step.ruins)]))


def lead_of(roots: Sequence[str], parts: Mapping[str, Part], bench: Bench) -> Part:
    """The part that sets tools, seconds and face of a lift: the slowest of those that leave together."""
    return max((parts[root] for root in roots), key=lambda part: bench.lift_operation(part).seconds or 0.0)


def count(
    record: Record,
    moves: Iterable[Move],
    readings: Readings | None = None,
    bench: Bench | None = None,
) -> Count:
    """Count a sequence of moves from the closed device; `IllegalMove` where the rules forbid one.

    Works on any sequence, a computed way or a documented order [lbl-2023-1669,
    Annex I (20), Annex IV point 5: C1, C3, C4, C6, C7; readings Q1–Q6].
    """
    return Counter(record, readings or Readings(), bench or Bench()).count(moves)


class Counter:
    """The counting of one record under one set of readings and one bench; reusable for many sequences."""

    def __init__(self, record: Record, readings: Readings, bench: Bench, rules: Rules | None = None) -> None:
        self.record, self.readings, self.bench = record, readings, bench
        self.rules = rules or Rules(record)
        self.consumables = consumables_of(record)
        self.prices = Prices.of(record)

    def count(self, moves: Iterable[Move]) -> Count:
        """Count the moves in order."""
        state, at = State(), start(self.bench)
        done: list[CountedMove] = []
        for move in moves:
            after = self.rules.apply(state, move)
            counted, at = self.one(move, state, after, at)
            done.append(counted)
            state = after
        return self.summed(done, at)

    def one(self, move: Move, before: State, after: State, at: Posture) -> tuple[CountedMove, Posture]:
        """One legal move counted from a posture."""
        group: tuple[str, ...] = ()
        if move.open:
            joint = self.rules.joints[move.open]
            operations = self.bench.operations(joint)[move.by - 1]
            face, kind, default = joint.face, joint.kind, self.bench.work_is_default(joint, move.by)
        else:
            members = self.rules.group(before, move.lift[0])
            group = tuple(part for part in self.rules.parts if part in members)
            lead = lead_of(self.rules.roots(members), self.rules.parts, self.bench)
            operations = (self.bench.lift_operation(lead),)
            face, kind, default = lift_face(lead, self.record.joints), None, self.bench.lift_is_default(lead)
        steps: list[str] = []
        change = flip = 0.0
        for use in uses_of(operations, face, self.readings, joint_kind=kind, consumables=self.consumables):
            at, added = advance(at, use, self.readings, self.bench)
            steps += added.steps
            change += added.change_seconds
            flip += added.flip_seconds
        work = sum(operation.seconds or 0.0 for operation in operations)
        aside = tuple(part for part in self.rules.parts if part in after.aside - before.aside)
        taken = (tuple(steps), work, change, flip, default)
        return CountedMove(move, operations, face, flip > 0, group, aside, *taken), at

    def summed(self, done: list[CountedMove], at: Posture) -> Count:
        """The sums over counted moves that end in a posture."""
        kinds = [(kind, number) for number, move in enumerate(done, start=1) for kind in move.steps]
        if tail(at, self.readings):
            kinds.append(("last openings", len(done)))
        seconds = sum(move.seconds for move in done)
        opened = [(self.rules.joints[m.move.open], m.operations) for m in done if m.move.open]
        ruined = tuple(dict.fromkeys(part for joint, work in opened for part in ruined_by(joint, work)))
        renewed = tuple(joint.id for joint, _ in opened if joint.renew is not None)
        names = [tool for move in done for step in move.operations for tool in step.tools]
        priced = [self.prices.parts.get(part) for part in ruined]
        priced += [self.prices.joints.get(joint) for joint in renewed]
        return Count(
            moves=tuple(done),
            steps=tuple(Step(number, kind, move) for number, (kind, move) in enumerate(kinds, start=1)),
            seconds=seconds,
            labour_per_hour=self.bench.labour_per_hour,
            renewals_ticks=sum(ticks(price) for price in priced if price is not None),
            breakage_ticks=sum(self.breakage(step) for move in done for step in move.operations),
            ruined=ruined,
            renewed_joints=renewed,
            tools=tuple(dict.fromkeys(name for name in names if name not in self.consumables)),
            consumables=tuple(dict.fromkeys(name for name in names if name in self.consumables)),
            readings=self.readings.described(),
            unpriced=tuple(
                name for name, price in zip([*ruined, *renewed], priced, strict=True) if price is None
            ),
        )

    def breakage(self, step: Operation) -> int:
        """Chance of harm times the price of what would be harmed, for one operation, in ticks."""
        return ticks(step.risk * sum(self.prices.parts.get(part, 0.0) for part in step.harms))
