"""Cheapest ways by brute force: every state, hand and face tried in order of cost, on the referee alone.

Slow and plain on purpose. It knows the rules of the moves only through
`Rules.legal` and `Rules.apply`, and costs only through `Counter.one`; the only
states it treats as one are equal ones.
"""

from __future__ import annotations

from heapq import heappop, heappush
from itertools import count as numbers

import msgspec

from midframe.faults import IllegalMove
from midframe.record.model import Move
from midframe.ways.bench import Bench
from midframe.ways.count import Counter, ruined_by, ticks
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.posture import start, tail
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules, State


class Best(msgspec.Struct, frozen=True):
    """The value of a cheapest way, and one such way."""

    value: tuple[int, ...]
    moves: tuple[Move, ...]


class TooManyError(Exception):
    """More states than the caller allowed."""


class Graph:
    """All that can follow from a state of one record, kept once it is known."""

    def __init__(self, record, readings, bench, *, wait=None, only=None):
        self.rules = Rules(record)
        self.counter = Counter(record, readings, bench, self.rules)
        self.wait, self.only = wait or {}, only
        self.after: dict[State, list[tuple[Move, State]]] = {}
        self.added: dict = {}

    def moves(self, state):
        """Every legal move, each way of opening a joint apart, with the state after it."""
        if state not in self.after:
            self.after[state] = [
                (variant, self.rules.apply(state, variant))
                for move in self.rules.legal(state)
                if self.wanted(move) and self.ready(state, move)
                for variant in self.variants(move)
            ]
        return self.after[state]

    def variants(self, move):
        """A joint may be opened by any of its alternatives."""
        if not move.open:
            return [move]
        ways = len(self.rules.joints[move.open].work) or 1
        return [Move(open=move.open, by=number) for number in range(1, ways + 1)]

    def wanted(self, move):
        """Whether the move is one of those the caller restricts the search to."""
        return self.only is None or (move.open or move.lift[0]) in self.only

    def ready(self, state, move):
        """Whether joints that wait for other joints by the caller's word may go."""
        done = state.open | state.aside
        groups = self.wait.get(move.open, ())
        return not groups or any(done.issuperset(group) for group in groups)

    def cost(self, move, before, after, at):
        """Steps, time, price (without parts ruined) and risk of a move, those parts, the posture after it."""
        group = self.rules.group(before, move.lift[0]) if move.lift else None
        key = (move, group, at)
        if key not in self.added:
            counted, then = self.counter.one(move, before, after, at)
            time = (
                ticks(counted.change_seconds)
                + ticks(counted.flip_seconds)
                + sum(ticks(step.seconds or 0.0) for step in counted.operations)
            )
            price = sum(self.counter.breakage(step) for step in counted.operations)
            lost: tuple[str, ...] = ()
            if move.open:
                price += ticks(self.counter.prices.joints.get(move.open, 0.0))
                lost = ruined_by(self.rules.joints[move.open], counted.operations)
            risk = sum(ticks(step.risk) for step in counted.operations)
            self.added[key] = ((len(counted.steps), time, price, risk), lost, then)
        return self.added[key]


class Dijkstra:
    """One run from the closed device until every goal is met or nothing is left to try."""

    def __init__(self, graph, goals, objective, limit):
        self.graph, self.goals, self.objective, self.limit = graph, goals, objective, limit
        self.readings, self.bench = graph.counter.readings, graph.counter.bench
        self.wage = ticks(self.bench.labour_per_hour)
        self.money = any(term.money for term in objective.terms)
        self.found: dict[int, Best] = {}
        self.met: dict[State, tuple[int, ...]] = {}
        self.order = numbers()
        first = (State(), start(self.bench), frozenset())
        self.best = {first: self.packed(0, 0, 0, 0)}
        self.heap = [(self.best[first], next(self.order), -1, first, ())]

    def packed(self, steps, time, price, risk):
        return tuple(term.value(steps, time, price, risk, self.wage) for term in self.objective.terms)

    def run(self):
        settled = set()
        while self.heap and len(self.found) < len(self.goals):
            value, _, goal, node, way = heappop(self.heap)
            if goal >= 0:
                self.found.setdefault(goal, Best(value, unrolled(way)))
            elif node not in settled:
                settled.add(node)
                if self.limit is not None and len(settled) > self.limit:
                    raise TooManyError(f"more than {self.limit} states")
                self.finish(value, node, way)
                self.go_on(value, node, way)
        return tuple(self.found.get(number) for number in range(len(self.goals)))

    def finish(self, value, node, way):
        """Queues the end of the way for every goal that is met here."""
        state, at, _ = node
        if state not in self.met:
            out = [all(self.graph.rules.out(state, one) for one in goal) for goal in self.goals]
            self.met[state] = tuple(number for number, met in enumerate(out) if met)
        total = added(value, self.packed(1 if tail(at, self.readings) else 0, 0, 0, 0))
        for number in self.met[state]:
            if number not in self.found:
                heappush(self.heap, (total, next(self.order), number, node, way))

    def go_on(self, value, node, way):
        """Queues all that can follow."""
        state, at, lost = node
        for move, after in self.graph.moves(state):
            (steps, time, price, risk), ruined, then = self.graph.cost(move, state, after, at)
            gone = lost
            if self.money and ruined:
                price += sum(
                    ticks(self.graph.counter.prices.parts.get(one, 0.0)) for one in set(ruined) - lost
                )
                gone = lost | set(ruined)
            total = added(value, self.packed(steps, time, price, risk))
            following = (after, then, gone)
            if following not in self.best or total < self.best[following]:
                self.best[following] = total
                heappush(self.heap, (total, next(self.order), -1, following, (move, way)))


def added(one, other):
    """The sum of two values, term by term."""
    return tuple(a + b for a, b in zip(one, other, strict=True))


def cheapest(record, goals, objective=STEPS_THEN_SECONDS, readings=None, bench=None, **more):
    """The best way for every goal, a set of parts each, in the order given; None where none leads there.

    `wait` adds conditions no record can say (a joint after other joints);
    `only` restricts the moves to some joints and parts; `limit` caps the states.
    """
    limit = more.pop("limit", None)
    graph = Graph(record, readings or Readings(), bench or Bench(), **more)
    return Dijkstra(graph, goals, objective, limit).run()


def unrolled(way):
    """The moves of a linked list, first to last."""
    moves = []
    while way:
        move, way = way
        moves.append(move)
    return tuple(reversed(moves))


def brute(record, target, objective=STEPS_THEN_SECONDS, readings=None, bench=None, **more):
    """The best way to one part, or None."""
    return cheapest(record, [(target,)], objective, readings, bench, **more)[0]


def brute_all(record, objective=STEPS_THEN_SECONDS, readings=None, bench=None, **more):
    """The best way to every part but the body."""
    names = [part.id for part in record.parts if part.id != record.device.body]
    ways = cheapest(record, [(name,) for name in names], objective, readings, bench, **more)
    return dict(zip(names, ways, strict=True))


def brute_value(best):
    """The value of a way, None for none."""
    return None if best is None else best.value


def relevant(record, target):
    """Joints and parts that any way to the target could use, by following every condition backwards.

    Holds only for records in which nothing leaves as a bundle.
    """
    rules = Rules(record)
    found: set[str] = set()
    ahead = [target]
    while ahead:
        name = ahead.pop()
        if name in found or name == rules.body:
            continue
        found.add(name)
        if name in rules.parts:
            ahead += [joint.id for joint in record.joints if name in joint.holds]
            groups = rules.parts[name].under
        else:
            groups = rules.joints[name].behind
        ahead += [one for group in groups for one in group]
    return found


def still_leads(rules, moves, targets):
    """Whether the moves are legal and get every target out."""
    try:
        state = rules.replay(moves)
    except IllegalMove:
        return False
    return all(rules.out(state, target) for target in targets)
