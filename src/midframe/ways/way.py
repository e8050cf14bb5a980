"""What the search answers: a way in, how good it is, and why each move is in it."""

from __future__ import annotations

import msgspec

from midframe.record.model import Move, Record
from midframe.ways.count import Count
from midframe.ways.objective import Objective
from midframe.ways.rules import Rules, State

USUAL_LIMIT = 4000
"""States after which the search for a target gives the best way it has, with its bound; `None`: no end."""


class Way(msgspec.Struct, frozen=True):
    """A way in to one target.

    `value` is what was minimised, one whole number per term of the objective
    (ticks); `gap` says how far below it, in the last term that differs, the
    proven bound lies: 0 means that no cheaper way exists under the rules.
    """

    target: str
    bundle: tuple[str, ...]
    objective: Objective
    moves: tuple[Move, ...]
    count: Count
    value: tuple[int, ...]
    proven: bool
    bound: tuple[int, ...]
    states: int

    @property
    def steps(self) -> int:
        """Steps of the regulation [lbl-2023-1669, Annex I (20)]."""
        return len(self.count.steps)

    @property
    def seconds(self) -> float:
        """Median seconds, tool changes and turning included."""
        return self.count.seconds

    @property
    def money(self) -> float:
        """Labour, renewals and expected breakage, in the record's currency."""
        return self.count.money


class NoWayFound(msgspec.Struct, frozen=True):
    """A target that no sequence of moves gets out, and why as far as the search can say."""

    target: str
    reason: str


def whys(
    record: Record, moves: tuple[Move, ...], target: str, rules: Rules | None = None
) -> tuple[tuple[int, ...], ...]:
    """For each move the numbers (from 1) of later moves that directly need it; 0: the target being out."""
    rules = rules or Rules(record)
    states = [State()]
    for move in moves:
        states.append(rules.apply(states[-1], move))
    return tuple(needed_by(rules, moves, states, index, target) for index in range(len(moves)))


def needed_by(
    rules: Rules, moves: tuple[Move, ...], states: list[State], index: int, target: str
) -> tuple[int, ...]:
    """Later moves that are forbidden, or do less, when only this one had not been made."""
    opened = states[index + 1].open - states[index].open
    aside = states[index + 1].aside - states[index].aside
    needing = []
    for later in range(index + 1, len(moves)):
        before = State(states[later].open - opened, states[later].aside - aside)
        if not holds(rules, before, moves[later], states[later + 1].aside - states[later].aside):
            needing.append(later + 1)
    end = State(states[-1].open - opened, states[-1].aside - aside)
    if not rules.out(end, target):
        needing.append(0)
    return tuple(needing)


def holds(rules: Rules, before: State, move: Move, gained: frozenset[str]) -> bool:
    """Whether a move is allowed in a state and puts aside at least what it did."""
    if move.open:
        return rules.may_open(before, move.open) is None
    return rules.may_lift(before, move.lift[0]) is None and gained <= rules.put_aside(
        before, rules.group(before, move.lift[0])
    )


def untouched(record: Record, way: Way) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Parts never lifted and joints never opened, in the order of the record."""
    moved = {part for move in way.count.moves for part in move.group}
    opened = {move.open for move in way.moves}
    return (
        tuple(part.id for part in record.parts if part.id not in moved and part.id != record.device.body),
        tuple(joint.id for joint in record.joints if joint.id not in opened),
    )
