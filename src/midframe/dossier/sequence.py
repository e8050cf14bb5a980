"""Which sequence of moves governs the index for a part, and where its incremental segment begins.

The documented order governs where the record has one that the rules allow (C9, Q14); else the computed
way of fewest steps. Of several computed ways with as few steps the one that scores better for fasteners
and tools is taken; how many were tried is part of the result.

References
----------
[lbl-2023-1669, Annex IV point 5]: repair information as the basis, start from the previous priority part.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise
from typing import Literal

import msgspec

from midframe.dossier.steps import StepLine, step_lines
from midframe.faults import IllegalMove, UnknownPart
from midframe.record.model import PRIORITY_ROLES, Move, Order, Part
from midframe.ways.count import Count, Counter
from midframe.ways.orders import has_alternative
from midframe.ways.rules import Rules, State
from midframe.ways.way import NoWayFound, Way

WayOf = Callable[[str], Way | NoWayFound]
"""Gives the computed way of fewest steps to a part."""

OthersOf = Callable[[str], Iterable[Way]]
"""Gives further ways to a part; those of as few steps are compared too."""


class Walk(msgspec.Struct, frozen=True):
    """One counted sequence to a part: where it leaves, which priority part left last before, and the segment.

    `previous` is the id of that part ("" if none); `segment` the numbers (from 1) of the moves after it left,
    and of those that open a joint of the target itself.
    """

    target: str
    moves: tuple[Move, ...]
    count: Count
    previous: str
    segment: tuple[int, ...]


class Governing(msgspec.Struct, frozen=True, kw_only=True):
    """The sequence that the index looks at for one part, and why it is this one.

    `basis` is "none" where no way is known; `reason` then says why. `tried` counts the sequences of as
    few steps that were compared, `segment` holds the numbers (from 1) of the moves that score.
    """

    part: str
    name: str
    basis: Literal["documented", "computed", "none"]
    why: str
    reason: str = ""
    moves: tuple[Move, ...] = ()
    steps: int | None = None
    seconds: float | None = None
    proven: bool | None = None
    tried: int = 1
    previous: str = ""
    segment: tuple[int, ...] = ()
    step_lines: tuple[StepLine, ...] = ()


def is_priority(part: Part) -> bool:
    """Whether the part has a priority role, as its own or besides."""
    return any(role in PRIORITY_ROLES for role in (part.role, *part.also))


def walked(counter: Counter, target: str, moves: tuple[Move, ...]) -> Walk:
    """A legal sequence counted, with its incremental segment.

    The previous priority part is the last one put aside before the target leaves its seat. What leaves in a
    lift that takes the target along, and what its spare is sold with, is no previous part; what is split off
    such a bundle before the target is one (reading). Where the target hangs on while another priority part
    leaves, the work on that part is not counted again. A joint of the target itself counts wherever it is
    opened, so that opening it early gains nothing (reading).

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Fasteners and Tools]; Annex I (20) for putting aside as removal.
    """
    counted = counter.count(moves)
    rules = counter.rules
    leaves = next((at for at, move in enumerate(counted.moves) if target in move.aside), len(moves))
    own = rules.bundle(target)
    left: dict[int, str] = {}
    for at, move in enumerate(counted.moves):
        others = [part for part in move.aside if part not in own and is_priority(rules.parts[part])]
        if others and target not in move.group:
            left[at] = others[0]
    begins = max((at for at in left if at < leaves), default=-1)
    resumes = max(left, default=-1)
    segment = tuple(
        at + 1
        for at, move in enumerate(moves)
        if begins < at <= leaves
        or at > resumes
        or (move.open and not own.isdisjoint(rules.joints[move.open].holds))
    )
    return Walk(target, moves, counted, left.get(begins, ""), segment)


def documented(counter: Counter, target: str) -> tuple[Order | None, tuple[Move, ...], str]:
    """The first usable documented order, its moves until the target is out, what is wrong with others."""
    wrong: list[str] = []
    for order in counter.record.orders:
        if order.target != target:
            continue
        moves, fault = until_out(counter, order)
        if not fault:
            return order, moves, "; ".join(wrong)
        wrong.append(f"documented order {order.title or target} not used: {fault}")
    return None, (), "; ".join(wrong)


def until_out(counter: Counter, order: Order) -> tuple[tuple[Move, ...], str]:
    """The moves of an order up to the one that gets its target out; else none, and the fault."""
    rules, state = counter.rules, State()
    for number, move in enumerate(order.moves, start=1):
        try:
            if not has_alternative(counter, move):
                return (), f"move {number}: {move.open} has no way {move.by} of opening it"
            state = rules.apply(state, move)
        except (IllegalMove, UnknownPart) as refused:
            return (), f"move {number}: {refused}"
        if rules.out(state, order.target):
            return order.moves[:number], ""
    return (), f"{order.target} is not out after its last move"


def equal_ways(counter: Counter, way: Way) -> Iterator[Walk]:
    """The computed way, then others of as few steps: joints opened otherwise, another part last before."""
    seen: set[tuple[Move, ...]] = set()
    for moves in _opened_otherwise(counter, way.moves):
        for candidate in (moves, *_previous_first(counter.rules, moves)):
            if candidate in seen:
                continue
            seen.add(candidate)
            try:
                walk = walked(counter, way.target, candidate)
            except IllegalMove:
                continue
            if len(walk.count.steps) == way.steps:
                yield walk


def _opened_otherwise(counter: Counter, moves: tuple[Move, ...]) -> Iterator[tuple[Move, ...]]:
    """The moves, and with each joint that has several ways of opening opened in another one."""
    yield moves
    for at, move in enumerate(moves):
        if not move.open:
            continue
        for by in range(1, len(counter.bench.operations(counter.rules.joints[move.open])) + 1):
            if by != move.by:
                yield (*moves[:at], Move(open=move.open, by=by), *moves[at + 1 :])


def _previous_first(rules: Rules, moves: tuple[Move, ...]) -> Iterator[tuple[Move, ...]]:
    """For each priority part lifted: all that does not wait for it first, then it, then the rest."""
    states = [State()]
    for move in moves:
        states.append(rules.apply(states[-1], move))
    gained = [after.aside - before.aside for before, after in pairwise(states)]
    for at, left in enumerate(gained[:-1]):
        if any(is_priority(rules.parts[part]) for part in left):
            yield _put_off(rules, moves, gained, at)


def _put_off(
    rules: Rules, moves: tuple[Move, ...], gained: list[frozenset[str]], at: int
) -> tuple[Move, ...]:
    """The moves with one put off until only what waits for it is left."""
    state = State()
    early: list[Move] = []
    late: list[Move] = []
    for number, move in enumerate(moves):
        if number == at:
            continue
        if may(rules, state, move, gained[number]):
            early.append(move)
            state = rules.apply(state, move)
        else:
            late.append(move)
    return (*early, moves[at], *late)


def may(rules: Rules, state: State, move: Move, gained: frozenset[str]) -> bool:
    """Whether a move is allowed in a state and puts aside just what it should."""
    if move.open:
        return rules.may_open(state, move.open) is None
    part = move.lift[0]
    return rules.may_lift(state, part) is None and rules.put_aside(state, rules.group(state, part)) == gained


def best_walk(
    counter: Counter,
    target: str,
    way_of: WayOf,
    worth: Callable[[Walk], tuple[int, ...]],
    others: OthersOf | None = None,
) -> tuple[Governing, Walk | None]:
    """The governing sequence of a part, counted; of as few steps the first of most `worth`."""
    name = counter.rules.parts[target].name
    order, moves, wrong = documented(counter, target)
    if order is not None:
        walk = walked(counter, target, moves)
        title = " ".join(f"{order.title or target} {f'({order.source})' if order.source else ''}".split())
        why = "; ".join(filter(None, (f"documented order: {title} (C9, Q14)", wrong)))
        return _governing(counter, name, walk, "documented", why), walk
    way = way_of(target)
    if isinstance(way, NoWayFound):
        return Governing(part=target, name=name, basis="none", why=wrong, reason=way.reason), None
    more = [] if others is None else [one for one in others(target) if one.steps == way.steps]
    found_walks = (walk for one in (way, *more) for walk in equal_ways(counter, one))
    walks = list({walk.moves: walk for walk in found_walks}.values())
    walk = max(walks, key=worth)
    tried = f"the best for fasteners and tools of {len(walks)} tried"
    why = f"no documented order: computed way of fewest steps, {tried} (Q14)"
    found = _governing(counter, name, walk, "computed", "; ".join(filter(None, (why, wrong))))
    return msgspec.structs.replace(found, tried=len(walks), proven=way.proven), walk


def _governing(
    counter: Counter, name: str, walk: Walk, basis: Literal["documented", "computed"], why: str
) -> Governing:
    return Governing(
        part=walk.target,
        name=name,
        basis=basis,
        why=why,
        moves=walk.moves,
        steps=len(walk.count.steps),
        seconds=walk.count.seconds,
        previous=walk.previous,
        segment=walk.segment,
        step_lines=step_lines(counter, walk.count),
    )
