"""The best distinct alternatives of a way in, such as the one from the other face."""

from __future__ import annotations

from heapq import heappop, heappush

import msgspec

from midframe.record.model import Move, Record
from midframe.ways.count import Count
from midframe.ways.facts import Bits
from midframe.ways.restrict import restricted
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound, Way
from midframe.ways.wording import Difference, aside_of, difference, first_face, moves_of, openings

SOLVES = 40
"""How often a target is solved again at most: house choice."""


class Alternative(msgspec.Struct, frozen=True):
    """Another way to the same target, and what differs from the best one."""

    way: Way
    difference: Difference


class Alternatives(msgspec.Struct, frozen=True):
    """The best way and its alternatives, best first.

    `complete` says that the ranking is exact: nothing better and distinct was
    left untried, every way in it is proven, and where there are fewer than
    asked for, there are no more.
    """

    target: str
    best: Way | NoWayFound
    others: tuple[Alternative, ...]
    complete: bool


def alternatives(planner: Planner, target: str, *, most: int = 3, solves: int = SOLVES) -> Alternatives:
    """At most `most` alternatives of the best way in to a part, ranked by the objective.

    Two ways are distinct where they lift other parts, open a joint in another
    way, or open other joints and begin at another face. A way that lifts all
    that a better one lifts, and more, is work added to it and no alternative.
    `UnknownPart` for an id that is not in the record.
    """
    best = planner.way(target)
    if isinstance(best, NoWayFound):
        return Alternatives(target, best, (), complete=True)
    hunt = Hunt(planner, target, solves)
    found = hunt.run(best, most)
    others = tuple(Alternative(way, difference(planner.record, way.count, best.count)) for way in found[1:])
    proven = all(way.proven for way in found)
    return Alternatives(target, best, others, complete=not hunt.cut and proven)


def distinct(record: Record, one: Count, other: Count) -> bool:
    """Whether two counted ways differ in more than their order.

    They do where they lift other parts, open a joint in another way, or open
    other joints and begin at another face.
    """
    if set(aside_of(one)) != set(aside_of(other)):
        return True
    by, by_other = openings(moves_of(one)), openings(moves_of(other))
    if any(by_other.get(joint, way) != way for joint, way in by.items()):
        return True
    return by.keys() != by_other.keys() and first_face(record, one) != first_face(record, other)


def worth(record: Record, count: Count, better: list[Way]) -> bool:
    """Whether a counted way is distinct from all better ones, and none of them with work added."""
    mine = set(aside_of(count))
    return not any(
        mine > set(aside_of(other.count)) or not distinct(record, count, other.count) for other in better
    )


class Hunt:
    """Ways in order of cost: each one found is forbidden, a move at a time, and solved again without it."""

    def __init__(self, planner: Planner, target: str, solves: int) -> None:
        self.planner, self.target, self.left = planner, target, solves
        self.bits = Bits()
        self.needed: set[Move] = set()
        self.tried: set[frozenset[Move]] = {frozenset()}
        self.heap: list[tuple[tuple[int, ...], int, frozenset[Move], Way]] = []
        self.cut = False

    def run(self, best: Way, most: int) -> list[Way]:
        """The best way and at most so many distinct ones after it."""
        found: list[Way] = []
        heappush(self.heap, (best.value, 0, frozenset(), best))
        while self.heap:
            _, _, without, way = heappop(self.heap)
            if worth(self.planner.record, way.count, found):
                found.append(way)
                if len(found) > most:
                    return found
            self.branch(way, without)
        return found

    def branch(self, way: Way, without: frozenset[Move]) -> None:
        """Solves again without each move of a way that is not needed in all ways."""
        for move in way.moves:
            excluded = without | {move}
            if move in self.needed or excluded in self.tried:
                continue
            if self.left <= 0:
                self.cut = True
                return
            self.tried.add(excluded)
            self.left -= 1
            again = self.solved(excluded)
            if isinstance(again, Way):
                heappush(self.heap, (again.value, len(self.tried), excluded, again))
            elif not without:
                self.needed.add(move)

    def solved(self, excluded: frozenset[Move]) -> Way | NoWayFound:
        """The best way without some moves."""
        again = restricted(self.planner, without=excluded, bits=self.bits)
        return again.way(self.target)
