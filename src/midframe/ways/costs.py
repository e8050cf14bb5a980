"""Costs of actions from a posture, as one whole number per objective, and what is constant in them."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.ways.bench import Bench
from midframe.ways.count import ticks
from midframe.ways.facts import Action
from midframe.ways.objective import Objective
from midframe.ways.posture import HAND, Posture, advance, start, tail
from midframe.ways.readings import Readings

Parts = tuple[int, int, int, int]
"""Steps, time, price and risk of something, all but steps in ticks."""


class Costs:
    """Costs under one objective, set of readings and bench; postures are numbered as they are met.

    The terms of a lexicographic objective are packed into one whole number, with
    each factor larger than anything the later terms can ever add up to.
    """

    def __init__(
        self, objective: Objective, readings: Readings, bench: Bench, actions: Sequence[Action]
    ) -> None:
        self.objective, self.readings, self.bench = objective, readings, bench
        self.wage = ticks(bench.labour_per_hour)
        self.counts_steps = any(term.steps for term in objective.terms)
        self.counts_time = any(term.seconds or term.money for term in objective.terms)
        self.segment = self.counts_steps and readings.swaps == "segment"
        self.factors = self.packing(actions)
        self.forgets = self.segment and not (self.counts_time or readings.first_tool or readings.bare_hand)
        self.postures: list[Posture] = []
        self.number: dict[Posture, int] = {}
        self.memo: dict[tuple[object, ...], dict[int, tuple[int, int]]] = {}
        self.leasts: dict[tuple[object, ...], int] = {}
        self.start = self.numbered(start(bench))
        self.step = self.packed((1, 0, 0, 0))
        self.swap = self.packed((1, ticks(bench.change_seconds), 0, 0))
        self.change = self.packed((1 if readings.swaps == "strict" else 0, ticks(bench.change_seconds), 0, 0))
        self.flip = self.packed((0, ticks(bench.flip_seconds), 0, 0))

    def packing(self, actions: Sequence[Action]) -> tuple[int, ...]:
        """A factor per term, so that one number orders as the terms one after the other do."""
        change, flip = ticks(self.bench.change_seconds), ticks(self.bench.flip_seconds)
        most = (1, 0, 0, 0)
        for action in actions:
            uses = len(action.uses)
            steps = sum(2 + use.extra_tools for use in action.uses)
            time = sum(ticks(use.seconds) for use in action.uses) + uses * (change + flip)
            price = action.renewal + action.harm + sum(price for _, price in action.ruins)
            most = (most[0] + steps, most[1] + time, most[2] + price, most[3] + action.risk)
        factors, factor = [], 1
        for term in reversed(self.objective.terms):
            factors.append(factor)
            factor *= term.value(*most, self.wage) + 1
        return tuple(reversed(factors))

    def packed(self, parts: Parts) -> int:
        """Steps, time, price, risk as the one number of the objective."""
        return sum(
            factor * term.value(*parts, self.wage)
            for factor, term in zip(self.factors, self.objective.terms, strict=True)
        )

    def unpacked(self, cost: int) -> tuple[int, ...]:
        """The terms of a packed cost."""
        values = []
        for factor in self.factors:
            values.append(cost // factor)
            cost %= factor
        return tuple(values)

    def price(self, amount: int) -> int:
        """A price in ticks as a cost."""
        return self.packed((0, 0, amount, 0))

    def numbered(self, posture: Posture) -> int:
        """The number of a posture, with what the objective cannot see wiped out."""
        begun = posture.begun and (self.segment or (self.counts_steps and self.readings.tail))
        face = posture.face if self.counts_time else self.bench.start_face
        bare = posture.bare and self.counts_steps
        tools = posture.tools if begun or not self.forgets else HAND
        seen = Posture(tools, bare, begun, face)
        if seen not in self.number:
            self.number[seen] = len(self.postures)
            self.postures.append(seen)
        return self.number[seen]

    def go(self, action: Action, posture: int) -> tuple[int, int]:
        """Cost of an action from a posture (lost parts apart), and the posture after it."""
        table = self.memo.setdefault(action.key, {})
        if posture not in table:
            table[posture] = self.went(action, posture)
        return table[posture]

    def table(self, action: Action) -> dict[int, tuple[int, int]]:
        """The memo of `go` for one action."""
        return self.memo.setdefault(action.key, {})

    def went(self, action: Action, posture: int) -> tuple[int, int]:
        """What `go` gives, worked out."""
        at = self.postures[posture]
        if action.vague:
            cost = self.packed((1, ticks(action.uses[0].seconds), 0, 0))
            return cost, self.numbered(at._replace(begun=False))
        steps, time = 0, 0
        for use in action.uses:
            at, added = advance(at, use, self.readings, self.bench)
            steps += len(added.steps)
            time += ticks(use.seconds) + ticks(added.change_seconds) + ticks(added.flip_seconds)
        return self.packed((steps, time, action.renewal + action.harm, action.risk)), self.numbered(at)

    def least(self, action: Action) -> int:
        """What the action costs at least, from the posture that suits it best."""
        known = self.leasts.get(action.key)
        if known is None:
            known = self.leasts[action.key] = self.found_least(action)
        return known

    def found_least(self, action: Action) -> int:
        """What `least` gives, worked out."""
        use = action.uses[0]
        face = use.face or self.bench.start_face
        return min(
            self.go(action, self.numbered(Posture(tools, bare, False, face)))[0]
            for tools in {HAND, *(use.tools for use in action.uses)}
            for bare in (False, True)
        )

    def credit(self, action: Action) -> int:
        """What is saved for sure when the action need not be done any more.

        A removal may have made a tool change free, and work of several
        operations may have brought the next tool into the hand.
        """
        saved = self.least(action)
        if action.move.lift and self.counts_steps:
            saved -= self.step
        if len(action.uses) > 1:
            saved -= self.swap
        return saved

    def shift(self, posture: int, wanted: int) -> int:
        """What getting from one posture into another can cost at most: a swap, a flip, a step left open."""
        at, to = self.postures[posture], self.postures[wanted]
        cost = self.flip if at.face != to.face else 0
        if at.tools != to.tools:
            paid = at.begun or not self.segment or (self.readings.first_tool and not at.tools)
            cost += self.swap if paid else self.change
        elif at.begun and not to.begun:
            cost += self.step
        return cost + (self.step if at.bare != to.bare else 0)

    def end(self, posture: int) -> int:
        """What ending in a posture adds (reading M1)."""
        return self.step if self.counts_steps and tail(self.postures[posture], self.readings) else 0
