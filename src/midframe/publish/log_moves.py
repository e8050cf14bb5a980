"""The moves of a log made fit to be gone back, where the hand did what the record does not allow."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.faults import IllegalMove, UnknownPart
from midframe.publish.names import title_of
from midframe.publish.refit import moves_of_log
from midframe.record import Record
from midframe.record.model import Move
from midframe.ways.rules import Rules, State


class LogMoves(msgspec.Struct, frozen=True):
    """Moves that the rules allow, one after the other.

    `put_in` names joints that nobody logged, but that must be open because a part was lifted;
    `left_out` are logged moves that cannot be gone back, in words.
    """

    moves: tuple[Move, ...]
    put_in: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


def log_moves(record: Record, until: int | None = None) -> LogMoves:
    """The moves of the bench log, made fit to be gone back.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> found = log_moves(record)
    >>> found.moves == moves_of_log(record), found.put_in, found.left_out
    (True, (), ())
    """
    return made_fit(record, moves_of_log(record, until))


def made_fit(record: Record, moves: Iterable[Move]) -> LogMoves:
    """Moves with what must have been open put in, and what is against the record all the same left out."""
    rules, state = Rules(record), State()
    kept: list[Move] = []
    put_in: list[str] = []
    left_out: list[str] = []
    for move in moves:
        if move.open in state.open or (move.lift and state.aside.issuperset(move.lift)):
            continue
        first, after = opened_before(rules, state, move), state
        try:
            for one in (*first, move):
                after = rules.apply(after, one)
        except (IllegalMove, UnknownPart):
            left_out.append(in_words(rules, move))
            continue
        state = after
        kept += [*first, move]
        put_in += [title_of(rules.joints[one.open]) for one in first]
    return LogMoves(tuple(kept), tuple(put_in), tuple(left_out))


def opened_before(rules: Rules, state: State, move: Move) -> tuple[Move, ...]:
    """What must be open for a lift and is not: the rigid joints that still hold what is lifted."""
    if not move.lift or move.lift[0] not in rules.parts or rules.may_lift(state, move.lift[0]) is None:
        return ()
    group = set(move.lift)
    return tuple(
        Move(open=joint.id)
        for joint in rules.rigid
        if joint.id not in state.open and group & set(joint.holds) and not group.issuperset(joint.holds)
    )


def in_words(rules: Rules, move: Move) -> str:
    """A logged move in words."""
    if move.open:
        joint = rules.joints.get(move.open)
        return f"open {title_of(joint) if joint else move.open}"
    return f"lift {' and '.join(rules.parts[one].name if one in rules.parts else one for one in move.lift)}"
