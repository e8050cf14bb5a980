"""The record grows: parts, joints, seats, conditions and work, each step leaving the record sound."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.faults import BadSetting
from midframe.record.draft import with_joint, with_part
from midframe.record.model import Condition, Joint, Operation, Part, Record
from midframe.record.structure import default_seat, rigid_neighbours, seat_chain, seats
from midframe.stripdown.naming import part_named

replace = msgspec.structs.replace


def with_new_part(record: Record, part: Part) -> Record:
    """The record with one more part."""
    return replace(record, parts=(*record.parts, part))


def with_new_joint(record: Record, joint: Joint) -> Record:
    """The record with one more joint, and the seats of what it holds said where they no longer follow."""
    before = seats(record)
    grown = replace(record, joints=(*record.joints, joint))
    first, *others = joint.holds
    for part in others:
        grown = seated(grown, part, before.get(part))
    return seated(grown, first, wanted_seat(record, joint, before))


def wanted_seat(record: Record, joint: Joint, before: dict[str, str | None]) -> str | None:
    """Where the first part of a new joint sits: what was known, else what it is now firmly held to.

    A part that was never lifted and only lay on the body by default moves to
    what it is held to, unless that sits on it; what is plugged to two boards
    and held by nothing else lies between them, on the body.
    """
    part, other = joint.holds[0], joint.holds[1]
    body = record.device.body
    known = before.get(part) or body
    one = next(one for one in record.parts if one.id == part)
    if joint.tether:
        return known
    if other == body and one.seat is None:
        return body
    held = [one for one in record.joints if part in one.holds and not one.tether]
    if held and one.seat is None and all(one.kind == "connector" for one in (*held, joint)):
        return known if other in held[0].holds else body
    settled = known != body or body in rigid_neighbours(record)[part] or not pending(one)
    return known if settled or part in seat_chain(other, before) else other


def seated(record: Record, part: str, seat: str | None) -> Record:
    """The record with the seat of a part, written only where it does not follow from the joints."""
    body = record.device.body
    if part == body:
        return record
    wanted = seat or body
    follows = default_seat(part, body, rigid_neighbours(record)[part])
    return with_part(record, part, seat=None if follows == wanted else wanted)


def said_condition(record: Record, condition: Condition, without: tuple[str, ...]) -> Condition:
    """A condition as a person said it, names turned into ids; raises `BadSetting` for what is no part."""
    found = []
    for alternative in condition:
        ids = []
        for word in alternative:
            part = part_named(record, word)
            if part is None:
                raise BadSetting(f"aside before it: found '{word}'; right: parts of the record")
            if part.id not in (*without, record.device.body):
                ids.append(part.id)
        found.append(tuple(dict.fromkeys(ids)))
    return tuple(dict.fromkeys(found)) if found and all(found) else ()


def without_mutual(record: Record, part: str, condition: Condition) -> Condition:
    """The condition without parts that themselves cannot leave before this one."""
    return tuple(
        kept
        for alternative in condition
        if (kept := tuple(one for one in alternative if part not in waited_for(record, one)))
    )


def waited_for(record: Record, part: str) -> set[str]:
    """All parts named in what a part lies under, and in what those lie under."""
    under = {one.id: one.under for one in record.parts}
    found: set[str] = set()
    new = {part}
    while new:
        new = {one for name in new for way in under.get(name, ()) for one in way} - found
        found |= new
    return found


def pending(one: Part | Joint) -> bool:
    """Whether nothing is known yet of what must be aside for it."""
    return one.assumed and not (one.under if isinstance(one, Part) else one.behind)


def unfinished(joint: Joint) -> bool:
    """Whether the work on a bond so far only heats or soaks it."""
    return bool(joint.work) and joint.work[0][-1].do in ("heat", "soak")


def with_work(record: Record, joint: str, operation: Operation) -> Record:
    """The record with one more operation in the (first) way of opening a joint."""
    one = next(one for one in record.joints if one.id == joint)
    first = one.work[0] if one.work else ()
    return with_joint(record, joint, work=((*first, operation), *one.work[1:]))


def gaps(joint: Joint, **facts: Any) -> dict[str, Any]:
    """Of some facts those that the joint does not know yet."""
    return {key: value for key, value in facts.items() if value and not getattr(joint, key)}
