"""The way back, as the plain reverse of a way in, checked at every state by the rules of the moves."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.faults import IllegalMove
from midframe.record.model import Move, Record
from midframe.ways.rules import Rules, State, listed


class BackMove(msgspec.Struct, frozen=True):
    """One move of the way back: a joint closed, or parts put in their place.

    `of` is the number of the move in that it undoes. `place` names the parts that take their seats
    with it, the one that is gripped first.
    """

    of: int
    close: str = ""
    place: tuple[str, ...] = ()


def backward(record: Record, moves: Iterable[Move]) -> tuple[BackMove, ...]:
    """The reverse of a way: every opened joint closed once, every part that left put back.

    Raises `IllegalMove` where the moves are no legal way in, or where a state on the way back cannot
    be closed.
    """
    rules = Rules(record)
    state = State()
    back: list[BackMove] = []
    for number, move in enumerate(moves, start=1):
        after = rules.apply(state, move)
        if move.open:
            back.append(BackMove(number, close=move.open))
        else:
            seated = after.aside - state.aside
            lead = [part for part in move.lift if part in seated]
            rest = [part for part in rules.parts if part in seated and part not in lead]
            back.append(BackMove(number, place=(*lead, *rest)))
        state = after
    back.reverse()
    replay_back(rules, state, back)
    return tuple(back)


def replay_back(rules: Rules, state: State, back: Iterable[BackMove]) -> State:
    """The state after a way back; raises `IllegalMove` at the first move that cannot be made.

    A joint can be closed where it could be opened again at once: its reach is still free. Parts can
    take their seats where they could leave them again at once, together and by themselves.
    """
    for move in back:
        state = close(rules, state, move.close) if move.close else put(rules, state, move.place)
    return state


def close(rules: Rules, state: State, joint: str) -> State:
    """The state after closing a joint."""
    if joint not in state.open:
        raise IllegalMove(f"close {joint}: it is not open")
    after = State(state.open - {joint}, state.aside)
    refusal = rules.may_open(after, joint)
    if refusal is not None:
        raise IllegalMove(f"close {joint}: {refusal.text}")
    return after


def put(rules: Rules, state: State, parts: tuple[str, ...]) -> State:
    """The state after parts have taken their seats."""
    away = [part for part in parts if part not in state.aside]
    if away or not parts:
        raise IllegalMove(f"put back {listed(parts)}: {listed(away)} is in its place already")
    after = State(state.open, state.aside - frozenset(parts))
    refusal = rules.may_lift(after, parts[0])
    if refusal is not None:
        raise IllegalMove(f"put back {listed(parts)}: {refusal.text}")
    together = rules.put_aside(after, rules.group(after, parts[0]))
    if together != frozenset(parts):
        raise IllegalMove(f"put back {listed(parts)}: {listed(sorted(together))} would move together")
    return after
