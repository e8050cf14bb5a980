"""How many tool changes must still count as steps: a bound under the segment reading.

A step begun with one tool is ended for free only by a removal. Between two
removals as many changes are paid as tools are used there, less one. Work need
not be done before the removal that waits for it; done before, it is of use
only where no other tool is used before a removal. That leaves the order of
the removals, which is tried out with everything learned kept.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from midframe.ways.facts import Group, each_bit, union
from midframe.ways.op import Op

Tools = frozenset[str]


class Piece(NamedTuple):
    """An op as the bound sees it: sets of tools are bits, 0 is the bare hand.

    `tools` are those it can be taken up with, `first` and `last` those it begins and
    ends with. `fresh`: a step begun before it costs a change in any case; `joins`: it
    changes tools itself and may be begun with the tool in hand; `begins`: a step is
    begun after it.
    """

    gives: int
    reach: int
    need: int
    choices: tuple[Group, ...]
    tools: int
    first: int
    last: int
    fresh: bool
    joins: bool
    begins: bool

    def ready(self, done: int) -> bool:
        """Whether the facts done meet its needs."""
        return not self.need & ~done and (not self.choices or met(self.choices, done))


class Block(NamedTuple):
    """What is used between two removals.

    Tools, how many works begin afresh beyond the first of each tool, and works that
    change tools themselves (first, last).
    """

    tools: int
    fresh: int
    works: tuple[tuple[int, int], ...]

    def paid(self) -> int:
        """Changes between them that count, at least: works that begin or end with a tool used join it."""
        alone = self.tools.bit_count() + self.fresh - 1
        if not self.works:
            return max(0, alone)
        joined = 0
        for index, (first, last) in enumerate(self.works):
            joined += bool(first & self.tools) + bool(last & self.tools)
            joined += any(last == other for k, (other, _) in enumerate(self.works) if k != index)
        return max(0, alone + len(self.works) - joined)

    def held(self) -> int:
        """Every tool that is in hand at some time of the block."""
        return self.tools | union(first | last for first, last in self.works)


class Swaps:
    """The bound for one problem; `after(done, begun_with)` is the least number of paid changes to come."""

    def __init__(self, facts: int, ops: Sequence[Op]) -> None:
        self.facts = facts
        self.numbers: dict[Tools, int] = {frozenset(): 0}
        pieces = [(op.lifts, self.piece(op)) for op in ops]
        self.lifts = [piece for lifts, piece in pieces if lifts]
        self.openings = [piece for lifts, piece in pieces if not lifts]
        self.by_hand = [piece for piece in self.openings if not piece.tools]
        self.aside = union(piece.reach for piece in self.lifts)
        self.helping = [piece for piece in self.openings if piece.joins]
        self.makers: dict[int, list[Piece]] = {}
        for piece in self.openings:
            self.makers.setdefault(piece.gives, []).append(piece)
        self.memo: dict[tuple[int, int], int] = {}

    def piece(self, op: Op) -> Piece:
        """An op with its tools numbered.

        Heating and cleaning (C7) begin no step: a change after them is free unless
        one was begun before them, which then costs a change in any case.
        """
        uses = [(self.number(use.tools), bool(use.ends)) for use in op.action.uses if use.tools]
        hands = [tool for tool, _ in uses] or [0]
        fresh = joins = begins = False
        for index, (tool, ends) in enumerate(uses):
            if index and tool != hands[index - 1]:
                fresh = fresh or not (begins or joins)
                joins, begins = not fresh, False
            begins = begins or not ends
        return Piece(
            gives=op.gives,
            reach=op.reach,
            need=op.need,
            choices=op.choices,
            tools=union(hands) if joins else hands[-1],
            first=hands[0],
            last=hands[-1],
            fresh=fresh,
            joins=joins,
            begins=begins,
        )

    def number(self, tools: Tools) -> int:
        """The bit of a set of tools."""
        return self.numbers.setdefault(tools, 1 << len(self.numbers))

    def after(self, done: int, begun_with: Tools | None) -> int:
        """Paid changes to come at least, once `done` holds and a step is begun with a tool (or none is)."""
        return self.least(done, self.number(begun_with) if begun_with else 0)

    def least(self, done: int, begun: int) -> int:
        """What `after` gives, the tool as a bit."""
        for piece in self.by_hand:
            if piece.gives & ~done and piece.ready(done):
                done |= piece.gives
        key = (done, begun)
        known = self.memo.get(key)
        if known is None:
            known = self.memo[key] = self.best(done, begun)
        return known

    def best(self, done: int, begun: int) -> int:
        """The cost of the removal that is best done next, with all that comes after."""
        if not self.aside & self.facts & ~done:
            forced = self.facts & ~done
            block = self.block(0, forced, begun)
            return max(0, block.paid() - self.helpers(done, block, forced))
        best: int | None = None
        for lift in self.lifts:
            if lift.reach & ~done and self.may_be_next(lift, done):
                cost = self.through(lift, done, begun, best)
                if best is None or cost < best:
                    best = cost
                if not best:
                    break
        return best or 0

    def through(self, lift: Piece, done: int, begun: int, known: int | None) -> int:
        """The cost of one removal done next, with all that comes after; `known` or more is of no interest."""
        forced = lift.need & ~done & ~self.aside
        block = self.block(lift.first, forced, begun)
        paid = block.paid()
        if paid and self.helping:
            paid = max(0, paid - self.helpers(done, block, forced))
        best = known
        for before in self.filled(block, done):
            for gives in {lift.gives, lift.reach}:
                if best is not None and paid >= best:
                    return best
                if gives & ~done:
                    cost = paid + self.least(before | lift.need & ~self.aside | gives, 0)
                    best = cost if best is None else min(best, cost)
        return paid if best is None else best

    def may_be_next(self, lift: Piece, done: int) -> bool:
        """Whether all a removal waits for is done, or can be done without another removal."""
        if lift.need & self.aside & ~done:
            return False
        if lift.choices and not met(lift.choices, done | ~self.aside):
            return False
        for fact in each_bit(lift.need & ~done & ~self.aside):
            if not any(maker.ready(done) for maker in self.makers.get(fact, ())):
                return False
        return True

    def block(self, tools: int, forced: int, begun: int) -> Block:
        """What must be used before a removal; a joint that opens in several ways asks for none of them."""
        tools |= begun
        fresh, afresh, works = 0, 0, []
        for fact in each_bit(forced):
            makers = self.makers.get(fact, ())
            if len(makers) != 1 or not makers[0].begins:
                continue
            if makers[0].joins:
                works.append((makers[0].first, makers[0].last))
                continue
            if makers[0].fresh:
                fresh += 1
                afresh |= makers[0].last
            tools |= makers[0].last
        return Block(tools, fresh - afresh.bit_count(), tuple(works))

    def filled(self, block: Block, done: int) -> set[int]:
        """What is done with the tools of the block; where it uses none, any one tool may be used free."""
        held = block.held()
        if held:
            return {self.with_tools(held, done)}
        hands = {piece.tools for piece in self.openings if piece.gives & ~done and piece.ready(done)}
        return {self.with_tools(tools, done) for tools in hands} or {done}

    def with_tools(self, held: int, done: int) -> int:
        """All that the tools can open now; work that changes tools itself brings the others into the hand."""
        more, grown = done, True
        while grown:
            grown = False
            for piece in self.openings:
                if piece.gives & ~more and piece.tools & held and piece.ready(done):
                    more |= piece.gives
                    if piece.joins:
                        held |= piece.tools
                        grown = True
        return more

    def helpers(self, done: int, block: Block, forced: int) -> int:
        """Changes that may pass free because an opening goes from one tool of the block to another."""
        able = [piece for piece in self.helping if piece.gives & ~done and piece.ready(done)]
        count = 0
        for piece in able:
            others = (other.first | other.last for other in able if other is not piece)
            pool = block.held() | union(others)
            counted = piece.begins and piece.gives & forced and len(self.makers[piece.gives]) == 1
            if not counted and piece.first & pool and (piece.last & pool or not piece.begins):
                count += 1
        return count


def met(choices: tuple[Group, ...], done: int) -> bool:
    """Whether each choice has an alternative that is done."""
    for group in choices:
        for mask in group:
            if done & mask == mask:
                break
        else:
            return False
    return True
