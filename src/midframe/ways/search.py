"""The exact search: which facts a cheapest way achieves, by branch and bound over the real choices.

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
from typing import NamedTuple

from midframe.record.model import Move, Record
from midframe.ways.bench import Bench
from midframe.ways.compile import UNDECIDED, Compiler, Decisions, Link
from midframe.ways.costs import Costs
from midframe.ways.count import lead_of
from midframe.ways.facts import Action, Bits, Group, each_bit, union
from midframe.ways.inner import Found, Inner, Problem
from midframe.ways.landmarks import achievers_of, landmarks, of_mask, reachable
from midframe.ways.objective import Objective
from midframe.ways.op import Op
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules, State

Cut = tuple[tuple[object, ...], Group]


class Node(NamedTuple):
    """Facts to achieve, choices settled for what lies inside them, actions banned, links decided."""

    facts: int
    cuts: frozenset[Cut] = frozenset()
    banned: frozenset[tuple[object, ...]] = frozenset()
    decided: Decisions = UNDECIDED
    held: frozenset[tuple[str, int]] = frozenset()


class Solution(NamedTuple):
    """Moves of the best way found (None: no way), its cost, the bound, and the nodes and states it took."""

    moves: tuple[Move, ...] | None
    cost: int
    bound: int
    nodes: int
    states: int

    @property
    def proven(self) -> bool:
        """Whether no cheaper way exists under the rules."""
        return self.cost == self.bound


class Mode(NamedTuple):
    """What is derived once for all targets: under all links parted, and with links undecided."""

    decided: Decisions
    lifts: list[Action]
    possible: int
    achievers: dict[int, list[Action]]
    marks: dict[int, int]


NOTHING = Solution(None, -1, -1, 0, 0)


class Broken(NamedTuple):
    """What an optimistic order leaned on that does not hold: a choice, a need, a link, or joints opened too early."""

    action: Action
    group: Group | None = None
    link: Link | None = None
    opened: tuple[str, ...] = ()


class Search:
    """The search on one record under one objective; targets share all that is compiled.

    Moves in `without` are left out.
    """

    def __init__(
        self,
        record: Record,
        objective: Objective,
        readings: Readings,
        bench: Bench,
        bits: Bits | None = None,
        *,
        without: frozenset[Move] = frozenset(),
    ) -> None:
        self.rules, self.without = Rules(record), without
        self.compiler = Compiler(record, readings, bench, bits if bits is not None else Bits(), self.rules)
        openings = (action for joint in record.joints for action in self.compiler.openings(joint))
        self.openings = [action for action in openings if action.move not in without]
        self.lifted: dict[tuple[str, Decisions], Action] = {}
        linked = frozenset((link.joint, link.part) for links in self.compiler.links_of.values() for link in links)
        self.modes = [self.mode(Decisions(parted=linked))] + ([self.mode(UNDECIDED)] if linked else [])
        self.costs = Costs(objective, readings, bench, self.openings + self.modes[0].lifts)
        self.part_of = {self.compiler.aside(part): part for part in self.rules.parts}

    def mode(self, decided: Decisions) -> Mode:
        """Everything derived once under a starting decision about the links."""
        lifts = [self.lift(part, decided) for part in self.rules.parts if part != self.rules.body]
        actions = self.openings + lifts
        possible = reachable(actions)
        achievers = achievers_of(action for action in actions if action.need & ~possible == 0)
        return Mode(decided, lifts, possible, achievers, landmarks(achievers, possible))

    def lift(self, part: str, decided: Decisions) -> Action:
        """The compiled lift of a part under decisions, kept."""
        key = (part, decided)
        if key not in self.lifted:
            action = self.compiler.lift(part, decided)
            if action.move in self.without:
                action.need |= self.compiler.bits("never", "")
                action.seal()
            self.lifted[key] = action
        return self.lifted[key]

    def goal(self, target: str) -> int:
        """The facts that mean "out": what must be aside, and every joint that leads away open."""
        bundle = self.rules.bundle(target)
        leaving = [part for part in bundle if self.rules.seat_of[part] not in bundle]
        away = [
            joint.id
            for joint in self.rules.record.joints
            if not bundle.isdisjoint(joint.holds) and not bundle.issuperset(joint.holds)
        ]
        return union(map(self.compiler.aside, leaving)) | union(map(self.compiler.opened, away))

    def solve(self, goal: int, limit: int | None = None) -> Solution:
        """A cheapest way to a goal; with a limit on states the best bound reached.

        First with every link opened before its parts leave, which is quick and
        usually best, then with links undecided, to prove it or to find better.
        """
        best = NOTHING
        for mode in self.modes:
            if goal & ~mode.possible == 0:
                if limit is not None and best.moves is None:
                    best = Branching(self, mode, goal, limit, best, greedy=True).run()
                best = Branching(self, mode, goal, limit, best._replace(states=0)).run()
        return best


class Branching:
    """One run of branch and bound for one goal."""

    def __init__(
        self, search: Search, mode: Mode, goal: int, limit: int | None, best: Solution, *, greedy: bool = False
    ) -> None:
        self.greedy = greedy
        self.search, self.mode, self.goal, self.limit, self.best = search, mode, goal, limit, best
        self.rules, self.compiler, self.costs = search.rules, search.compiler, search.costs
        self.marks, self.possible, self.achievers = mode.marks, mode.possible, mode.achievers
        self.states, self.nodes = best.states, best.nodes
        self.tick = numbers()
        self.heap: list[tuple[int, int, int, Node, Found, Problem]] = []
        self.seen: set[Node] = set()
        self.wanted = self.relevant()

    def relevant(self) -> int:
        """All facts any way to the goal could ever make use of, whatever comes along with what."""
        makers = [mode.achievers for mode in self.search.modes]
        found, queue = self.goal, [self.goal]
        while queue:
            more = 0
            for fact in each_bit(queue.pop()):
                for action in (action for achievers in makers for action in achievers.get(fact, ())):
                    more |= action.need | union(mask for group in action.choices for mask in group)
            if more & ~found:
                queue.append(more & ~found)
                found |= more
        return found

    def run(self) -> Solution:
        """Best first until the best order holds in truth, or nothing can beat the best known."""
        self.add(Node(of_mask(self.goal, self.marks), decided=self.mode.decided), 0)
        while self.heap:
            bound, _, _, node, found, problem = heappop(self.heap)
            if self.best.moves is not None and bound >= self.best.cost:
                break
            if found.actions is None:
                return self.stopped(0 if self.greedy else bound)
            broken = self.broken(found.actions, node, problem)
            if broken is None:
                bound = 0 if self.greedy else found.cost
                return Solution(self.pruned(found.actions), found.cost, bound, self.nodes, self.states)
            for child in self.children(node, broken):
                self.add(child, bound)
        return self.best._replace(bound=self.best.cost, nodes=self.nodes, states=self.states)

    def stopped(self, bound: int) -> Solution:
        """The best known when the limit ended the search, with the bound reached."""
        if self.best.moves is None:
            return Solution(None, -1, bound, self.nodes, self.states)
        return self.best._replace(bound=min(bound, self.best.cost), nodes=self.nodes, states=self.states)

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

    def add(self, node: Node, bound: int) -> None:
        """Solves a node optimistically and queues it."""
        node = self.settled(node)
        if node in self.seen or node.facts & ~self.possible:
            return
        self.seen.add(node)
        problem = self.problem(node)
        if problem is None:
            return
        left = None if self.limit is None else max(1, self.limit - self.states)
        ceiling = self.best.cost if self.best.moves is not None else None
        found = Inner(problem, self.costs, left, ceiling, greedy=self.greedy).run()
        self.nodes += 1
        self.states += found.states
        if found.cost >= 0:
            entry = (max(bound, found.bound), -node.facts.bit_count(), next(self.tick), node, found, problem)
            heappush(self.heap, entry)

    def settled(self, node: Node) -> Node:
        """Decides links where keeping them closed can never pay, and adds what follows."""
        while True:
            ready = [link for link in self.idle_links(node)]
            if not ready:
                return node
            facts = node.facts
            for link in ready:
                facts |= self.marks[self.compiler.opened(link.joint)]
            parted = node.decided.parted | {(link.joint, link.part) for link in ready}
            node = node._replace(facts=facts, decided=node.decided._replace(parted=parted))

    def idle_links(self, node: Node) -> Iterator[Link]:
        """Links of lifts in the node that are best opened: what would come along is of no use, opening comes along."""
        for fact in each_bit(node.facts):
            part = self.search.part_of.get(fact)
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
        waits_for = of_mask(self.search.lift(link.part, node.decided).need & self.possible, self.marks)
        if openers[0].need & ~waits_for:
            return False
        others = {known.other for known in self.compiler.links_of[link.part] if known.joint == link.joint}
        if any(self.compiler.aside(other) & self.wanted for other in others):
            return False
        spent = 0 if opened & node.facts else self.costs.least(openers[0])
        if not self.has_mate(openers[0], waits_for):
            spent += self.costs.step + 2 * (self.costs.change + self.costs.flip)
        return all(self.saved(other, node) >= spent + self.grip_gain(link.part, other, node) for other in others)

    def saved(self, other: str, node: Node) -> int:
        """What is left out at least when a part need not come along."""
        alone = self.marks.get(self.compiler.aside(other), 0) & ~node.facts & ~self.wanted
        return sum(self.least(fact) for fact in each_bit(alone & ~self.compiler.aside(other)))

    def grip_gain(self, part: str, other: str, node: Node) -> int:
        """What it could save at most that another part leads the lift."""
        own, rival = self.rules.parts[part], self.rules.parts[other]
        if self.compiler.handled(own) == self.compiler.handled(rival):
            return 0
        alone = self.search.lift(part, self.search.modes[0].decided)
        return self.costs.swap + self.costs.flip + self.costs.least(alone)

    def least(self, fact: int) -> int:
        """What a fact costs at least."""
        return min((self.costs.least(action) for action in self.achievers.get(fact, ())), default=0)

    def has_mate(self, action: Action, among: int) -> bool:
        """Whether some opening among the facts has the same tools and face and waits for all that this waits for."""
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

    def makers(self, fact: int, node: Node) -> list[Action]:
        """The actions of a node that give a fact: openings, its own lift, lifts of linked parts it may come with."""
        part = self.search.part_of.get(fact)
        if part is None:
            return [a for a in self.achievers.get(fact, ()) if a.key not in node.banned]
        decided = node.decided
        own = self.search.lift(part, decided)
        roots = self.compiler.roots(part, decided)
        found = [own, *(self.search.lift(other, decided) for other in roots[1:])]
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
        makers: dict[int, list[Action]] = {}
        for fact in each_bit(node.facts):
            makers[fact] = self.makers(fact, node)
            if not makers[fact]:
                return None
        actions = {action.key: action for actions in makers.values() for action in actions}
        ruiners: dict[int, int] = {}
        for action in actions.values():
            for bit, _ in action.ruins:
                ruiners[bit] = ruiners.get(bit, 0) + 1
        later = self.later(node.decided) + [(self.compiler.opened(j), parts) for j, parts in node.held]
        companions = {key: self.companions(action, node) for key, action in actions.items()}
        shared = union(gives for found in companions.values() for _, gives in found)
        for key, found in companions.items():
            if found:
                shared |= actions[key].gives
        shared &= node.facts
        least, credit = {}, {}
        for fact, giving in makers.items():
            alone = not fact & (shared | self.led(giving, node.facts))
            fixed = [self.fixed(action, ruiners) for action in giving]
            least[fact] = min(map(self.cost_least, giving, fixed)) if alone else 0
            credit[fact] = min(map(self.cost_credit, giving, fixed)) if alone else 0
        ops = []
        for key, action in actions.items():
            gives = action.gives & node.facts
            reach = self.reach(action, companions[key]) & node.facts
            fixed_price = self.fixed(action, ruiners)
            cost = self.costs.least(action) + fixed_price
            giving = next((makers[fact] for fact in each_bit(gives)), [])
            single = not companions[key] and len({rival.gives & node.facts for rival in giving}) == 1
            lead = gives & -gives
            ops.append(
                Op(
                    action=action,
                    table=self.costs.table(action),
                    need=(action.need | union(need for fact, need in later if action.gives & fact)) & node.facts,
                    choices=self.choices(action, node),
                    gives=gives,
                    reach=reach,
                    least=cost,
                    fixed=fixed_price,
                    ruins=tuple((b, self.costs.price(p)) for b, p in action.ruins if ruiners[b] > 1),
                    lifts=bool(action.move.lift),
                    calm=single and cost == least[lead] and all(map(steady, giving)),
                    sole=single and len(giving) == 1,
                    companions=companions[key],
                )
            )
        clusters = ((shared, min(self.costs.least(a) for k, a in actions.items() if self.reach(a, companions[k]) & shared)),) if shared else ()
        return Problem(node.facts, tuple(ops), least, credit, clusters, self.loose_end(ops, node.facts))

    def led(self, giving: list[Action], facts: int) -> int:
        """Facts that only come together with a lower one, which stands for all in the sums."""
        together = giving[0].gives & facts
        if any(action.gives & facts != together for action in giving):
            return together
        return together & ~(together & -together)

    def reach(self, action: Action, companions: tuple[tuple[int, int], ...]) -> int:
        """What an action gives, alone or with what may come along."""
        return action.gives | union(gives for _, gives in companions)

    def cost_least(self, action: Action, fixed: int) -> int:
        return self.costs.least(action) + fixed

    def cost_credit(self, action: Action, fixed: int) -> int:
        return self.costs.credit(action) + fixed

    def fixed(self, action: Action, ruiners: dict[int, int]) -> int:
        """The price of parts that no other action of the problem loses."""
        return sum(self.costs.price(price) for bit, price in action.ruins if ruiners[bit] == 1)

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
                found.append((self.search.lift(other, UNDECIDED).need & node.facts, fact))
        return tuple(found)

    def ordered(self, one: int, other: int) -> bool:
        """Whether a lift must wait for the other part to be aside, so that they cannot leave together."""
        part = self.search.part_of[one]
        mine = self.search.lift(part, UNDECIDED).need
        theirs = union(self.search.lift(self.search.part_of[f], UNDECIDED).need for f in each_bit(other))
        return bool(of_mask(mine & self.possible, self.marks) & other) or bool(
            of_mask(theirs & self.possible, self.marks) & one
        )

    def later(self, decided: Decisions) -> list[tuple[int, int]]:
        """Facts that must wait for a kept link's parts to have left, with what they wait for."""
        found = []
        for link in decided.kept:
            both = self.compiler.aside(link.part) | self.compiler.aside(link.other)
            found.append((self.compiler.opened(link.joint), both))
            for held in self.rules.joints[link.joint].holds:
                for root in (link.part, link.other):
                    if held in self.compiler.riders[root]:
                        found += [(fact, both) for fact in self.compiler.gone(held, root)]
        return found

    def loose_end(self, ops: list[Op], facts: int) -> bool:
        """Whether an opening may come last: a joint of the goal that no lift waits for."""
        waited = union(op.need for op in ops if op.lifts)
        opened = union(op.gives for op in ops if not op.lifts)
        return bool(opened & ~waited)

    def broken(self, actions: tuple[Action, ...], node: Node, problem: Problem) -> Broken | None:
        """The first thing in an order that does not hold in truth; None if all does."""
        done, state = 0, State()
        ops = {op.action.key: op for op in problem.ops}
        for action in actions:
            if action.need & ~done:
                return Broken(action)
            for group in action.choices:
                if not any(mask & ~done == 0 for mask in group):
                    return Broken(action, group)
            before = state
            if action.move.open:
                state = State(state.open | {action.move.open}, state.aside)
                done |= action.gives
                continue
            part = action.move.lift[0]
            roots = self.compiler.roots(part, node.decided)
            links = self.compiler.undecided(roots, node.decided)
            if not links and len(roots) == 1:
                state = State(state.open, state.aside | {part})
                done |= action.gives
                continue
            expected = {self.search.part_of[f] for f in each_bit(action.gives)}
            op = ops[action.key]
            for need, gives in op.companions:
                if done & need == need:
                    expected |= {self.search.part_of[f] for f in each_bit(gives)}
            refusal = self.rules.may_lift(before, part)
            group_now = self.rules.group(before, part)
            real = self.rules.put_aside(before, group_now) if refusal is None else frozenset()
            honest = self.honest(action, before, part)
            if refusal is not None or not honest or not (expected - before.aside) <= real:
                if not links:
                    return Broken(action, opened=self.inside(roots, before))
                closed = [l for l in links if l.joint not in before.open]
                better = [l for l in closed if l.other in expected ^ real]
                return Broken(action, None, (better or closed or links)[0])
            state = State(state.open, state.aside | real)
            done |= union(map(self.compiler.aside, real))
        return None if self.goal & ~done == 0 else Broken(actions[-1])

    def honest(self, action: Action, before: State, part: str) -> bool:
        """Whether a lift is costed as what really leaves with it asks."""
        roots = self.rules.roots(self.rules.group(before, part))
        lead = lead_of(roots, self.rules.parts, self.compiler.bench)
        return (self.compiler.lift_use(lead),) == action.uses

    def inside(self, roots: tuple[str, ...], state: State) -> tuple[str, ...]:
        """Open rigid joints within a group that was to leave together."""
        group = frozenset().union(*(self.compiler.riders[root] for root in roots))
        return tuple(j.id for j in self.rules.rigid if j.id in state.open and group.issuperset(j.holds))

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
        """A link is opened before either side leaves, or stays closed and both leave together."""
        decided = node.decided
        opened = self.compiler.opened(link.joint)
        here = [h for h in self.rules.joints[link.joint].holds if h in self.compiler.riders[link.part]]
        facts = node.facts
        if opened & self.possible and all(not self.compiler.gone(held, link.part) for held in here):
            facts |= self.marks[opened]
        yield node._replace(facts=facts, decided=decided._replace(parted=decided.parted | {(link.joint, link.part)}))
        for known in self.compiler.links_of[link.part]:
            if known.joint == link.joint:
                facts = node.facts | union(
                    of_mask(self.compiler.aside(part) & self.possible, self.marks)
                    for part in (known.part, known.other)
                )
                yield node._replace(facts=facts, decided=decided._replace(kept=decided.kept | {known}))


def steady(action: Action) -> bool:
    """Whether an action ends with the tools it began with, so that no swap hides in it."""
    return len({use.tools for use in action.uses}) == 1
