"""What lies under a screw hole: parts on the plan at its place, and how far below its bottom."""

from __future__ import annotations

import msgspec

from midframe.record.model import Joint, Part, Record
from midframe.record.outline import inside

VULNERABLE = ("display", "battery", "main_board", "sub_board")
"""Roles whose parts a screw point harms at once: display, cell, boards."""

TOUCHING_MM = 0.3
"""How far a part may reach above the bottom of a hole and still count as under it (own construction)."""

Point = tuple[float, float]


class Beneath(msgspec.Struct, frozen=True):
    """A part under a hole; `gap_mm` from the bottom of the hole to it, None where depths are unknown."""

    part: str
    name: str
    vulnerable: bool
    gap_mm: float | None


def bottom_mm(joint: Joint) -> float | None:
    """Depth of the bottom of the holes, from the front surface; None where it cannot be known.

    `hole_depth_mm` counts from the seat of the head (`depth_mm`) in the direction of the screw.
    """
    if joint.depth_mm is None or joint.hole_depth_mm is None or joint.face not in ("front", "back"):
        return None
    return joint.depth_mm + (joint.hole_depth_mm if joint.face == "front" else -joint.hole_depth_mm)


def gap_mm(part: Part, joint: Joint, bottom: float | None) -> float | None:
    """From the bottom of a hole to a part in the direction of the screw; negative: it begins above."""
    if bottom is None or part.depth_mm is None:
        return None
    near, far = sorted(part.depth_mm)
    return near - bottom if joint.face == "front" else bottom - far


def beneath(record: Record, joint: Joint) -> tuple[Beneath, ...]:
    """The parts under the holes of a joint, nearest first; those of unknown depth last.

    Parts that the joint holds and those that must be aside to reach it are not under it. Without depths
    only vulnerable parts are named: they may lie on either side.
    """
    above = {part for alternative in joint.behind for part in alternative}
    bottom = bottom_mm(joint)
    found: list[Beneath] = []
    for part in record.parts:
        if part.id in joint.holds or part.id in above or len(part.outline_mm) < 2:
            continue
        if not any(inside(spot, part.outline_mm) for spot in joint.spots_mm):
            continue
        gap = gap_mm(part, joint, bottom)
        vulnerable = bool({part.role, *part.also} & set(VULNERABLE))
        if gap is None and vulnerable:
            found.append(Beneath(part.id, part.name, vulnerable, None))
        elif gap is not None and gap >= -TOUCHING_MM:
            found.append(Beneath(part.id, part.name, vulnerable, round(max(0.0, gap), 6)))
    return tuple(sorted(found, key=lambda one: (one.gap_mm is None, one.gap_mm or 0.0)))
