"""Whether an optimistic order holds in truth, and what it leaned on if not."""

from __future__ import annotations

from midframe.record.model import Move
from midframe.ways.count import lead_of, ticks
from midframe.ways.facts import Action, each_bit, union
from midframe.ways.ground import Ground
from midframe.ways.inner import Problem
from midframe.ways.node import Broken, Node
from midframe.ways.op import Op
from midframe.ways.rules import State


class Truth:
    """Tries orders for one goal by the rules themselves."""

    def __init__(self, ground: Ground, goal: int) -> None:
        self.ground, self.goal = ground, goal
        self.rules, self.compiler = ground.rules, ground.compiler

    def pruned(self, actions: tuple[Action, ...]) -> tuple[Move, ...]:
        """The moves without those that no later move needs and the goal does not ask for."""
        moves = [action.move for action in actions]
        for index in range(len(moves) - 1, -1, -1):
            shorter = moves[:index] + moves[index + 1 :]
            if not self.goal & actions[index].gives and self.holds(shorter):
                moves = shorter
        return tuple(moves)

    def holds(self, moves: list[Move]) -> bool:
        """Whether the moves are legal and reach the goal."""
        state = State()
        for move in moves:
            if move.open:
                if self.rules.may_open(state, move.open) is not None:
                    return False
                state = State(state.open | {move.open}, state.aside)
            else:
                if self.rules.may_lift(state, move.lift[0]) is not None:
                    return False
                group = self.rules.group(state, move.lift[0])
                state = State(state.open, state.aside | self.rules.put_aside(state, group))
        done = union(map(self.compiler.opened, state.open)) | union(map(self.compiler.aside, state.aside))
        return self.goal & ~done == 0

    def broken(self, actions: tuple[Action, ...], node: Node, problem: Problem) -> Broken | None:
        """The first thing in an order that does not hold in truth; None if all does."""
        done, state = 0, State()
        ops = {op.action.key: op for op in problem.ops}
        for action in actions:
            unmet = self.unmet(action, done)
            if unmet is not None:
                return unmet
            if action.move.open:
                state = State(state.open | {action.move.open}, state.aside)
                done |= action.gives
                continue
            left = self.lifted(ops[action.key], node, done, state)
            if isinstance(left, Broken):
                return left
            state = State(state.open, state.aside | left)
            done |= union(map(self.compiler.aside, left))
        return None if self.goal & ~done == 0 else Broken(actions[-1])

    def unmet(self, action: Action, done: int) -> Broken | None:
        """What an action needs that is not done."""
        if action.need & ~done:
            return Broken(action)
        for group in action.choices:
            if not any(mask & ~done == 0 for mask in group):
                return Broken(action, group)
        return None

    def lifted(self, op: Op, node: Node, done: int, state: State) -> frozenset[str] | Broken:
        """The parts put aside by a lift; broken where others than expected leave, or none."""
        part = op.action.move.lift[0]
        roots = self.compiler.roots(part, node.decided)
        links = self.compiler.undecided(roots, node.decided)
        if not links and not node.decided.kept and not node.decided.trailing:
            return frozenset((part,))
        expected = self.expected(op, done)
        refusal = self.rules.may_lift(state, part)
        group = self.rules.group(state, part)
        real = self.rules.put_aside(state, group) if refusal is None else frozenset()
        if refusal is None and self.honest(op.action, group) and expected - state.aside <= real:
            return real
        if not links:
            opened = self.inside(roots, state)
            return Broken(op.action, opened=opened, puzzling=not opened)
        closed = [link for link in links if link.joint not in state.open]
        better = [link for link in closed if link.other in expected ^ real]
        return Broken(op.action, None, (better or closed or links)[0])

    def expected(self, op: Op, done: int) -> set[str]:
        """The parts that leave with a lift, optimistically."""
        facts = op.action.gives
        for need, gives in op.companions:
            if done & need == need:
                facts |= gives
        return {self.ground.part_of[fact] for fact in each_bit(facts)}

    def honest(self, action: Action, group: frozenset[str]) -> bool:
        """Whether a lift is costed as what really leaves with it asks."""
        if action.vague and self.compiler.readings.bare_hand:
            return False
        lead = lead_of(self.rules.roots(group), self.rules.parts, self.compiler.bench)
        step = self.compiler.bench.lift_operation(lead)
        risked = self.compiler.harm(step.risk, step.harms), ticks(step.risk)
        return (self.compiler.lift_use(lead),) == action.uses and risked == (action.harm, action.risk)

    def inside(self, roots: tuple[str, ...], state: State) -> tuple[str, ...]:
        """Open rigid joints within a group that was to leave together."""
        group = frozenset().union(*(self.compiler.riders[root] for root in roots))
        return tuple(j.id for j in self.rules.rigid if j.id in state.open and group.issuperset(j.holds))
