"""Which joint a move means: one that is known and still closed, or a new one between two parts."""

from __future__ import annotations

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import Joint, Record
from midframe.stripdown.ask import COMPARED
from midframe.stripdown.done import Done
from midframe.stripdown.naming import joint_named, part_named
from midframe.stripdown.replay import Standing, worked_on
from midframe.stripdown.words import folded, verb_words

OF_SEVERAL = ("adhesive", "solder", "clip")
"""Kinds of joints that often take several operations, one after the other."""


class Pair(msgspec.Struct, frozen=True):
    """The part that comes off and what it is held to, each by id, or by name where new; or the joint said."""

    part: str
    other: str
    joint: str = ""
    other_said: bool = False


def pair_of(record: Record, done: Done, standing: Standing) -> Pair:
    """The two parts that a move on a joint is about; raises `BadSetting` where they are one and the same.

    Where the part said is aside already, and the other is not, the other is the
    one that comes off it.
    """
    joint = joint_named(record, done.what)
    part = part_named(record, done.what)
    if joint is not None and (part is None or part.id != done.what or joint.id == done.what):
        return Pair(joint.holds[0], joint.holds[1], joint.id)
    body = record.device.body
    first = part.id if part is not None else done.what
    second = other_of(record, done, first)
    if folded(first) == folded(second):
        right = "the part that comes off, and what it was held to"
        raise BadSetting(f"{done.verb}: found '{done.what}' held to itself; right: {right}")
    gone = first in standing.aside and second not in standing.aside and second != body
    if first == body or (gone and verb_words()[done.verb].joins != "connector"):
        return Pair(second, first, other_said=True)
    return Pair(first, second, other_said=bool(done.to))


def other_of(record: Record, done: Done, first: str) -> str:
    """What a part was held to: as said, else the body; for a connector the main board, if there is one."""
    if done.to:
        other = part_named(record, done.to)
        return other.id if other is not None else done.to
    if verb_words()[done.verb].joins == "connector":
        boards = (part.id for part in record.parts if part.role == "main_board" and part.id != first)
        return next(boards, record.device.body)
    return record.device.body


def joint_for(record: Record, done: Done, pair: Pair, standing: Standing) -> Joint | None:
    """The known joint that a move means: the one said, else one still closed, else one just worked on."""
    if pair.joint:
        return next(joint for joint in record.joints if joint.id == pair.joint)
    kind = verb_words()[done.verb].joins
    fitting = [
        joint
        for joint in record.joints
        if joint.kind == kind
        and pair.part in joint.holds
        and (pair.other in joint.holds or not pair.other_said)
    ]
    closed = [joint for joint in fitting if joint.id not in standing.state.open]
    if closed:
        return max(closed, key=lambda joint: likeness(joint, done, pair))
    if kind in OF_SEVERAL:
        return next((joint for joint in fitting if continued(record, joint, standing)), None)
    return None


def likeness(joint: Joint, done: Done, pair: Pair) -> int:
    """How well a joint fits what was said: facts that agree less those that differ, then the other part."""
    said = [(getattr(done, fact), getattr(joint, fact)) for fact in COMPARED]
    agree = sum(1 for one, known in said if one and one == known)
    differ = sum(1 for one, known in said if one and known and one != known)
    return 4 * (agree - differ) + 2 * (pair.other in joint.holds) + (joint.holds[0] == pair.part)


def continued(record: Record, joint: Joint, standing: Standing) -> bool:
    """Whether work goes on with the last opening: all of it stands in this log, nothing came after."""
    if joint.kind not in OF_SEVERAL or not joint.work or len(joint.work) > 1:
        return False
    lines = [entry for entry in record.log if worked_on(entry, joint.id)]
    last = next((entry for entry in reversed(record.log) if entry.open or entry.lift), None)
    return (
        last is not None
        and last.open == joint.id
        and len(lines) == len(joint.work[0])
        and joint.holds[0] not in standing.aside
    )
