"""A record begun answer by answer; after each of these functions it is whole, and its check lets it pass.

Parts are described in the order in which they came out. What must be aside
before a part is therefore known as a guess, and marked as assumed until a
person says it.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Any

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import Condition, Device, DeviceKind, Joint, JointKind, Part, Record

BODY = "frame"
"""Id of the body in a record begun here."""


def begin(name: str, kind: DeviceKind) -> Record:
    """A record with nothing but the device and its body."""
    return Record(
        format=1, device=Device(name=name, kind=kind, body=BODY), parts=(Part(id=BODY, name="Frame"),)
    )


def slug(name: str) -> str:
    """A name as an id: small letters, digits, hyphens.

    >>> slug("Battery (left)"), slug("Écran n° 2"), slug("電池")
    ('battery-left', 'ecran-n-2', 'part')
    """
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "part"


def unused(word: str, taken: set[str]) -> str:
    """The word, with a number behind it where it is taken.

    >>> unused("camera", {"camera", "camera-2"})
    'camera-3'
    """
    free, number = word, 2
    while free in taken:
        free, number = f"{word}-{number}", number + 1
    return free


def with_device(record: Record, **facts: Any) -> Record:
    """The record with some facts of the device filled in."""
    return msgspec.structs.replace(record, device=msgspec.structs.replace(record.device, **facts))


def with_part(record: Record, part: str, **facts: Any) -> Record:
    """The record with some facts of one part filled in; raises `UnknownPart`."""
    if part not in {one.id for one in record.parts}:
        raise UnknownPart(f"no part '{part}' in the record")
    parts = tuple(msgspec.structs.replace(one, **facts) if one.id == part else one for one in record.parts)
    return msgspec.structs.replace(record, parts=parts)


def with_joint(record: Record, joint: str, **facts: Any) -> Record:
    """The record with some facts of one joint filled in; raises `UnknownPart`."""
    if joint not in {one.id for one in record.joints}:
        raise UnknownPart(f"no joint '{joint}' in the record")
    joints = tuple(msgspec.structs.replace(one, **facts) if one.id == joint else one for one in record.joints)
    return msgspec.structs.replace(record, joints=joints)


def found(record: Record, word: str) -> Part | None:
    """The part of this id or name, small and capital letters alike."""
    folded = word.casefold()
    return next((part for part in record.parts if folded in (part.id.casefold(), part.name.casefold())), None)


def add_part(record: Record, name: str) -> tuple[Record, str]:
    """The record with one more part, lying on the body until a joint says otherwise, and the part's id."""
    new = unused(slug(name), {part.id for part in record.parts})
    part = Part(id=new, name=name, seat=record.device.body)
    return msgspec.structs.replace(record, parts=(*record.parts, part)), new


def add_joint(record: Record, part: str, kind: JointKind) -> tuple[Record, str]:
    """The record with the part joined to the body, and the joint's id; it waits for what the part does."""
    new = unused(f"{part}-{kind}", {joint.id for joint in record.joints})
    one = next(one for one in record.parts if one.id == part)
    joint = Joint(id=new, kind=kind, holds=(part, record.device.body), behind=one.under, assumed=one.assumed)
    return seated(msgspec.structs.replace(record, joints=(*record.joints, joint)), part), new


def join_to(record: Record, joint: str, other: str) -> Record:
    """The record with the joint leading from its part to another part than the body."""
    one = next(one for one in record.joints if one.id == joint)
    if other == one.holds[0]:
        raise BadSetting(f"found '{other}' held to itself; right: another part, or the body")
    behind, assumed = reached(record, one.holds[0], other)
    moved = with_joint(record, joint, holds=(one.holds[0], other), behind=behind, assumed=assumed)
    return seated(moved, one.holds[0])


def reached(record: Record, part: str, other: str) -> tuple[Condition, bool]:
    """What a joint between two parts lies behind: what the one waits for that comes out first."""
    parts = {one.id: one for one in record.parts}
    first = parts[other] if other in waits_for(record, part) else parts[part]
    return first.under, first.assumed


def waits_for(record: Record, part: str) -> set[str]:
    """All parts that must be aside before this one, and before those in turn."""
    parts = {one.id: one for one in record.parts}
    found: set[str] = set()
    new = {part}
    while new:
        new = {other for one in new for lists in parts[one].under for other in lists} - found
        found |= new
    return found


def make_tether(record: Record, joint: str) -> Record:
    """The record with the joint as a cable that lets its part be folded aside, and is reached when it is."""
    one = next(one for one in record.joints if one.id == joint)
    tethered = with_joint(record, joint, tether=True, behind=((one.holds[0],),), assumed=False)
    return seated(tethered, one.holds[0])


def seated(record: Record, part: str) -> Record:
    """The record with the part's seat said: what it is rigidly held to, unless that is the body.

    A part that came out earlier is no seat, for this one stayed behind.
    """
    body = record.device.body
    to = [one.holds[1] for one in record.joints if one.holds[0] == part and not one.tether]
    if body in to:
        return with_part(record, part, seat=None)
    seats = [other for other in to if other not in waits_for(record, part)]
    return with_part(record, part, seat=seats[0] if seats else body)


def wait_for(record: Record, part: str, before: tuple[str, ...], *, assumed: bool) -> Record:
    """The record in which these parts must be aside before the part: for its lift and for its joints."""
    condition = (before,) if before else ()
    changed = with_part(record, part, under=condition, assumed=assumed and bool(before))
    for joint in record.joints:
        if joint.holds[0] == part and not joint.tether:
            behind, guessed = reached(changed, part, joint.holds[1])
            changed = with_joint(changed, joint.id, behind=behind, assumed=guessed)
    return seated(changed, part)
