"""Documented orders of work, counted by the same code as computed ways and set beside them."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.faults import IllegalMove, UnknownPart
from midframe.record.findings import Finding, fault, note
from midframe.record.model import Move, Order, Record
from midframe.ways.bench import Bench
from midframe.ways.count import Count, Counter
from midframe.ways.electrical import cell_connectors
from midframe.ways.objective import STEPS_THEN_SECONDS, Objective
from midframe.ways.readings import Readings
from midframe.ways.rules import Refusal, Rules, State, listed
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT, NoWayFound, Way
from midframe.ways.wording import Difference, difference


class ComparedOrder(msgspec.Struct, frozen=True):
    """One documented order beside the computed way to the same part.

    `count` and what follows from it is absent where a move is illegal;
    `illegal_move` is its number, from 1. `unneeded` are numbers of moves that
    the target does not need; `precaution` those it does not need either, but
    without which the order would not disconnect the battery. `difference` says what the computed way does
    otherwise, and what that costs more or less than the order.
    """

    order: int
    title: str
    source: str
    target: str
    legal: bool
    illegal_move: int | None
    gets_out: bool
    unneeded: tuple[int, ...]
    precaution: tuple[int, ...]
    steps: int | None
    seconds: float | None
    count: Count | None
    way: Way | NoWayFound
    difference: Difference | None
    findings: tuple[Finding, ...]


def compare_orders(
    record: Record,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> tuple[ComparedOrder, ...]:
    """Every documented order of a record beside the computed way; `UnknownPart` for an unknown target."""
    planner = Planner(record, objective, readings, bench, limit=limit)
    return tuple(compared(planner, number, order) for number, order in enumerate(record.orders))


def compared(planner: Planner, number: int, order: Order) -> ComparedOrder:
    """One order counted and set beside the planner's way; `number` counts from 0, as in the record's path."""
    way = planner.way(order.target)
    rules, path = planner.rules, f"orders[{number}]"
    illegal, illegal_move = first_illegal(planner, path, order.moves)
    gets_out = illegal is None and rules.out(rules.replay(order.moves), order.target)
    counted = None if illegal is not None else planner.counter.count(order.moves)
    spare = unneeded_moves(rules, order.moves, order.target) if gets_out else ()
    plugs = frozenset(cell_connectors(planner.record))
    unneeded = unneeded_moves(rules, order.moves, order.target, plugs) if gets_out else ()
    findings = [illegal] if illegal is not None else []
    if illegal is None and not gets_out:
        findings.append(not_out(rules, path, order))
    findings += [unneeded_work(path, order, index) for index in unneeded]
    beside = None
    if counted is not None and gets_out and isinstance(way, Way):
        beside = difference(planner.record, way.count, counted)
    return ComparedOrder(
        order=number,
        title=order.title,
        source=order.source,
        target=order.target,
        legal=illegal is None,
        illegal_move=illegal_move,
        gets_out=gets_out,
        unneeded=unneeded,
        precaution=tuple(number for number in spare if number not in unneeded),
        steps=len(counted.steps) if counted is not None else None,
        seconds=counted.seconds if counted is not None else None,
        count=counted,
        way=way,
        difference=beside,
        findings=tuple(findings),
    )


def first_illegal(planner: Planner, path: str, moves: Sequence[Move]) -> tuple[Finding | None, int | None]:
    """A fault for the first move that the rules forbid, and its number from 1; none where all are allowed."""
    state = State()
    for number, move in enumerate(moves, start=1):
        subject = move.open or next(iter(move.lift), "")
        at = f"{path}.moves[{number - 1}]"
        try:
            if not has_alternative(planner.counter, move):
                raise IllegalMove(f"open {move.open}: there is no way {move.by} of opening it")
            state = planner.rules.apply(state, move)
        except (IllegalMove, UnknownPart) as refused:
            right = what_first(planner.rules, state, move)
            return fault(at, subject, f"move {number}: {refused}", right), number
    return None, None


def has_alternative(counter: Counter, move: Move) -> bool:
    """Whether the alternative a move names is one of its joint's; lifts and unknown joints pass."""
    joint = counter.rules.joints.get(move.open)
    return joint is None or 1 <= move.by <= len(counter.bench.operations(joint))


def what_first(rules: Rules, state: State, move: Move) -> str:
    """What would make a refused move right."""
    refusal: Refusal | None = None
    if move.open in rules.joints:
        refusal = rules.may_open(state, move.open)
    elif move.lift and move.lift[0] in rules.parts:
        refusal = rules.may_lift(state, move.lift[0])
    if refusal is not None and refusal.waits_for:
        verb = "open" if refusal.waits_for[0] in rules.joints else "set aside"
        return (
            f"first {verb} {listed(refusal.waits_for)}, or take the condition from the record if it is wrong"
        )
    return "a move that the record allows at this point"


def not_out(rules: Rules, path: str, order: Order) -> Finding:
    """A fault for an order after which its target is still in the device, or still joined to something."""
    state = rules.replay(order.moves)
    bundle = rules.bundle(order.target)
    joined = [
        joint.id
        for joint in rules.record.joints
        if joint.id not in state.open
        and not bundle.isdisjoint(joint.holds)
        and not bundle.issuperset(joint.holds)
    ]
    if joined:
        found = f"an order after which {order.target} is still held by {listed(joined)}"
    else:
        found = f"an order after which {order.target} has not been lifted"
    return fault(f"{path}.moves", order.target, found, f"moves until {order.target} is out")


def unneeded_work(path: str, order: Order, number: int) -> Finding:
    """A note for a move that the target does not need."""
    move = order.moves[number - 1]
    words = f"open {move.open}" if move.open else f"lift {' + '.join(move.lift)}"
    return note(
        f"{path}.moves[{number - 1}]",
        move.open or move.lift[0],
        f"move {number}: {words}, which getting {order.target} out does not need",
        "the order without it, unless it protects something",
    )


def unneeded_moves(
    rules: Rules, moves: Sequence[Move], target: str, keep: frozenset[str] = frozenset()
) -> tuple[int, ...]:
    """Numbers (from 1) of moves that may be left out together, tried from the last to the first.

    Openings of the joints in `keep` stay.
    """
    kept = list(enumerate(moves, start=1))
    for index in range(len(kept) - 1, -1, -1):
        shorter = kept[:index] + kept[index + 1 :]
        if kept[index][1].open not in keep and gets_out(rules, [move for _, move in shorter], target):
            kept = shorter
    still = {number for number, _ in kept}
    return tuple(number for number in range(1, len(moves) + 1) if number not in still)


def gets_out(rules: Rules, moves: Sequence[Move], target: str) -> bool:
    """Whether the moves are all allowed and the target is out after them."""
    try:
        return rules.out(rules.replay(moves), target)
    except IllegalMove:
        return False
