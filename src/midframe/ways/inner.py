"""The cheapest order in which a fixed set of facts is achieved: A* over (facts done, posture).

Everything in the set is needed, so doing more of it never hurts but for what
`Costs.credit` leaves out; that gives the dominance between states, and the
rule that work which fits the present posture is done at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from itertools import count as numbers
from typing import NamedTuple

from midframe.ways.costs import Costs
from midframe.ways.facts import Action, union
from midframe.ways.op import Op, ready
from midframe.ways.posture import Posture
from midframe.ways.swaps import Swaps


class Problem(NamedTuple):
    """Facts to be achieved and the actions for it.

    `least` is what each fact costs at least, `credit` what is surely saved when
    it is there already; `clusters` are facts that one lift might give together,
    with the least cost of one such lift.
    """

    facts: int
    ops: tuple[Op, ...]
    least: dict[int, int]
    credit: dict[int, int]
    clusters: tuple[tuple[int, int], ...]
    loose_end: bool


class Found(NamedTuple):
    """The cheapest order, its cost, a bound under which no order can lie, and the states it took."""

    cost: int
    bound: int
    actions: tuple[Action, ...] | None
    states: int


class Inner:
    """One A* run; orders that cost `ceiling` or more are of no interest."""

    def __init__(
        self,
        problem: Problem,
        costs: Costs,
        limit: int | None = None,
        ceiling: int | None = None,
        *,
        greedy: bool = False,
    ) -> None:
        self.greedy = greedy
        self.problem, self.costs, self.limit, self.ceiling = problem, costs, limit, ceiling
        self.lifts_at_once = not costs.counts_steps or (
            not costs.segment and not costs.readings.bare_hand and not problem.loose_end
        )
        self.kept: dict[int, list[tuple[int, int]]] = {}
        self.lowest: dict[int, int] = {}
        self.heap: list[tuple[int, int, int, int, int, int, object]] = []
        self.tick = numbers()
        self.shifts: dict[tuple[int, int], int] = {}
        self.bounds: dict[int, tuple[list[int], int, int]] = {}
        self.swaps_to_come: Swaps | None = None
        if costs.segment and not costs.readings.bare_hand and not costs.readings.unplugging:
            self.swaps_to_come = Swaps(problem.facts, problem.ops)
        self.tools = self.tools_needed()
        self.faces = self.faces_needed()

    def tools_needed(self) -> list[tuple[frozenset[str], int]]:
        """Tools that must be taken up from outside an action, each with the facts that wait for it."""
        inner = {op.action.uses[-1].tools for op in self.problem.ops if len(op.action.uses) > 1}
        found: dict[frozenset[str], int] = {}
        for op in self.problem.ops:
            tools = op.action.uses[0].tools
            if tools and tools not in inner and op.sole:
                found[tools] = found.get(tools, 0) | op.gives
        return list(found.items())

    def faces_needed(self) -> list[tuple[str, int]]:
        """Faces that must come up, each with the facts that wait for it."""
        found: dict[str, int] = {}
        for op in self.problem.ops:
            face = op.action.uses[0].face
            if face is not None and op.sole:
                found[face] = found.get(face, 0) | op.gives
        return list(found.items())

    def setup_bound(self, done: int, posture: int) -> int:
        """Tool changes and flips that are still to come, at least."""
        if posture not in self.bounds:
            at = self.costs.postures[posture]
            tools = [facts for tools, facts in self.tools if tools != at.tools] if self.costs.change else []
            faces = union(facts for face, facts in self.faces if face != at.face) if self.costs.flip else 0
            first = bool(tools) and not at.tools and not self.costs.readings.first_tool
            strict = self.costs.readings.swaps == "strict"
            self.bounds[posture] = (tools, faces, self.costs.step if first and strict else 0)
        tools, faces, free = self.bounds[posture]
        bound = 0
        for facts in tools:
            if facts & ~done:
                bound += self.costs.change
        if bound:
            bound -= free
        return bound + (self.costs.flip if faces & ~done else 0)

    def remaining(self, done: int, table: dict[int, int]) -> int:
        """The sum of a table over facts not yet done."""
        left = self.problem.facts & ~done
        total = 0
        while left:
            bit = left & -left
            total += table[bit]
            left ^= bit
        return total

    def push(self, done: int, posture: int, cost: int, trail: object) -> None:
        """Keeps a state unless an equal or better one is kept already, or its bound reaches the ceiling."""
        problem = self.problem
        if problem.facts & ~done:
            bound = cost + self.remaining(done, problem.least) + self.setup_bound(done, posture)
            for mask, least in problem.clusters:
                if mask & ~done:
                    bound += least
            if self.swaps_to_come is not None:
                at = self.costs.postures[posture]
                held = at.tools if at.begun else None
                bound += self.costs.step * self.swaps_to_come.after(done & problem.facts, held)
        else:
            bound = cost + self.costs.end(posture)
        if self.ceiling is not None and bound >= self.ceiling:
            return
        form = cost + self.remaining(done, problem.credit)
        if self.beaten(done, posture, form, strictly=False):
            return
        kept = self.kept.setdefault(posture, [])
        kept[:] = [(other, value) for other, value in kept if value < form or other & ~done]
        kept.append((done, form))
        self.lowest[posture] = min(form, self.lowest.get(posture, form))
        ahead = -(done & problem.facts).bit_count()
        first, second = (ahead, bound) if self.greedy else (bound, ahead)
        heappush(self.heap, (first, second, next(self.tick), done, posture, cost, trail))

    def run(self) -> Found:
        """The cheapest order of all facts of the problem, or the bound reached when the limit ended it."""
        self.push(0, self.costs.start, 0, None)
        states = 0
        while self.heap:
            first, second, _, done, posture, cost, trail = heappop(self.heap)
            bound = second if self.greedy else first
            if not self.problem.facts & ~done:
                return Found(bound, bound, unwound(trail), states)
            if self.limit is not None and states >= self.limit:
                return Found(bound, bound, None, states)
            states += 1
            form = cost + self.remaining(done, self.problem.credit)
            if not self.beaten(done, posture, form, strictly=True):
                self.expand(done, posture, cost, trail)
        return Found(-1, -1, None, states)

    def beaten(self, done: int, posture: int, form: int, *, strictly: bool) -> bool:
        """Whether a kept state has done as much for no more, getting into this posture included."""
        for other_posture, lowest in self.lowest.items():
            least = form - self.shift(other_posture, posture)
            if lowest > least:
                continue
            for other, value in self.kept[other_posture]:
                if value <= least and other & done == done:
                    if strictly and other == done and other_posture == posture:
                        continue
                    return True
        return False

    def shift(self, posture: int, wanted: int) -> int:
        """What getting from one posture into another can cost at most."""
        key = (posture, wanted)
        if key not in self.shifts:
            self.shifts[key] = self.costs.shift(posture, wanted)
        return self.shifts[key]

    def expand(self, done: int, posture: int, cost: int, trail: object) -> None:
        """Does at once what fits, then tries what is possible next."""
        facts = self.problem.facts
        waiting = [op for op in self.problem.ops if op.reach & ~done]
        possible: list[tuple[Op, int, int]] = []
        fits = True
        while fits:
            fits = False
            possible = []
            still = []
            for op in waiting:
                if not op.reach & ~done:
                    continue
                still.append(op)
                if not ready(op, done):
                    continue
                step, after = self.go(op, posture, done)
                at_once = op.calm and after == posture and step == op.least
                if at_once and (self.lifts_at_once or not op.lifts):
                    done, cost, trail = given(op, done), cost + step, (trail, op.action)
                    fits = True
                    still.pop()
                else:
                    possible.append((op, step, after))
            waiting = still
        if not facts & ~done:
            self.push(done, posture, cost, trail)
            return
        possible = [entry for entry in possible if entry[0].reach & ~done]
        for op, step, after in self.narrowed(possible, posture, waiting):
            self.push(given(op, done), after, cost + step, (trail, op.action))

    def go(self, op: Op, posture: int, done: int) -> tuple[int, int]:
        """Cost and posture after an op, with parts lost for the first time."""
        pair = op.table.get(posture)
        step, after = pair if pair is not None else self.costs.go(op.action, posture)
        if op.fixed:
            step += op.fixed
        for bit, price in op.ruins:
            if not done & bit:
                step += price
        return step, after

    def narrowed(
        self, possible: list[tuple[Op, int, int]], posture: int, waiting: Sequence[Op]
    ) -> list[tuple[Op, int, int]]:
        """Leaves out what another possibility does at least as well.

        In the segment reading no step once begun is ended by a swap while a
        removal fits: made now, it lets the swap pass free. Of openings that
        take up the same tool one stands for all: the others then fit at once.
        """
        at = self.costs.postures[posture]
        if self.costs.segment and at.begun:
            removals = [entry for entry in possible if entry[0].lifts and entry[0].sole]
            lifts = [entry for entry in removals if entry[1] == entry[0].least]
            if lifts:
                kept = self.foremost(lifts, waiting)
                others = [entry for entry in possible if entry not in lifts]
                possible = kept + [entry for entry in others if not self.swaps(entry[0], at)]
        return self.one_each(possible)

    def one_each(self, possible: list[tuple[Op, int, int]]) -> list[tuple[Op, int, int]]:
        """One opening for all that lead into the same posture and then fit there at once."""
        kept, seen = [], set()
        for entry in possible:
            op, step, after = entry
            if op.calm and not op.lifts and self.go(op, after, 0) == (op.least, after):
                key = (after, step - op.least)
                if key in seen:
                    continue
                seen.add(key)
            kept.append(entry)
        return kept

    def swaps(self, op: Op, at: Posture) -> bool:
        """Whether an op begins by putting away what is in hand, at the cost of a step."""
        tools = op.action.uses[0].tools
        return bool(tools) and bool(at.tools) and tools != at.tools and not at.bare

    def foremost(self, lifts: list[tuple[Op, int, int]], waiting: Sequence[Op]) -> list[tuple[Op, int, int]]:
        """Of lifts that fit alike, those for which no other is waited for by all that may wait for them."""
        if len(lifts) == 1:
            return lifts
        kept = []
        for index, (op, step, after) in enumerate(lifts):
            may = [other for other in waiting if concerns(other, op.gives)]
            for rival_index, (rival, _, _) in enumerate(lifts):
                if rival_index == index or rival.gives & op.gives or not alike(rival, op):
                    continue
                if all(other.need & rival.gives == rival.gives for other in may) and (
                    rival_index < index or not self.mutual(op, rival, waiting)
                ):
                    break
            else:
                kept.append((op, step, after))
        return kept

    def mutual(self, op: Op, rival: Op, waiting: Sequence[Op]) -> bool:
        """Whether all that may wait for the rival must wait for the op too."""
        return all(other.need & op.gives == op.gives for other in waiting if concerns(other, rival.gives))


def given(op: Op, done: int) -> int:
    """The facts after an op, with what may leave with it (optimistically) and parts lost."""
    before = done
    done |= op.gives
    for need, gives in op.companions:
        if before & need == need:
            done |= gives
    for bit, _ in op.ruins:
        done |= bit
    return done


def concerns(op: Op, facts: int) -> bool:
    """Whether an op may wait for any of the facts."""
    return bool(op.need & facts) or any(mask & facts for group in op.choices for mask in group)


def unwound(trail: object) -> tuple[Action, ...]:
    """The actions of a trail in order."""
    actions: list[Action] = []
    while isinstance(trail, tuple):
        trail, action = trail
        actions.append(action)
    return tuple(reversed(actions))


def alike(one: Op, other: Op) -> bool:
    """Whether two lifts use hands and faces in the same way, so that they may change places."""
    mine, theirs = one.action.uses[0], other.action.uses[0]
    return mine.tools == theirs.tools and mine.face == theirs.face
