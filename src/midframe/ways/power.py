"""Power first: the battery's connector opened before other electrical joints and before the cell's own bonds.

This comes after the search and is counted apart from it, as a precaution. Lithium cells stay
charged when their connector is open; cautions here do not replace local codes
or licensed practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting, IllegalMove
from midframe.record.model import Move, Record
from midframe.ways.count import Count
from midframe.ways.electrical import (
    ELECTRICAL,
    Caution,
    cautions_of,
    cell_connectors,
    cells,
    live_joints,
    opening,
)
from midframe.ways.orders import gets_out
from midframe.ways.restrict import restricted
from midframe.ways.rules import Rules, State
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound, Way
from midframe.ways.wording import cost_words, moves_of

Passing: TypeAlias = Literal["passing", "strict", "off"]
"""`passing`: first where the way comes by; `strict`: the way must come by first; `off`: order untouched."""


class Powered(msgspec.Struct, frozen=True):
    """A way with its precaution, and what the precaution costs beside the way without it.

    `connectors` are those of the record's cells; `moved` were put earlier,
    `added` were not in the way before. `proven` says that no way that keeps
    the precaution costs less; for `passing` it says that nothing had to be paid.
    """

    target: str
    passing: Passing
    moves: tuple[Move, ...]
    count: Count
    connectors: tuple[str, ...]
    moved: tuple[str, ...]
    added: tuple[str, ...]
    steps_without: int
    seconds_without: float
    steps_with: int
    seconds_with: float
    cautions: tuple[Caution, ...]
    proven: bool
    text: str


def power_first(planner: Planner, way: Way, passing: Passing = "passing") -> Powered:
    """The way with power off as early as the switch asks; the planner is the one that found the way.

    Raises `BadSetting` for an unknown switch.
    """
    if passing == "strict":
        return strict(planner, way)
    if passing == "passing":
        return powered(planner, way, in_passing(planner, way.moves, way.target), passing)
    if passing == "off":
        return powered(planner, way, way.moves, passing)
    raise BadSetting(f"power first '{passing}' is unknown; it may be passing, strict or off")


def in_passing(planner: Planner, moves: Sequence[Move], target: str) -> tuple[Move, ...]:
    """The moves with each cell's connector opened before other electrical joints where that can be.

    A connector that is among the moves comes before the work on its own cell too.
    """
    live = live_joints(planner.record)
    arranged = tuple(moves)
    for name in cell_connectors(planner.record):
        arranged = earlier(planner, arranged, target, plug_of(planner, arranged, name), live)
    return unplugged(planner, arranged, target)


def unplugged(planner: Planner, moves: tuple[Move, ...], target: str) -> tuple[Move, ...]:
    """The moves with each cell's connector, where they open it, before the work on that cell.

    Work on a cell is opening what holds it rigidly, or lifting it (common
    practice: no pulling or prying at a cell that is still connected). Of
    several places the cheapest; the moves come back as they were where it
    cannot be, or where more joints would be opened live.
    """
    for name in cell_connectors(planner.record):
        plug = next((move for move in moves if move.open == name), None)
        if plug is not None:
            moves = before_its_cell(planner, moves, target, plug)
    return moves


def before_its_cell(planner: Planner, moves: tuple[Move, ...], target: str, plug: Move) -> tuple[Move, ...]:
    """The moves with one connector before the first of them that works on a cell that it joins."""
    record, live = planner.record, live_joints(planner.record)
    held = frozenset(cells(record)) & frozenset(planner.rules.joints[plug.open].holds)
    own = frozenset(
        joint.id
        for joint in record.joints
        if joint.kind not in ELECTRICAL and not joint.tether and not held.isdisjoint(joint.holds)
    )

    def first(order: tuple[Move, ...]) -> int:
        at_cell = (n for n, move in enumerate(order) if move.open in own or not held.isdisjoint(move.lift))
        return next(at_cell, len(order))

    if moves.index(plug) < first(moves):
        return moves
    tried = (placed(planner.rules, moves, place, plug, live | own) for place in range(first(moves) + 1))
    allowed_cautions = len(cautions_of(record, moves))
    kept = [
        order
        for order in tried
        if order is not None
        and order.index(plug) < first(order)
        and len(cautions_of(record, order)) <= allowed_cautions
        and gets_out(planner.rules, order, target)
    ]
    return min(kept, key=lambda order: value(planner, order), default=moves)


def plug_of(planner: Planner, moves: Iterable[Move], name: str) -> Move:
    """The move that opens a cell's connector: the one in the way, else the cheapest."""
    own = [move for move in moves if move.open == name]
    return own[0] if own else opening(planner.rules.joints[name], planner.bench)


def earlier(
    planner: Planner, moves: tuple[Move, ...], target: str, plug: Move, live: frozenset[str]
) -> tuple[Move, ...]:
    """The moves with one connector opened before the first live joint, or before as many as can be.

    What it waits for is put before it too, where that is in the way anyway; of
    several places the cheapest. The moves come back as they were where nothing
    is won.
    """
    first = next((index for index, move in enumerate(moves) if move.open in live), None)
    if first is None or plug in moves[:first]:
        return moves
    until = moves.index(plug) if plug in moves else len(moves)
    best, least = moves, (sum(move.open in live for move in moves[:until]), tuple[int, ...]())
    for place in range(first + 1):
        arranged = placed(planner.rules, moves, place, plug, live)
        if arranged is None or not gets_out(planner.rules, arranged, target):
            continue
        before = sum(move.open in live for move in arranged[: arranged.index(plug)])
        taken = (before, value(planner, arranged))
        if taken < least:
            best, least = arranged, taken
    return best


def placed(
    rules: Rules, moves: tuple[Move, ...], place: int, plug: Move, live: frozenset[str]
) -> tuple[Move, ...] | None:
    """The moves with the connector, and what it waits for, put in at a place; `None` where that cannot be."""
    front, rest = moves[:place], tuple(move for move in moves[place:] if move != plug)
    ahead = needed_before(rules, front, rest, plug, live)
    if ahead is None:
        return None
    return (*front, *ahead, plug, *(move for move in rest if move not in ahead))


def needed_before(
    rules: Rules, front: tuple[Move, ...], rest: tuple[Move, ...], plug: Move, live: frozenset[str]
) -> tuple[Move, ...] | None:
    """Moves out of `rest` after which the connector can be reached, with as few live ones as may be.

    `None` where it cannot be reached by any of them.
    """
    state, taken = rules.replay(front), list[Move]()
    while not allowed(rules, state, plug):
        waiting = [move for move in rest if move not in taken]
        quiet = [move for move in waiting if move.open not in live]
        following = next((move for move in (*quiet, *waiting) if allowed(rules, state, move)), None)
        if following is None:
            return None
        state = rules.apply(state, following)
        taken.append(following)
    for move in (*(m for m in reversed(taken) if m.open in live), *reversed(taken)):
        fewer = [other for other in taken if other != move]
        if legal(rules, (*front, *fewer, plug)):
            taken = fewer
    return tuple(taken)


def allowed(rules: Rules, state: State, move: Move) -> bool:
    """Whether the rules allow the move in this state."""
    if move.open:
        return rules.may_open(state, move.open) is None
    return rules.may_lift(state, move.lift[0]) is None


def legal(rules: Rules, moves: Iterable[Move]) -> bool:
    """Whether the rules allow the moves in this order."""
    try:
        rules.replay(moves)
    except IllegalMove:
        return False
    return True


def powered(
    planner: Planner, way: Way, moves: tuple[Move, ...], passing: Passing, proven: bool | None = None
) -> Powered:
    """The result for one order of moves beside the way without precaution."""
    counted = planner.counter.count(moves)
    connectors = cell_connectors(planner.record)
    opened = [move.open for move in moves if move.open in connectors]
    known = {move.open for move in way.moves}
    cautions = cautions_of(planner.record, moves)
    changed = moves != way.moves
    return Powered(
        target=way.target,
        passing=passing,
        moves=moves,
        count=counted,
        connectors=connectors,
        moved=tuple(name for name in opened if name in known and changed),
        added=tuple(name for name in opened if name not in known),
        steps_without=way.steps,
        seconds_without=way.seconds,
        steps_with=len(counted.steps),
        seconds_with=counted.seconds,
        cautions=cautions,
        proven=planner.objective.value(counted) == way.value and way.proven if proven is None else proven,
        text=in_words(planner.record, way, counted, cautions),
    )


def in_words(record: Record, way: Way, counted: Count, cautions: tuple[Caution, ...]) -> str:
    """What the precaution does and costs, in a sentence."""
    live = live_joints(record)
    steps, seconds = len(counted.steps) - way.steps, counted.seconds - way.seconds
    cost = f": {cost_words(steps, seconds)}" if steps or round(seconds) else ", at no cost"
    if not any(move.move.open in live for move in counted.moves):
        if moves_of(counted) == way.moves:
            return "no electrical joint but the battery's own is opened"
        return f"the battery is disconnected before its own bonds are opened{cost}"
    if not cell_connectors(record):
        return "the record names no connector of a battery: device off before the first move"
    if not cautions:
        return f"the battery is disconnected before other electrical joints{cost}"
    number = len(cautions)
    joints = "one electrical joint is" if number == 1 else f"{number} electrical joints are"
    text = f"{joints} opened before the battery is disconnected: device off"
    return text if moves_of(counted) == way.moves else f"{text}{cost}"


def strict(planner: Planner, way: Way) -> Powered:
    """A way that opens no live joint before every cell is disconnected; with cautions where there is none.

    Ways without any live joint and ways by the connectors are solved apart;
    the cheaper one is proven where it costs no more than both bounds allow.
    """
    if not cell_connectors(planner.record) or not cautions_of(planner.record, way.moves):
        return powered(planner, way, unplugged(planner, way.moves, way.target), "strict")
    quiet = without_live(planner)
    around = quiet.way(way.target)
    by_plugs = opens_too(planner, way.target, cell_connectors(planner.record))
    kept = [found for found in (around, by_plugs) if isinstance(found, Way)]
    candidates = [around.moves] if isinstance(around, Way) else []
    if isinstance(by_plugs, Way):
        arranged = in_passing(planner, by_plugs.moves, way.target)
        candidates += [arranged, plugs_then(planner, quiet, arranged, way.target)]
    held = [moves for moves in candidates if moves and not cautions_of(planner.record, moves)]
    if not held:
        return powered(planner, way, in_passing(planner, way.moves, way.target), "strict", proven=False)
    best = min((nudged(planner, moves, way.target) for moves in held), key=lambda one: value(planner, one))
    best = unplugged(planner, best, way.target)
    least = min(found.value for found in kept)
    proven = value(planner, best) == least and all(found.proven for found in kept)
    return powered(planner, way, best, "strict", proven)


def nudged(planner: Planner, moves: tuple[Move, ...], target: str) -> tuple[Move, ...]:
    """The moves with single ones put elsewhere as long as that costs less and keeps the precaution."""
    least, better = value(planner, moves), True
    while better:
        better = False
        for arranged in neighbours(moves):
            if gets_out(planner.rules, arranged, target) and not cautions_of(planner.record, arranged):
                cost = value(planner, arranged)
                if cost < least:
                    moves, least, better = arranged, cost, True
                    break
    return moves


def neighbours(moves: tuple[Move, ...]) -> Iterator[tuple[Move, ...]]:
    """All orders that differ by one move standing elsewhere."""
    for index, move in enumerate(moves):
        rest = moves[:index] + moves[index + 1 :]
        for place in range(len(moves)):
            if place != index:
                yield (*rest[:place], move, *rest[place:])


def value(planner: Planner, moves: tuple[Move, ...]) -> tuple[int, ...]:
    """What the planner minimises, for an order of moves."""
    return planner.objective.value(planner.counter.count(moves))


def without_live(planner: Planner) -> Planner:
    """The planner of the same record that opens no live joint."""
    live = live_joints(planner.record)
    left_out = frozenset(
        Move(open=joint.id, by=by)
        for joint in planner.record.joints
        if joint.id in live
        for by in range(1, len(planner.bench.operations(joint)) + 1)
    )
    return restricted(planner, without=left_out)


def opens_too(planner: Planner, target: str, joints: tuple[str, ...]) -> Way | NoWayFound:
    """The best way that gets the target out and opens some joints besides."""
    goal = planner.search.goal(target) | opened_facts(planner, joints)
    return planner.answered(target, planner.search.solve(goal, planner.limit))


def opened_facts(planner: Planner, joints: tuple[str, ...]) -> int:
    """The facts that the joints are open."""
    facts = 0
    for joint in joints:
        facts |= planner.search.compiler.opened(joint)
    return facts


def plugs_then(planner: Planner, quiet: Planner, moves: tuple[Move, ...], target: str) -> tuple[Move, ...]:
    """The connectors by a way without live joints, then what is left of the moves; empty if there is none."""
    connectors = cell_connectors(planner.record)
    first = quiet.search.solve(opened_facts(quiet, connectors), planner.limit).moves
    if not first:
        return ()
    begun = {move.open for move in first if move.open}
    rest = [move for move in moves if move not in first and not (move.open and move.open in begun)]
    kept = possible(planner.rules, (*first, *rest))
    for move in reversed(kept):
        fewer = tuple(other for other in kept if other != move)
        if gets_out(planner.rules, fewer, target) and not cautions_of(planner.record, fewer):
            kept = fewer
    return kept if gets_out(planner.rules, kept, target) else ()


def possible(rules: Rules, moves: Iterable[Move]) -> tuple[Move, ...]:
    """The moves that the rules allow, in order; those that have become idle are left out."""
    state, kept = State(), list[Move]()
    for move in moves:
        if allowed(rules, state, move):
            state = rules.apply(state, move)
            kept.append(move)
    return tuple(kept)
