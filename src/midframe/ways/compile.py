"""The record compiled for the search: every opening, and every lift with what must hold for it.

The rules are those of `rules.py`; generated records prove that both accept
the same sequences. Where a closed joint links a part to another that does not
carry it (a *link*), the other may come along: such links are left undecided
here, the lift's needs are then only necessary, and the search decides
whether a link is opened before (`parted`) or stays closed (`kept`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import product
from types import MappingProxyType
from typing import NamedTuple

import msgspec

from midframe.record.model import Condition, Joint, Move, Part, Record
from midframe.ways.bench import Bench, lift_face
from midframe.ways.count import consumables_of, lead_of, ruined_by, ticks
from midframe.ways.facts import Action, Bits, Group, union
from midframe.ways.posture import HAND, Use, use_of, uses_of
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules


class Link(NamedTuple):
    """A rigid joint by which `other` may come along when `part` is lifted."""

    joint: str
    part: str
    other: str


class Decisions(NamedTuple):
    """Links decided: (joint, part) where it is opened before the part is lifted, and links kept closed.

    `trailing` are links still closed when the part is lifted, whose other end has left
    before together with something that carried the part.
    """

    parted: frozenset[tuple[str, str]] = frozenset()
    kept: frozenset[Link] = frozenset()
    trailing: frozenset[Link] = frozenset()


UNDECIDED = Decisions()


class Compiler:
    """Compiles one record; ids become bits by `bits`, so that edited records share them."""

    def __init__(
        self, record: Record, readings: Readings, bench: Bench, bits: Bits, rules: Rules | None = None
    ) -> None:
        self.record, self.readings, self.bench, self.bits = record, readings, bench, bits
        self.rules = rules or Rules(record)
        self.consumables = consumables_of(record)
        self.price = {part.id: part.price or 0.0 for part in record.parts}
        self.riders = self.rules.riders

    def opened(self, joint: str) -> int:
        """The fact that a joint is open."""
        return self.bits("open", joint)

    def aside(self, part: str) -> int:
        """The fact that a part is aside."""
        return self.bits("aside", part)

    @cached_property
    def outward(self) -> dict[str, list[Joint]]:
        """For each part the rigid joints that lead from what rides on it to anything else."""
        return {
            part: [j for j in self.rules.rigid if not on.isdisjoint(j.holds) and not on.issuperset(j.holds)]
            for part, on in self.riders.items()
        }

    def links(self, part: str) -> list[Link]:
        """The links by which other parts may come along with a lift of the part."""
        return self.links_of[part]

    @cached_property
    def links_of(self) -> dict[str, list[Link]]:
        """For each part its links: joints outward that hold neither the body nor one of its carriers."""
        return {part: list(self.find_links(part)) for part in self.rules.parts}

    def find_links(self, part: str) -> Iterator[Link]:
        """The links of one part, in the order of the record."""
        carriers = set(self.rules.carriers[part])
        for joint in self.outward[part]:
            if carriers.isdisjoint(joint.holds):
                beyond = [held for held in joint.holds if held not in self.riders[part]]
                for held in beyond:
                    for other in (held, *self.rules.carriers[held]):
                        if other not in carriers and other != self.rules.body:
                            yield Link(joint.id, part, other)

    def openings(self, joint: Joint) -> Iterator[Action]:
        """One action per way of opening a joint."""
        needs = self.cleared(joint.behind, frozenset(joint.holds), frozenset(), ())
        for by, work in enumerate(self.bench.operations(joint), start=1):
            uses = self.uses(joint, by - 1)
            action = Action(Move(open=joint.id, by=by), self.opened(joint.id), needs, uses)
            action.ruins = tuple(
                (self.bits("ruined", part), ticks(self.price.get(part, 0.0)))
                for part in ruined_by(joint, work)
            )
            action.renewal = ticks(joint.renew.price or 0.0) if joint.renew is not None else 0
            action.harm = sum(self.harm(step.risk, step.harms) for step in work)
            action.risk = sum(ticks(step.risk) for step in work)
            yield action.seal()

    def uses(self, joint: Joint, index: int) -> tuple[Use, ...]:
        """The uses of hands and tools in one way of opening a joint."""
        work = self.bench.operations(joint)[index]
        return uses_of(work, joint.face, self.readings, joint_kind=joint.kind, consumables=self.consumables)

    def lift(self, grip: str, decided: Decisions = UNDECIDED) -> Action:
        """The lift that grips one part, with what comes along by links that are kept closed."""
        roots = self.roots(grip, decided)
        inside = frozenset().union(*(self.riders[root] for root in roots))
        leading = {*roots, *(link.other for link in decided.trailing if link.part in roots)}
        lead = lead_of([part for part in self.rules.parts if part in leading], self.rules.parts, self.bench)
        use = self.lift_use(lead)
        needs: list[Group] = []
        unknown = {(link.joint, link.part) for link in self.undecided(roots, decided)}
        may_come = self.may_come(roots, decided)
        for root in roots:
            for joint in self.outward[root]:
                settled = (joint.id, root) not in unknown and not self.trails(root, joint.id, decided)
                if settled and not inside.issuperset(joint.holds):
                    needs.append(self.loosened(joint, root))
            for rider in sorted(self.riders[root]):
                gone = self.gone(rider, root) + ((self.aside(root),) if len(roots) > 1 else ())
                under = self.rules.parts[rider].under
                needs += self.cleared(under, frozenset({rider}), inside, gone, may_come)
            needs += [(self.opened(joint),) for joint in self.tied(root, decided)]
        action = Action(Move(lift=(grip,)), union(self.aside(root) for root in roots), needs, (use,))
        step = self.bench.lift_operation(lead)
        action.harm, action.risk = self.harm(step.risk, step.harms), ticks(step.risk)
        company = [self.rules.parts[part] for part in self.company(roots, decided)]
        if any(self.handled(part) != self.handled(lead) for part in company):
            action.uses = (msgspec.structs.replace(use, tools=HAND, face=None, extra_tools=0),)
            action.harm = action.risk = 0
            action.vague = True
        return action.seal()

    def lift_use(self, part: Part) -> Use:
        """The use a lift led by the part makes of hands and tools."""
        face = lift_face(part, self.record.joints)
        step = self.bench.lift_operation(part)
        return use_of(step, face, self.readings, lift=True, consumables=self.consumables)

    def handled(self, part: Part) -> tuple[object, ...]:
        """All of a lift but its seconds."""
        use, step = self.lift_use(part), self.bench.lift_operation(part)
        return use.tools, use.face, use.extra_tools, step.risk, step.harms

    def roots(self, grip: str, decided: Decisions) -> tuple[str, ...]:
        """The parts that leave together when `grip` is lifted and the kept links stay closed.

        None carries another: what rides on one that leaves is no root of its own.
        """
        found = [grip]
        for root in found:
            for link in sorted(decided.kept):
                for here, there in ((link.part, link.other), (link.other, link.part)):
                    if here == root and not any(self.same_stack(there, known) for known in found):
                        found.append(there)
        return tuple(found)

    def same_stack(self, one: str, other: str) -> bool:
        """Whether one of two parts is, or rides on, the other."""
        return one in self.riders[other] or other in self.riders[one]

    def trails(self, root: str, joint: str, decided: Decisions) -> list[str]:
        """What left before, together with a carrier of the root, and still hangs on it by the joint."""
        return [link.other for link in decided.trailing if link.part == root and link.joint == joint]

    def tied(self, root: str, decided: Decisions) -> list[str]:
        """Joints between a carrier of the root and what hangs on the root: closed, they hold it back."""
        carriers = set(self.rules.carriers[root])
        return [
            joint.id
            for link in decided.trailing
            if link.part == root
            for joint in self.rules.rigid
            if joint.id != link.joint and link.other in joint.holds and not carriers.isdisjoint(joint.holds)
        ]

    def undecided(self, roots: tuple[str, ...], decided: Decisions) -> list[Link]:
        """Links of a group that leaves together about which nothing is decided."""
        inside = frozenset().union(*(self.riders[root] for root in roots))
        carriers = {carrier for root in roots for carrier in self.rules.carriers[root]}
        return [
            link
            for root in roots
            for link in self.links_of[root]
            if (link.joint, link.part) not in decided.parted
            and not any(self.same_stack(link.other, left) for left in self.trails(root, link.joint, decided))
            and link.other not in carriers
            and link.other not in inside
            and not inside.issuperset(self.rules.joints[link.joint].holds)
        ]

    def company(self, roots: tuple[str, ...], decided: Decisions) -> tuple[str, ...]:
        """Parts that might leave with the roots by undecided links, and theirs in turn."""
        inside = frozenset().union(*(self.riders[root] for root in roots))
        barred = inside | {carrier for root in roots for carrier in self.rules.carriers[root]}
        found = list(dict.fromkeys(link.other for link in self.undecided(roots, decided)))
        for part in found:
            for link in self.links_of[part]:
                open_to = (link.joint, link.part) not in decided.parted and link.other not in barred
                if open_to and link.other not in found:
                    found.append(link.other)
        return tuple(found)

    def may_come(self, roots: tuple[str, ...], decided: Decisions) -> dict[str, Group]:
        """What might leave with the roots by undecided links: facts necessary for each."""
        found: dict[str, Group] = {}
        for other in self.company(roots, decided):
            for rider in self.riders[other]:
                found[rider] = (*found.get(rider, ()), self.free(other))
        return found

    def loosened(self, joint: Joint, root: str) -> Group:
        """Alternatives by which an outward joint does not keep the root: open, or all it holds here gone."""
        here = [part for part in joint.holds if part in self.riders[root]]
        alternatives = [self.opened(joint.id)]
        alternatives += [union(masks) for masks in product(*(self.gone(part, root) for part in here))]
        return tuple(alternatives)

    def free(self, part: str) -> int:
        """Facts without which the part can never leave by a link: the joints to its carriers open."""
        carriers = {*self.rules.carriers[part]}
        return union(
            self.opened(joint.id)
            for joint in self.outward[part]
            if part in joint.holds and not carriers.isdisjoint(joint.holds)
        )

    def gone(self, rider: str, root: str) -> Group:
        """Facts by which a rider no longer rides on the root: it, or a carrier in between, is aside."""
        chain = (rider, *self.rules.carriers[rider])
        return tuple(self.aside(part) for part in chain[: chain.index(root)])

    def cleared(
        self,
        condition: Condition,
        near: frozenset[str],
        inside: frozenset[str],
        escape: Group,
        may_come: Mapping[str, Group] = MappingProxyType({}),
    ) -> list[Group]:
        """The condition as groups: what is in the way is aside, carried off, or comes along (`inside`)."""
        wanted = [[part for part in alternative if part not in inside] for alternative in condition]
        if not wanted or any(not alternative for alternative in wanted):
            return []
        ways = [
            [self.off(part, near) + may_come.get(part, ()) for part in alternative] for alternative in wanted
        ]
        if len(ways) == 1:
            return [options + escape for options in ways[0]]
        return [tuple(union(masks) for way in ways for masks in product(*way)) + escape]

    def off(self, part: str, near: frozenset[str]) -> Group:
        """Facts any of which means that the part no longer covers what is near."""
        carriers = [
            carrier
            for carrier in self.rules.carriers[part]
            if carrier != self.rules.body and near.isdisjoint(self.riders[carrier])
        ]
        return (self.aside(part), *(self.aside(carrier) for carrier in carriers))

    def harm(self, risk: float, harms: tuple[str, ...]) -> int:
        """Expected cost of harm, in ticks."""
        return ticks(risk * sum(self.price.get(part, 0.0) for part in harms))
