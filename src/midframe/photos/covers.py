"""What lies under what, suggested by outlines that overlap and by depths; a person confirms it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import msgspec

from midframe.faults import UnknownPart
from midframe.photos.overlap import area_mm2, overlap_mm2
from midframe.record.draft import with_joint, with_part
from midframe.record.model import Condition, Face, Joint, Part, Record
from midframe.record.outline import inside

LEAST_MM2 = 4.0
"""Overlap that two outlines may have by careless marking alone: 2 mm × 2 mm (own choice)."""

LEAST_SHARE = 0.1
"""Least share of the smaller outline that lies within the other (own choice)."""


class Cover(msgspec.Struct, frozen=True, kw_only=True):
    """One suggestion: the part `above` lies over the part or joint `below`, seen from the face of the work.

    `share` is the share of the smaller outline that overlaps, or of a joint's spots that are covered.
    `by_depth` tells that the record's depths say which is above; without it the two are named in the
    order of the record, and a person has to say.
    """

    above: str
    below: str
    overlap_mm2: float
    share: float
    by_depth: bool
    face: Face | None = None


def covers(record: Record) -> tuple[Cover, ...]:
    """Pairs of which the record says nothing yet: parts whose outlines overlap, the largest overlap first.

    After them come joints whose spots lie under a part by the depths of both.

    The body is left out, and so are pairs where the one rides on the other, is sold with it, or already
    waits for it. Depths are measured from the front; a part that is lifted from the back is covered by
    what lies deeper. Without depths, or where the face is not known, `by_depth` is false.

    References
    ----------
    This is an own construction, no source; `LEAST_MM2` and `LEAST_SHARE` are own choices.
    """
    parts = [part for part in record.parts if part.outline_mm and part.id != record.device.body]
    found = [cover for one, other in combinations(parts, 2) for cover in between(record, one, other)]
    found += over_spots(record)
    return tuple(sorted(found, key=lambda cover: (-cover.overlap_mm2, cover.above, cover.below)))


def between(record: Record, one: Part, other: Part) -> Iterator[Cover]:
    """The suggestions for one pair."""
    if told(one, other) or told(other, one):
        return
    overlap = overlap_mm2(one.outline_mm, other.outline_mm)
    smaller = min(area_mm2(one.outline_mm), area_mm2(other.outline_mm))
    if overlap < LEAST_MM2 or overlap < LEAST_SHARE * smaller:
        return
    share = overlap / smaller
    placed = [
        Cover(above=a.id, below=b.id, overlap_mm2=overlap, share=share, by_depth=True, face=face)
        for a, b in ((one, other), (other, one))
        if (face := face_of(record, b)) is not None and lies_over(a, b, face)
    ]
    if placed:
        yield from placed
    elif not decided(record, one, other):
        yield Cover(above=one.id, below=other.id, overlap_mm2=overlap, share=share, by_depth=False)


def told(part: Part, other: Part) -> bool:
    """Whether the record already says how the first stands to the second."""
    return part.seat == other.id or other.id in part.bundle or in_condition(part.under, other.id)


def face_of(record: Record, part: Part) -> Face | None:
    """The face a part is lifted from: as said, or the one face of all joints that hold it."""
    if part.face is not None:
        return part.face
    faces = {joint.face for joint in record.joints if part.id in joint.holds and joint.face}
    return faces.pop() if len(faces) == 1 else None


def lies_over(above: Part, below: Part, face: Face) -> bool:
    """Whether, seen from this face, the one part ends before the other begins."""
    if above.depth_mm is None or below.depth_mm is None:
        return False
    over, under = sorted(above.depth_mm), sorted(below.depth_mm)
    if face == "front":
        return over[1] <= under[0]
    return face == "back" and over[0] >= under[1]


def decided(record: Record, one: Part, other: Part) -> bool:
    """Whether depths and faces are all known: then neither covers the other, and there is nothing to ask."""
    depths = one.depth_mm is not None and other.depth_mm is not None
    return depths and face_of(record, one) is not None and face_of(record, other) is not None


def over_spots(record: Record) -> Iterator[Cover]:
    """Parts that lie over the spots of a joint, by depth, where the record does not say so yet."""
    for joint in record.joints:
        for part in record.parts:
            if part.id in joint.holds or part.id == record.device.body or in_condition(joint.behind, part.id):
                continue
            hidden = sum(inside(spot, part.outline_mm) for spot in joint.spots_mm)
            if hidden and joint.face and lies_over_joint(part, joint):
                yield Cover(
                    above=part.id,
                    below=joint.id,
                    overlap_mm2=0.0,
                    share=hidden / len(joint.spots_mm),
                    by_depth=True,
                    face=joint.face,
                )


def lies_over_joint(part: Part, joint: Joint) -> bool:
    """Whether a part ends, seen from the joint's face, before the depth of the joint."""
    if part.depth_mm is None or joint.depth_mm is None:
        return False
    if joint.face == "front":
        return max(part.depth_mm) <= joint.depth_mm
    return joint.face == "back" and min(part.depth_mm) >= joint.depth_mm


def in_condition(condition: Condition, part: str) -> bool:
    """Whether a part is in any alternative of a condition."""
    return any(part in lists for lists in condition)


def assume(record: Record, above: str, below: str, *, confirmed: bool = False) -> Record:
    """The record in which the part or joint below waits for the part above.

    The condition is added to every alternative that is there. It is marked as assumed unless a person
    confirmed it.

    Raises
    ------
    UnknownPart
        When the record has no such part or joint.
    """
    parts = {part.id: part for part in record.parts}
    joints = {joint.id: joint for joint in record.joints}
    if above not in parts:
        raise UnknownPart(f"no part '{above}' in the record")
    if below in parts:
        part = parts[below]
        under = with_one(part.under, above)
        return with_part(record, below, under=under, assumed=part.assumed or not confirmed)
    if below in joints:
        joint = joints[below]
        behind = with_one(joint.behind, above)
        return with_joint(record, below, behind=behind, assumed=joint.assumed or not confirmed)
    raise UnknownPart(f"no part or joint '{below}' in the record")


def with_one(condition: Condition, part: str) -> Condition:
    """A condition with one more part in every alternative."""
    if not condition:
        return ((part,),)
    return tuple(lists if part in lists else (*lists, part) for lists in condition)
