"""The rules of the moves, plainly: what may be opened or lifted, and what then is aside or out.

This simulator is the referee of everything faster. It follows the rules of
`docs/rules-of-the-ways.md` word for word, on sets of ids, and knows nothing
of costs, tools or search.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.faults import IllegalMove, UnknownPart
from midframe.record.model import Condition, Joint, Move, Part, Record
from midframe.record.structure import riders, rigid_joints, seat_chain, seats


class State(msgspec.Struct, frozen=True):
    """Where the work stands: the joints that are open and the parts that are aside."""

    open: frozenset[str] = frozenset()
    aside: frozenset[str] = frozenset()


class Refusal(msgspec.Struct, frozen=True):
    """Why a move is not allowed: a sentence, and the parts and joints it waits for."""

    text: str
    waits_for: tuple[str, ...] = ()


class Rules:
    """The rules on one record; holds nothing but what the record says."""

    def __init__(self, record: Record) -> None:
        self.record = record
        self.body = record.device.body
        self.parts: dict[str, Part] = {part.id: part for part in record.parts}
        self.joints: dict[str, Joint] = {joint.id: joint for joint in record.joints}
        self.rigid = rigid_joints(record)
        self.seat_of = seats(record)
        self.riders = riders(record)
        self.rigid_of = {part: [joint for joint in self.rigid if part in joint.holds] for part in self.parts}
        self.sitting = {
            part: [one for one, seat in self.seat_of.items() if seat == part] for part in self.parts
        }
        self.carriers = {part: seat_chain(part, self.seat_of)[1:] for part in self.parts}

    def clear(self, state: State, part: str, near: frozenset[str]) -> bool:
        """Whether `part` no longer covers what is `near`: aside, or gone with what left `near` behind."""
        return part in state.aside or any(
            carrier in state.aside and near.isdisjoint(self.riders[carrier])
            for carrier in self.carriers[part]
        )

    def missing(
        self, state: State, condition: Condition, near: frozenset[str], group: frozenset[str]
    ) -> tuple[str, ...]:
        """The parts in the way for the alternative that lacks the fewest; none if the condition is met."""
        lacking = [
            tuple(part for part in alternative if part not in group and not self.clear(state, part, near))
            for alternative in condition
        ]
        return min(lacking, key=len, default=())

    def roots(self, group: frozenset[str]) -> tuple[str, ...]:
        """The parts of a group that sit on nothing inside it, in the order of the record."""
        return tuple(part for part in self.parts if part in group and self.seat_of[part] not in group)

    def group(self, state: State, part: str) -> frozenset[str]:
        """All that moves when `part` is lifted: its rigid group, and whatever sits on any of it."""
        found = {part}
        queue = [part]
        while queue:
            member = queue.pop()
            more = {seated for seated in self.sitting[member] if seated not in state.aside}
            for joint in self.rigid_of[member]:
                if joint.id not in state.open:
                    more.update(joint.holds)
            queue += more - found
            found |= more
        return frozenset(found)

    def may_open(self, state: State, joint_id: str) -> Refusal | None:
        """`None` if the joint may be opened now, else why not."""
        joint = self.joints[joint_id]
        if joint_id in state.open:
            return Refusal(f"{joint_id} is open already")
        missing = self.missing(state, joint.behind, frozenset(joint.holds), frozenset())
        if missing:
            return Refusal(f"{joint_id} lies behind {listed(missing)}", missing)
        return None

    def may_lift(self, state: State, part: str) -> Refusal | None:
        """`None` if the group of `part` may be lifted now, else why not."""
        group = self.group(state, part)
        closed = (joint for joint in self.rigid if joint.id not in state.open)
        held_by = tuple(joint.id for joint in closed if part in joint.holds)
        if self.body in group:
            return Refusal(f"{part} is still joined to {self.body}", held_by)
        if part in state.aside:
            return Refusal(f"{part} is aside already; grip a part that leaves its seat")
        if self.seat_of[part] in group:
            seat = self.seat_of[part]
            return Refusal(f"{part} would ride on {seat}; grip a part that leaves its seat", held_by)
        for member in sorted(group - state.aside):
            missing = self.missing(state, self.parts[member].under, frozenset({member}), group)
            if missing:
                return Refusal(f"{member} lies under {listed(missing)}", missing)
        return None

    def put_aside(self, state: State, group: frozenset[str]) -> frozenset[str]:
        """The parts of the group that leave their seat with this lift."""
        return frozenset(part for part in group - state.aside if self.seat_of[part] not in group)

    def open(self, state: State, joint_id: str) -> State:
        """The state after opening the joint; raises `IllegalMove` where the rules forbid it."""
        self.known(joint_id, self.joints, "joint")
        refusal = self.may_open(state, joint_id)
        if refusal is not None:
            raise IllegalMove(f"open {joint_id}: {refusal.text}")
        return State(state.open | {joint_id}, state.aside)

    def lift(self, state: State, named: tuple[str, ...]) -> State:
        """The state after lifting the group of the named parts; raises `IllegalMove` if forbidden."""
        if not named:
            raise IllegalMove("a lift names at least one part")
        for part in named:
            self.known(part, self.parts, "part")
        refusal = self.may_lift(state, named[0])
        if refusal is not None:
            raise IllegalMove(f"lift {' + '.join(named)}: {refusal.text}")
        group = self.group(state, named[0])
        apart = tuple(part for part in named if part not in group)
        if apart:
            together = " + ".join(named)
            raise IllegalMove(f"lift {together}: {listed(apart)} does not come along with {named[0]}")
        return State(state.open, state.aside | self.put_aside(state, group))

    def apply(self, state: State, move: Move) -> State:
        """The state after one move; raises `IllegalMove` if forbidden, `UnknownPart` for unknown ids."""
        return self.open(state, move.open) if move.open else self.lift(state, move.lift)

    def replay(self, moves: Iterable[Move]) -> State:
        """The state after all moves from the closed device; `IllegalMove` at the first forbidden one."""
        state = State()
        for number, move in enumerate(moves, start=1):
            try:
                state = self.apply(state, move)
            except IllegalMove as fault:
                raise IllegalMove(f"move {number}: {fault}") from None
        return state

    def bundle(self, part: str) -> frozenset[str]:
        """The part and those its spare is sold with."""
        return frozenset({part, *self.parts[part].bundle})

    def out(self, state: State, part: str) -> bool:
        """Whether the part, or the bundle its spare is sold as, is out: aside, and nothing leads from it."""
        bundle = self.bundle(part)
        leave = {member for member in bundle if self.seat_of[member] not in bundle}
        joined = any(
            not bundle.isdisjoint(joint.holds) and not bundle.issuperset(joint.holds)
            for joint in self.record.joints
            if joint.id not in state.open
        )
        return leave <= state.aside and not joined

    def legal(self, state: State) -> list[Move]:
        """Every move allowed now; of a group that leaves together, one lift per part that can be gripped."""
        moves = [Move(open=joint) for joint in self.joints if self.may_open(state, joint) is None]
        for part in self.parts:
            if self.may_lift(state, part) is None:
                moves.append(Move(lift=(part,)))
        return moves

    def known(self, name: str, among: Iterable[str], kind: str) -> None:
        """Raises `UnknownPart` unless the id is one of the record's."""
        if name not in set(among):
            raise UnknownPart(f"no {kind} '{name}' in the record")


def listed(names: Iterable[str]) -> str:
    """Ids as a phrase: `a, b and c`."""
    *most, last = list(names) or ["nothing"]
    return f"{', '.join(most)} and {last}" if most else last
