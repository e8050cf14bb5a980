"""The cheapest order in which a fixed set of facts is achieved: A* over (facts done, posture).

Everything in the set is needed, so doing more of it never hurts but for what
`Costs.credit` leaves out; that gives the dominance between states, and the
rule that work which fits the present posture is done at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from typing import NamedTuple

from midframe.ways.costs import Costs
from midframe.ways.count import TICK
from midframe.ways.facts import Action, each_bit, union
from midframe.ways.kept import Kept
from midframe.ways.op import Op, ready
from midframe.ways.posture import Posture
from midframe.ways.swaps import Swaps


class Problem(NamedTuple):
    """Facts to be achieved and the actions for it.

    `least` is what each fact costs at least, `credit` what is surely saved when
    it is there already; `clusters` are facts that one lift might give together,
    with the least cost of one such lift; `swaps` keeps the bound on tool changes once
    one run has needed it.
    """

    facts: int
    ops: tuple[Op, ...]
    least: dict[int, int]
    credit: dict[int, int]
    clusters: tuple[tuple[int, int], ...]
    loose_end: bool
    swaps: list[Swaps]


class Found(NamedTuple):
    """The cheapest order, its cost, a bound under which no order can lie, and the states it took."""

    cost: int
    bound: int
    actions: tuple[Action, ...] | None
    states: int


class State(NamedTuple):
    """Facts done, posture, cost so far, least cost left, what is surely saved, moves so far."""

    done: int
    posture: int
    cost: int
    least: int
    credit: int
    trail: object


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
        self.kept = Kept(costs.shift, max(costs.step, costs.packed((0, 60 * TICK, 0, 0))))
        self.heap: list[tuple[int, int, int, bool, State]] = []
        self.bounds: dict[int, tuple[list[int], int, int]] = {}
        self.swaps_to_come: Swaps | None = None
        if costs.segment and not costs.readings.bare_hand and not costs.readings.unplugging:
            if not problem.swaps:
                problem.swaps.append(Swaps(problem.facts, problem.ops))
            self.swaps_to_come = problem.swaps[0]
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

    def summed(self, facts: int) -> tuple[int, int]:
        """What facts cost at least, and what is surely saved when they are there, summed."""
        least, credit = 0, 0
        for fact in each_bit(facts):
            least += self.problem.least[fact]
            credit += self.problem.credit[fact]
        return least, credit

    def swaps_bound(self, done: int, posture: int) -> int:
        """What tool changes that count as steps still cost at least."""
        if self.swaps_to_come is None:
            return 0
        at = self.costs.postures[posture]
        held = at.tools if at.begun else None
        return self.costs.step * self.swaps_to_come.after(done & self.problem.facts, held)

    def push(self, state: State) -> None:
        """Keeps a state unless an equal or better one is kept already, or its bound reaches the ceiling."""
        done, posture, cost, least, credit, _ = state
        left = self.problem.facts & ~done
        if left:
            bound = cost + least + self.setup_bound(done, posture)
            for mask, cheapest in self.problem.clusters:
                if mask & ~done:
                    bound += cheapest
        else:
            bound = cost + self.costs.end(posture)
        if self.ceiling is not None and bound >= self.ceiling:
            return
        form = cost + credit
        if self.kept.beaten(done, posture, form, -1):
            return
        tick = self.kept.add(done, posture, form)
        if self.greedy and left:
            bound += self.swaps_bound(done, posture)
        ahead = left.bit_count()
        first, second = (ahead, bound) if self.greedy else (bound, ahead)
        heappush(self.heap, (first, second, tick, self.greedy or not left, state))

    def run(self) -> Found:
        """The cheapest order of all facts of the problem, or the bound reached when the limit ended it."""
        self.push(State(0, self.costs.start, 0, *self.summed(self.problem.facts), None))
        states = 0
        while self.heap:
            first, second, tick, weighed, state = heappop(self.heap)
            bound = second if self.greedy else first
            if not self.problem.facts & ~state.done:
                return Found(bound, bound, unwound(state.trail), states)
            if self.kept.beaten(state.done, state.posture, state.cost + state.credit, tick):
                continue
            if not weighed and (more := self.swaps_bound(state.done, state.posture)):
                if self.ceiling is None or bound + more < self.ceiling:
                    heappush(self.heap, (bound + more, second, tick, True, state))
                continue
            if self.limit is not None and states >= self.limit:
                return Found(bound, bound, None, states)
            states += 1
            self.expand(state)
        return Found(-1, -1, None, states)

    def expand(self, state: State) -> None:
        """Does at once what fits, then tries what is possible next."""
        done, posture, cost, _, _, trail = state
        possible: list[tuple[Op, int, int]] = []
        blocked: Sequence[Op] = self.problem.ops
        fits = True
        while fits:
            fits, still = False, []
            for op in blocked:
                if not op.reach & ~done:
                    continue
                if op.need & ~done or (op.choices and not ready(op, done)):
                    still.append(op)
                    continue
                step, after = self.go(op, posture, done)
                at_once = op.calm and after == posture and step == op.least
                if at_once and (self.lifts_at_once or not op.lifts):
                    done, cost, trail = given(op, done), cost + step, (trail, op.action)
                    fits = True
                else:
                    possible.append((op, step, after))
            blocked = still
        reached = self.stepped(state, done, posture, cost, trail)
        if not self.problem.facts & ~done:
            self.push(reached)
            return
        possible = [entry for entry in possible if entry[0].reach & ~done]
        waiting = [*blocked, *(op for op, _, _ in possible)]
        for op, step, after in self.narrowed(possible, posture, waiting):
            self.push(self.stepped(reached, given(op, done), after, cost + step, (trail, op.action)))

    def stepped(self, state: State, done: int, posture: int, cost: int, trail: object) -> State:
        """The state after work from another one, with what is left summed anew."""
        least, credit = self.summed(done & ~state.done & self.problem.facts)
        return State(done, posture, cost, state.least - least, state.credit - credit, trail)

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
