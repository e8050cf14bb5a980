"""Links between parts that are best opened: keeping them closed can never pay."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.ways.compile import Link
from midframe.ways.facts import Action, each_bit
from midframe.ways.ground import Ground, Mode
from midframe.ways.landmarks import of_mask
from midframe.ways.node import Node


class IdleLinks:
    """Decides links for one goal; `wanted` are all facts that any way to it could ever make use of."""

    def __init__(self, ground: Ground, mode: Mode, wanted: int) -> None:
        self.ground, self.wanted = ground, wanted
        self.linked = [(part, links) for part, links in ground.compiler.links_of.items() if links]
        self.rules, self.compiler, self.costs = ground.rules, ground.compiler, ground.costs
        self.marks, self.possible, self.achievers = mode.marks, mode.possible, mode.achievers

    def settled(self, node: Node) -> Node:
        """Decides links where keeping them closed can never pay, and adds what follows."""
        while True:
            ready = list(self.idle_links(node))
            if not ready:
                return node
            facts = node.facts
            for link in ready:
                facts |= self.marks[self.compiler.opened(link.joint)]
            parted = node.decided.parted | {(link.joint, link.part) for link in ready}
            node = node._replace(facts=facts, decided=node.decided._replace(parted=parted))

    def idle_links(self, node: Node) -> Iterator[Link]:
        """Links of the node's lifts that are best opened: what would come along is of no use."""
        for fact in each_bit(node.facts):
            part = self.ground.part_of.get(fact)
            if part is None or not self.compiler.links_of[part]:
                continue
            roots = self.compiler.roots(part, node.decided)
            for link in self.compiler.undecided(roots, node.decided):
                if self.idle(link, node):
                    yield link

    def idle(self, link: Link, node: Node) -> bool:
        """Whether opening the link before the lift is at least as good as any way that keeps it closed.

        Such a way could be changed: the link is opened once all it waits for is
        done, what would come along stays, and what was done for that alone is left
        out. That must save no less than the opening and its swaps cost at most.
        """
        opened = self.compiler.opened(link.joint)
        if opened & ~self.possible:
            return False
        openers = self.achievers[opened]
        if len(openers) != 1 or openers[0].ruins or openers[0].choices:
            return False
        waits_for = of_mask(self.ground.lift(link.part, node.decided).need & self.possible, self.marks)
        if openers[0].need & ~waits_for:
            return False
        wanted = self.wanted_beside(link.joint, node)
        others = {known.other for known in self.compiler.links_of[link.part] if known.joint == link.joint}
        if any(self.compiler.aside(other) & wanted for other in others):
            return False
        spent = 0 if opened & node.facts else self.costs.least(openers[0])
        if not self.has_mate(openers[0], waits_for):
            spent += self.costs.step + 2 * (self.costs.change + self.costs.flip)
        return all(
            self.saved(other, node, wanted) >= spent + self.grip_gain(link.part, other) for other in others
        )

    def wanted_beside(self, joint: str, node: Node) -> int:
        """All facts any way of the node could make use of while nothing comes along by one joint."""
        parted = node.decided.parted
        found, grown = self.wanted, True
        while grown:
            grown = False
            for part, links in self.linked:
                if self.compiler.aside(part) & found:
                    for link in links:
                        more = self.compiler.aside(link.other)
                        if more & ~found and link.joint != joint and (link.joint, part) not in parted:
                            found |= self.ground.used(more)
                            grown = True
        return found

    def saved(self, other: str, node: Node, wanted: int) -> int:
        """What is left out at least when a part need not come along."""
        alone = self.marks.get(self.compiler.aside(other), 0) & ~node.facts & ~wanted
        return sum(self.least(fact) for fact in each_bit(alone & ~self.compiler.aside(other)))

    def grip_gain(self, part: str, other: str) -> int:
        """What it could save at most that another part leads the lift."""
        own, rival = self.rules.parts[part], self.rules.parts[other]
        if self.compiler.handled(own) == self.compiler.handled(rival):
            return 0
        alone = self.ground.lift(part, self.ground.modes[0].decided)
        return self.costs.swap + self.costs.flip + self.costs.least(alone)

    def least(self, fact: int) -> int:
        """What a fact costs at least."""
        return min((self.costs.least(action) for action in self.achievers.get(fact, ())), default=0)

    def has_mate(self, action: Action, among: int) -> bool:
        """Whether an opening among the facts has the same use and waits for all that this one waits for."""
        if action.choices or action.need & ~among or len(action.uses) != 1 or action.uses[0].ends:
            return False
        use = action.uses[0]
        for fact in each_bit(among & ~action.gives):
            makers = self.achievers.get(fact, ())
            if len(makers) == 1 and makers[0].move.open and len(makers[0].uses) == 1:
                other = makers[0].uses[0]
                same = other.tools == use.tools and other.face == use.face and not other.ends
                if same and action.need & ~makers[0].need == 0:
                    return True
        return False
