"""What every search on one record shares: actions, costs, and what must be done in any case."""

from __future__ import annotations

from typing import NamedTuple

from midframe.record.model import Move, Record
from midframe.ways.bench import Bench
from midframe.ways.compile import UNDECIDED, Compiler, Decisions
from midframe.ways.costs import Costs
from midframe.ways.facts import Action, Bits, each_bit, union
from midframe.ways.landmarks import achievers_of, landmarks, reachable
from midframe.ways.objective import Objective
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules


class Mode(NamedTuple):
    """What is derived once for all targets: under all links parted, and with links undecided."""

    decided: Decisions
    lifts: list[Action]
    possible: int
    achievers: dict[int, list[Action]]
    marks: dict[int, int]


class Ground:
    """One record compiled under one objective; all targets share it.

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
        links = [link for links in self.compiler.links_of.values() for link in links]
        linked = frozenset((link.joint, link.part) for link in links)
        self.modes = [self.mode(Decisions(parted=linked))] + ([self.mode(UNDECIDED)] if linked else [])
        self.costs = Costs(objective, readings, bench, self.openings + self.modes[0].lifts)
        self.uses: dict[int, int] = {}
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

    def used(self, facts: int) -> int:
        """Facts, and all that any way to them could ever make use of, whatever comes along with what."""
        if facts not in self.uses:
            self.uses[facts] = self.found_used(facts)
        return self.uses[facts]

    def found_used(self, facts: int) -> int:
        """What `used` gives, worked out."""
        found, queue = facts, [facts]
        while queue:
            more = 0
            for fact in each_bit(queue.pop()):
                for action in (action for mode in self.modes for action in mode.achievers.get(fact, ())):
                    more |= action.need | union(mask for group in action.choices for mask in group)
            if more & ~found:
                queue.append(more & ~found)
                found |= more
        return found
