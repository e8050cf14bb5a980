"""The optimistic problem of a node: what its facts need of one another, and what gives them."""

from __future__ import annotations

from midframe.ways.compile import UNDECIDED, Decisions
from midframe.ways.facts import Action, Group, each_bit, union
from midframe.ways.ground import Ground, Mode
from midframe.ways.inner import Problem
from midframe.ways.landmarks import of_mask
from midframe.ways.node import Node
from midframe.ways.op import Op


class Problems:
    """Makes the problems of nodes under one mode, each once."""

    def __init__(self, ground: Ground, mode: Mode) -> None:
        self.ground, self.mode = ground, mode
        self.made: dict[Node, Problem | None] = {}
        self.rules, self.compiler, self.costs = ground.rules, ground.compiler, ground.costs
        self.marks, self.possible, self.achievers = mode.marks, mode.possible, mode.achievers

    def makers(self, fact: int, node: Node) -> list[Action]:
        """The actions of a node that give a fact: openings, its own lift, lifts it may come with."""
        part = self.ground.part_of.get(fact)
        if part is None:
            return [a for a in self.achievers.get(fact, ()) if a.key not in node.banned]
        decided = node.decided
        own = self.ground.lift(part, decided)
        roots = self.compiler.roots(part, decided)
        found = [own, *(self.ground.lift(other, decided) for other in roots[1:])]
        return self.best_grips([action for action in found if action.key not in node.banned])

    def best_grips(self, lifts: list[Action]) -> list[Action]:
        """Of lifts that give the same and use hands and face alike, the cheapest."""
        kept: dict[tuple[object, ...], Action] = {}
        for action in lifts:
            use = action.uses[0]
            key = (action.gives, use.tools, use.extra_tools, use.face if self.costs.counts_time else None)
            if key not in kept or self.costs.least(action) < self.costs.least(kept[key]):
                kept[key] = action
        return list(kept.values())

    def problem(self, node: Node) -> Problem | None:
        """The optimistic problem of a node; None where a fact cannot be achieved at all."""
        if node not in self.made:
            self.made[node] = self.make(node)
        return self.made[node]

    def make(self, node: Node) -> Problem | None:
        """What `problem` gives, worked out."""
        makers: dict[int, list[Action]] = {}
        for fact in each_bit(node.facts):
            makers[fact] = self.makers(fact, node)
            if not makers[fact]:
                return None
        draft = Draft(self, node, makers)
        least, credit = {}, {}
        for fact, giving in makers.items():
            alone = not fact & (draft.shared | led(giving, node.facts))
            least[fact] = min(map(draft.least, giving)) if alone else 0
            credit[fact] = min(map(draft.credit, giving)) if alone else 0
        ops = tuple(draft.op(action, least) for action in draft.actions.values())
        return Problem(node.facts, ops, least, credit, draft.clusters(), loose_end(ops), [])

    def choices(self, action: Action, node: Node) -> tuple[Group, ...]:
        """Choices that bind inside the node: those settled, and those without an alternative outside."""
        binding = []
        for group in action.choices:
            inside = tuple(mask for mask in group if mask & ~node.facts == 0)
            if len(inside) == len(group) or (action.key, group) in node.cuts:
                binding.append(inside)
        return tuple(binding)

    def companions(self, action: Action, node: Node) -> tuple[tuple[int, int], ...]:
        """Facts of the node that may come with a lift by undecided links, with what they need themselves."""
        if not action.move.lift:
            return ()
        part = action.move.lift[0]
        found = []
        for other in self.compiler.company(self.compiler.roots(part, node.decided), node.decided):
            fact = self.compiler.aside(other)
            if fact & node.facts & ~action.gives and not self.ordered(fact, action.gives):
                found.append((self.ground.lift(other, UNDECIDED).need & node.facts, fact))
        return tuple(found)

    def ordered(self, one: int, other: int) -> bool:
        """Whether a lift must wait for the other part to be aside, so that they cannot leave together."""
        part = self.ground.part_of[one]
        mine = self.ground.lift(part, UNDECIDED).need
        theirs = union(self.ground.lift(self.ground.part_of[f], UNDECIDED).need for f in each_bit(other))
        return bool(of_mask(mine & self.possible, self.marks) & other) or bool(
            of_mask(theirs & self.possible, self.marks) & one
        )

    def later(self, decided: Decisions) -> list[tuple[int, int]]:
        """Facts that must wait for a kept link's parts to have left, with what they wait for."""
        found = [
            (self.compiler.opened(link.joint), self.compiler.aside(link.part)) for link in decided.trailing
        ]
        for link in decided.kept:
            both = self.compiler.aside(link.part) | self.compiler.aside(link.other)
            found.append((self.compiler.opened(link.joint), both))
            for held in self.rules.joints[link.joint].holds:
                for root in (link.part, link.other):
                    if held in self.compiler.riders[root]:
                        found += [(fact, both) for fact in self.compiler.gone(held, root)]
        return found


class Draft:
    """One problem in the making: the actions of a node and how they stand to one another."""

    def __init__(self, problems: Problems, node: Node, makers: dict[int, list[Action]]) -> None:
        self.problems, self.node, self.makers, self.costs = problems, node, makers, problems.costs
        self.actions = {action.key: action for actions in makers.values() for action in actions}
        self.companions = {key: problems.companions(action, node) for key, action in self.actions.items()}
        self.ruiners: dict[int, int] = {}
        for action in self.actions.values():
            for bit, _ in action.ruins:
                self.ruiners[bit] = self.ruiners.get(bit, 0) + 1
        held = [(problems.compiler.opened(joint), parts) for joint, parts in node.held]
        self.waits = problems.later(node.decided) + held
        self.shared = self.find_shared()

    def find_shared(self) -> int:
        """Facts of the node that one lift may give together with others, perhaps."""
        shared = 0
        for key, found in self.companions.items():
            if found:
                shared |= self.actions[key].gives | union(gives for _, gives in found)
        return shared & self.node.facts

    def clusters(self) -> tuple[tuple[int, int], ...]:
        """Sets of facts that one lift may give, none two of them, with the least cost of one lift each."""
        found: list[tuple[int, int]] = []
        for action in self.actions.values():
            mask = self.reach(action) & self.node.facts
            if not mask & self.shared:
                continue
            cost = self.costs.least(action)
            for other in [entry for entry in found if entry[0] & mask]:
                found.remove(other)
                mask, cost = mask | other[0], min(cost, other[1])
            found.append((mask, cost))
        return tuple((mask & self.shared, cost) for mask, cost in found)

    def op(self, action: Action, least: dict[int, int]) -> Op:
        """An action as this problem sees it."""
        facts = self.node.facts
        gives, companions = action.gives & facts, self.companions[action.key]
        giving = next((self.makers[fact] for fact in each_bit(gives)), [])
        single = not companions and len({rival.gives & facts for rival in giving}) == 1
        cost, lead = self.least(action), gives & -gives
        later = union(need for fact, need in self.waits if action.gives & fact)
        return Op(
            action=action,
            table=self.costs.table(action),
            need=(action.need | later) & facts,
            choices=self.problems.choices(action, self.node),
            gives=gives,
            reach=self.reach(action) & facts,
            least=cost,
            fixed=self.fixed(action),
            ruins=tuple((b, self.costs.price(p)) for b, p in action.ruins if self.ruiners[b] > 1),
            lifts=bool(action.move.lift),
            calm=single and cost == least[lead] and all(map(steady, giving)),
            sole=single and len(giving) == 1,
            companions=companions,
        )

    def reach(self, action: Action) -> int:
        """What an action gives, alone or with what may come along."""
        return action.gives | union(gives for _, gives in self.companions[action.key])

    def least(self, action: Action) -> int:
        """What an action costs at least, with the parts that only it loses."""
        return self.costs.least(action) + self.fixed(action)

    def credit(self, action: Action) -> int:
        """What is surely saved where an action is done already, with the parts that only it loses."""
        return self.costs.credit(action) + self.fixed(action)

    def fixed(self, action: Action) -> int:
        """The price of parts that no other action of the problem loses."""
        return sum(self.costs.price(price) for bit, price in action.ruins if self.ruiners[bit] == 1)


def led(giving: list[Action], facts: int) -> int:
    """Facts that only come together with a lower one, which stands for all in the sums."""
    together = giving[0].gives & facts
    if any(action.gives & facts != together for action in giving):
        return together
    return together & ~(together & -together)


def loose_end(ops: tuple[Op, ...]) -> bool:
    """Whether an opening may come last: a joint of the goal that no lift waits for."""
    waited = union(op.need for op in ops if op.lifts)
    opened = union(op.gives for op in ops if not op.lifts)
    return bool(opened & ~waited)


def steady(action: Action) -> bool:
    """Whether an action ends with the tools it began with, so that no swap hides in it."""
    return len({use.tools for use in action.uses}) == 1
