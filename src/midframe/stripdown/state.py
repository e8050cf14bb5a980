"""Where the work stands, as the bench page needs it: what is off, what can be reached, what is asked."""

from __future__ import annotations

import msgspec

from midframe.record.model import Face, Record
from midframe.stripdown.ask import LogQuestion, log_questions
from midframe.stripdown.replay import Line, Standing, replay
from midframe.ways.rules import Rules, State


class BenchState(msgspec.Struct, frozen=True, kw_only=True):
    """The standing after the log.

    `aside` in the order in which the parts left; `reachable` are closed joints
    that may be opened now, `liftable` parts that may be lifted now, `hanging`
    those of the parts aside that a cable still holds.
    """

    state: State
    aside: tuple[str, ...]
    hanging: tuple[str, ...]
    reachable: tuple[str, ...]
    liftable: tuple[str, ...]
    lines: tuple[Line, ...]
    questions: tuple[LogQuestion, ...]
    face: Face | None

    @property
    def standing(self) -> Standing:
        """The same without what can be done next."""
        return Standing(self.state, self.aside, self.lines)


def bench_state(record: Record) -> BenchState:
    """Where the work on a device stands after its log."""
    standing = replay(record)
    rules, state = Rules(record), standing.state
    closed = [joint for joint in record.joints if joint.id not in state.open]
    held = {part for joint in closed for part in joint.holds}
    return BenchState(
        state=state,
        aside=standing.aside,
        hanging=tuple(part for part in standing.aside if part in held),
        reachable=tuple(joint.id for joint in closed if rules.may_open(state, joint.id) is None),
        liftable=tuple(part.id for part in record.parts if rules.may_lift(state, part.id) is None),
        lines=standing.lines,
        questions=log_questions(record),
        face=last_face(record),
    )


def last_face(record: Record) -> Face | None:
    """The side last worked from, as the joints and parts of the log say it."""
    joints = {joint.id: joint.face for joint in record.joints}
    parts = {part.id: part.face for part in record.parts}
    for entry in reversed(record.log):
        face = joints.get(entry.open) or (parts.get(entry.lift[0]) if entry.lift else None)
        if face is not None:
            return face
    return None
