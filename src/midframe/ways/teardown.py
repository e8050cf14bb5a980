"""Everything taken apart: a legal sequence of moves from the closed device until nothing more can be done."""

from __future__ import annotations

from collections.abc import Iterable

from midframe.record.model import Move, Record
from midframe.ways.rules import Rules, State


def teardown(record: Record, start: Iterable[Move] = ()) -> tuple[Move, ...]:
    """Moves that open every joint and lift every part that the rules let go, after those of `start`.

    What can be lifted leaves before more is opened, both in the order of the record. Each joint is
    opened once. Raises `IllegalMove` where `start` is no legal sequence.
    """
    rules = Rules(record)
    moves = list(start)
    state = rules.replay(moves)
    while (move := next_move(rules, state)) is not None:
        state = rules.apply(state, move)
        moves.append(move)
    return tuple(moves)


def next_move(rules: Rules, state: State) -> Move | None:
    """The first lift that can be made, else the first joint that can be opened, else nothing."""
    for part in rules.parts:
        if part not in state.aside and part != rules.body and rules.may_lift(state, part) is None:
            return Move(lift=(part,))
    for joint in rules.joints:
        if joint not in state.open and rules.may_open(state, joint) is None:
            return Move(open=joint)
    return None
