"""Which facts a cheapest way achieves, by branch and bound over the real choices.

A node fixes a set of facts that must be achieved. Its problem is solved
optimistically: a choice with an alternative outside the set counts as met, and
parts linked by closed joints may come along. That cost bounds every way with
these facts. Where the order found holds in truth it is a cheapest one; where
it does not, the first choice it leaned on is settled in every possible way.
"""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush
from itertools import count as numbers

from midframe.ways.compile import Decisions, Link
from midframe.ways.inner import Found, Inner, Problem
from midframe.ways.landmarks import of_mask
from midframe.ways.links import IdleLinks
from midframe.ways.node import Broken, Node, Solution
from midframe.ways.problem import Problems
from midframe.ways.truth import Truth


class Branching:
    """One run of branch and bound for one goal."""

    def __init__(
        self, problems: Problems, goal: int, limit: int | None, best: Solution, *, greedy: bool = False
    ) -> None:
        self.problems, self.goal, self.limit, self.best, self.greedy = problems, goal, limit, best, greedy
        self.ground, self.mode = ground, mode = problems.ground, problems.mode
        self.compiler, self.costs = ground.compiler, ground.costs
        self.marks, self.possible = mode.marks, mode.possible
        self.states, self.nodes = best.states, best.nodes
        self.tick = numbers()
        self.heap: list[tuple[int, bool, int, int, Node, tuple[Found, Problem] | None]] = []
        self.seen: set[Node] = set()
        self.doubtful: int | None = None
        self.links = IdleLinks(ground, mode, ground.used(goal))
        self.truth = Truth(ground, goal)

    def run(self) -> Solution:
        """Best first until the best order holds in truth, or nothing can beat the best known."""
        self.add(Node(of_mask(self.goal, self.marks), decided=self.mode.decided), 0)
        while self.heap:
            bound, _, _, _, node, answer = heappop(self.heap)
            if self.best.moves is not None and bound >= self.best.cost:
                break
            if answer is None:
                self.weigh(node, bound)
                continue
            found, problem = answer
            if found.actions is None:
                return self.stopped(0 if self.greedy else bound)
            broken = self.truth.broken(found.actions, node, problem)
            if broken is None:
                bound = 0 if self.greedy else self.sure(found.cost)
                return Solution(self.truth.pruned(found.actions), found.cost, bound, self.nodes, self.states)
            if broken.puzzling and self.doubtful is None:
                self.doubtful = bound
            for child in self.children(node, broken):
                self.add(child, bound)
        return self.best._replace(bound=self.sure(self.best.cost), nodes=self.nodes, states=self.states)

    def sure(self, bound: int) -> int:
        """A bound, no higher than where something was left out without proof."""
        return bound if self.doubtful is None else min(bound, self.doubtful)

    def stopped(self, bound: int) -> Solution:
        """The best known when the limit ended the search, with the bound reached."""
        bound = self.sure(bound)
        if self.best.moves is None:
            return Solution(None, -1, bound, self.nodes, self.states)
        return self.best._replace(bound=min(bound, self.best.cost), nodes=self.nodes, states=self.states)

    def add(self, node: Node, bound: int) -> None:
        """Queues a node under the bound of the node it comes from."""
        node = self.links.settled(node)
        if node in self.seen or node.facts & ~self.possible:
            return
        self.seen.add(node)
        heappush(self.heap, (bound, True, -node.facts.bit_count(), next(self.tick), node, None))

    def weigh(self, node: Node, bound: int) -> None:
        """Solves a node optimistically and queues it under its own bound."""
        problem = self.problems.problem(node)
        if problem is None:
            return
        left = None if self.limit is None else max(1, self.limit - self.states)
        ceiling = self.best.cost if self.best.moves is not None else None
        found = Inner(problem, self.costs, left, ceiling, greedy=self.greedy).run()
        self.nodes += 1
        self.states += found.states
        if found.cost >= 0:
            entry = max(bound, found.bound), False, -node.facts.bit_count(), next(self.tick)
            heappush(self.heap, (*entry, node, (found, problem)))

    def children(self, node: Node, broken: Broken) -> Iterator[Node]:
        """All ways to settle what an order leaned on; together they hold every way the node holds."""
        action = broken.action
        if broken.link is not None:
            yield from self.link_children(node, broken.link)
        elif broken.opened:
            yield node._replace(banned=node.banned | {action.key})
            for joint in broken.opened:
                yield node._replace(held=node.held | {(joint, action.gives)})
        elif broken.group is not None:
            if any(mask & ~node.facts == 0 for mask in broken.group):
                yield node._replace(cuts=node.cuts | {(action.key, broken.group)})
            else:
                yield node._replace(banned=node.banned | {action.key})
            for mask in broken.group:
                if mask & ~node.facts and mask & ~self.possible == 0:
                    yield node._replace(facts=node.facts | of_mask(mask, self.marks))
        else:
            yield node._replace(banned=node.banned | {action.key})
            if action.need & ~self.possible == 0 and action.need & ~node.facts:
                yield node._replace(facts=node.facts | of_mask(action.need, self.marks))

    def link_children(self, node: Node, link: Link) -> Iterator[Node]:
        """A link is opened before the part leaves, or stays closed and both leave together.

        Or the other has left before, together with something that carries the part.
        """
        decided = node.decided
        opened = self.compiler.opened(link.joint)
        riders = self.compiler.riders[link.part]
        here = [held for held in self.ground.rules.joints[link.joint].holds if held in riders]
        facts = node.facts
        if opened & self.possible and all(not self.compiler.gone(held, link.part) for held in here):
            facts |= self.marks[opened]
        parted = decided._replace(parted=decided.parted | {(link.joint, link.part)})
        yield node._replace(facts=facts, decided=parted)
        for part in (link.part, *self.ground.rules.carriers[link.part]):
            for known in self.compiler.links_of[part]:
                kept = self.kept(decided, link, known)
                if kept is not None:
                    asides = self.compiler.aside(known.part) | self.compiler.aside(known.other)
                    facts = node.facts | of_mask(asides & self.possible, self.marks)
                    yield node._replace(facts=facts, decided=kept)

    def kept(self, decided: Decisions, link: Link, known: Link) -> Decisions | None:
        """The decisions with a link of the same joint kept closed; None where that cannot be."""
        if known.joint != link.joint:
            return None
        kept = decided._replace(kept=decided.kept | {known})
        if known.part == link.part:
            return kept
        if (known.joint, known.part) in decided.parted or (known.joint, known.other) in decided.parted:
            return None
        rules = self.ground.rules
        if not set(rules.carriers[link.part]).isdisjoint(rules.joints[link.joint].holds):
            return None
        trail = Link(link.joint, link.part, known.other)
        return kept._replace(trailing=decided.trailing | {trail})
