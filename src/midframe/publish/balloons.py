"""Holes on the plan with a numbered balloon each, as on a drawing: large enough to tap, none over another."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from midframe.record.model import Face, Record
from midframe.record.outline import corners

Point = tuple[float, float]

WIDTH = 356.0
"""Width of the drawing in CSS pixels: a phone's screen of 390 less the margins of the page."""

BALLOON = 44.0
"""Diameter of a balloon in CSS pixels: what a thumb hits (house target)."""

APART = 47.0
"""Least distance of two balloons' middles."""

TURNS = 600
"""Rounds of pushing apart, after which the balloons are set in rows."""

AROUND_MM = 7.0
"""What is shown of the device above and below the holes."""


class Balloon(msgspec.Struct, frozen=True):
    """One hole: its number, its true place and the middle of its balloon, in pixels."""

    number: int
    hole: Point
    at: Point


class Balloons(msgspec.Struct, frozen=True):
    """The drawing: its size, the outline of the device and of the cover, the holes."""

    width: float
    height: float
    device: tuple[float, float, float, float]
    cover: tuple[Point, ...]
    holes: tuple[Balloon, ...]
    up: Face


def balloons(
    record: Record, spots_mm: Sequence[Point], cover: str = "", up: Face = "back"
) -> Balloons | None:
    """The holes of one cover, the device upright, seen from the side worked on; None without places.

    Seen from the back the plan is mirrored, as the eye sees it. Where two balloons would lie over one
    another they are moved apart and a line leads to the hole.
    """
    size = record.device.size_mm
    if not spots_mm or size is None:
        return None
    tall, wide, _ = size
    low = max(0.0, min(y for _, y in spots_mm) - AROUND_MM)
    high = min(tall, max(y for _, y in spots_mm) + AROUND_MM)
    side = BALLOON / 2 + 2
    scale = (WIDTH - 2 * side) / wide

    def at(x: float, y: float) -> Point:
        return side + (x if up == "front" else wide - x) * scale, side + (y - low) * scale

    places = [at(x, y) for x, y in spots_mm]
    height = max((high - low) * scale, 0.0) + 2 * side
    middles, height = spread(places, height)
    part = next((one for one in record.parts if one.id == cover and one.outline_mm), None)
    holes = tuple(
        Balloon(number, hole, middle)
        for number, (hole, middle) in enumerate(zip(places, middles, strict=True), start=1)
    )
    left, top = at(wide if up != "front" else 0.0, 0.0)
    return Balloons(
        width=WIDTH,
        height=height,
        device=(left, top, wide * scale, tall * scale),
        cover=tuple(at(x, y) for x, y in corners(part.outline_mm)) if part is not None else (),
        holes=holes,
        up="front" if up == "front" else "back",
    )


def spread(places: Sequence[Point], height: float) -> tuple[list[Point], float]:
    """Places of the balloons, moved until none lies over another, and the height they need."""
    side = BALLOON / 2 + 1
    rows = math.ceil(len(places) / max(1, int((WIDTH - 2 * side) // APART + 1)))
    high = max(height, 2 * side + (rows - 1) * APART)
    at = [inside(place, high, side) for place in places]
    for _ in range(TURNS):
        if not push(at, high, side):
            return at, high
    return in_rows(len(places), side), max(high, 2 * side + (rows - 1) * APART)


def push(at: list[Point], height: float, side: float) -> bool:
    """Push apart every two that are too near, in place; whether any were."""
    moved = False
    for one in range(len(at)):
        for other in range(one + 1, len(at)):
            (x1, y1), (x2, y2) = at[one], at[other]
            gap = math.hypot(x2 - x1, y2 - y1)
            if gap >= APART - 0.01:
                continue
            moved = True
            angle = math.atan2(y2 - y1, x2 - x1) if gap > 0.01 else 2.4 * (one + other)
            far = (APART - gap) / 2 + 0.05
            step = far * math.cos(angle), far * math.sin(angle)
            at[one] = inside((x1 - step[0], y1 - step[1]), height, side)
            at[other] = inside((x2 + step[0], y2 + step[1]), height, side)
    return moved


def inside(place: Point, height: float, side: float) -> Point:
    """The place, moved into the drawing where it is not."""
    return min(max(place[0], side), WIDTH - side), min(max(place[1], side), height - side)


def in_rows(count: int, side: float) -> list[Point]:
    """Places in rows, where nothing nearer to the holes will do."""
    across = int((WIDTH - 2 * side) // APART + 1)
    return [(side + n % across * APART, side + n // across * APART) for n in range(count)]
