"""How many tool changes must still count as steps: a bound under the segment reading.

A step begun with one tool is ended for free only by a removal. Between two
removals as many changes are paid as tools are used there, less one. Work need
not be done before the removal that waits for it; done before, it is of use
only where no other tool is used before a removal. That leaves the order of
the removals, which is tried out with everything learned kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from midframe.ways.facts import each_bit, union
from midframe.ways.op import Op, ready

Tools = frozenset[str]


class Block(NamedTuple):
    """What is used between two removals: tools, and works that change tools themselves (first, last)."""

    tools: frozenset[Tools]
    works: tuple[tuple[Tools, Tools], ...]

    def paid(self) -> int:
        """Changes between them that count, at least: works that begin or end with a tool used join it."""
        if not self.works:
            return max(0, len(self.tools) - 1)
        joined = 0
        for index, (first, last) in enumerate(self.works):
            joined += (first in self.tools) + (last in self.tools)
            joined += any(last == other for k, (other, _) in enumerate(self.works) if k != index)
        return max(0, len(self.tools) + len(self.works) - 1 - joined)

    def held(self) -> set[Tools]:
        """Every tool that is in hand at some time of the block."""
        return set(self.tools).union(*self.works) if self.works else set(self.tools)


class Swaps:
    """The bound for one problem; `after(done, begun_with)` is the least number of paid changes to come."""

    def __init__(self, facts: int, ops: Sequence[Op], *, tail: bool) -> None:
        self.facts, self.tail = facts, tail
        self.lifts = [op for op in ops if op.lifts]
        self.openings = [op for op in ops if not op.lifts]
        self.aside = union(op.reach for op in self.lifts)
        self.memo: dict[tuple[int, Tools | None], int] = {}
        self.makers: dict[int, list[Op]] = {}
        for op in self.openings:
            self.makers.setdefault(op.gives, []).append(op)

    def after(self, done: int, begun_with: Tools | None) -> int:
        """Paid changes to come at least, once `done` holds and a step is begun with a tool (or none is)."""
        done = self.by_hand(done)
        key = (done, begun_with)
        if key not in self.memo:
            self.memo[key] = min(self.ways_on(done, begun_with), default=0)
        return self.memo[key]

    def ways_on(self, done: int, begun_with: Tools | None) -> Iterator[int]:
        """The cost of going on with each removal that may be next."""
        if not self.aside & self.facts & ~done:
            yield self.at_the_end(done, begun_with)
            return
        for op in self.lifts:
            if op.reach & ~done and self.may_be_next(op, done):
                block = self.block(op, op.need & ~done & ~self.aside, begun_with)
                for before in self.filled(block, done):
                    for gives in {op.gives, op.reach}:
                        if gives & ~done:
                            paid = max(0, block.paid() - self.helpers(done, block))
                            yield paid + self.after(before | op.need & ~self.aside | gives, None)

    def may_be_next(self, op: Op, done: int) -> bool:
        """Whether all a removal waits for is done, or can be done without another removal."""
        if op.need & self.aside & ~done:
            return False
        for group in op.choices:
            if not any(mask & self.aside & ~done == 0 for mask in group):
                return False
        return all(
            any(ready(maker, done) for maker in self.makers.get(fact, ()))
            for fact in each_bit(op.need & ~done & ~self.aside)
        )

    def block(self, op: Op | None, forced: int, begun_with: Tools | None) -> Block:
        """What must be used before a removal; a joint that opens in several ways asks for none of them.

        Nor does work that ends as a step of its own (C7): the change after it is free.
        """
        tools: set[Tools] = {begun_with} if begun_with else set()
        works = []
        for fact in each_bit(forced):
            makers = self.makers.get(fact, ())
            if len(makers) == 1 and not makers[0].action.uses[-1].ends:
                first, last = ends(makers[0])
                if first == last and steady(makers[0]):
                    tools.add(first)
                else:
                    works.append((first, last))
        if op is not None:
            tools.add(op.action.uses[0].tools)
        tools.discard(frozenset())
        return Block(frozenset(tools), tuple(works))

    def filled(self, block: Block, done: int) -> Iterator[int]:
        """What is done with the tools of the block; where it uses none, any one tool may be used free."""
        held = block.held()
        if held:
            yield self.with_tools(held, done)
            return
        yield done
        seen = {done}
        for op in self.openings:
            if op.gives & ~done and ready(op, done):
                more = self.with_tools({use.tools for use in op.action.uses if use.tools}, done)
                if more not in seen:
                    seen.add(more)
                    yield more

    def with_tools(self, held: set[Tools], done: int) -> int:
        """All that the tools can open now; work that changes tools itself brings the others into the hand."""
        waiting = [op for op in self.openings if op.gives & ~done and ready(op, done)]
        more, grown = done, True
        while grown:
            grown = False
            for op in waiting:
                if op.gives & ~more and not held.isdisjoint(use.tools for use in op.action.uses):
                    more |= op.gives
                    if not steady(op):
                        held = held.union(use.tools for use in op.action.uses if use.tools)
                        grown = True
        return more

    def by_hand(self, done: int) -> int:
        """All that the bare hand can open now."""
        for op in self.openings:
            if op.gives & ~done and not op.action.uses[0].tools and ready(op, done):
                done |= op.gives
        return done

    def at_the_end(self, done: int, begun_with: Tools | None) -> int:
        """Openings that are left when all removals are done."""
        block = self.block(None, self.facts & ~done, begun_with)
        return max(0, block.paid() - self.helpers(done, block))

    def helpers(self, done: int, block: Block) -> int:
        """Openings to come that may each let a change of the block pass free.

        They end as a step of their own (C7), or change from one tool to another themselves.
        """
        left = [op for op in self.openings if op.gives & ~done]
        able = [op for op in left if op.action.uses[-1].ends or not steady(op)]
        return len(able) - len(block.works)


def ends(op: Op) -> tuple[Tools, Tools]:
    """The first and the last tool of an op's uses."""
    return op.action.uses[0].tools, op.action.uses[-1].tools


def steady(op: Op) -> bool:
    """Whether an op uses one tool throughout."""
    return len({use.tools for use in op.action.uses}) == 1
