"""Bonds from outlines: how long the line of adhesive is, how much area it covers."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from midframe.record.model import Joint, Part, Record
from midframe.record.outline import corners

Point = tuple[float, float]


class Bond(msgspec.Struct, frozen=True):
    """The line or patch of adhesive of one joint.

    `length_mm` is that of the middle of the strip around the part, `area_mm2` what it covers, each None
    where nothing says it. `length_from` and `area_from` name what the figure rests on: "record",
    "outline" (strip around the outline of `part`), "area and width", "length and width", or
    "whole outline" (an upper end: the part's whole face). `part` is the part whose outline was taken.
    """

    joint: str
    part: str
    width_mm: float | None
    thickness_mm: float | None
    length_mm: float | None
    length_from: str
    area_mm2: float | None
    area_from: str


def distinct(outline: Sequence[Point]) -> list[Point]:
    """The corners of an outline without points that repeat."""
    points = corners(outline)
    return [point for at, point in enumerate(points) if point != points[at - 1]]


def area_mm2(outline: Sequence[Point]) -> float:
    """Area inside an outline in square millimetres, by the shoelace formula.

    A = |Σ (x_i·y_{i+1} − x_{i+1}·y_i)| / 2

    References
    ----------
    A textbook formula.

    >>> area_mm2(((0, 0), (4, 3))), area_mm2(((0, 0), (4, 0), (0, 3)))
    (12.0, 6.0)
    """
    points = distinct(outline)
    pairs = zip(points, (*points[1:], *points[:1]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def perimeter_mm(outline: Sequence[Point]) -> float:
    """Length of an outline in millimetres.

    >>> perimeter_mm(((0, 0), (4, 3)))
    14.0
    """
    points = distinct(outline)
    return sum(math.dist(a, b) for a, b in zip(points, (*points[1:], *points[:1]), strict=True))


def strip_length_mm(outline: Sequence[Point], width_mm: float) -> float:
    """Length of the middle of a strip of a width that runs along the inside of an outline, in millimetres.

    L = P − w · Σ tan(α/2)

    Parameters
    ----------
    outline
        Points in millimetres; two are opposite corners of a box.
    width_mm
        Width w of the strip. P is the outline's length, α the turn at each corner, counted negative
        where the outline bends inwards.

    Returns
    -------
    Millimetres; 0 where the strip is wider than the outline lets it be.

    References
    ----------
    Offset of a polygon by half the width, textbook. For a rectangle it is 2·(a − w) + 2·(b − w).

    >>> strip_length_mm(((0, 0), (70, 150)), 1.0)
    436.0
    """
    points = distinct(outline)
    turned = [turn(points[at - 1], point, points[(at + 1) % len(points)]) for at, point in enumerate(points)]
    sense = 1.0 if sum(turned) >= 0 else -1.0
    shorter = sum(math.tan(sense * angle / 2) for angle in turned)
    return max(0.0, round(perimeter_mm(outline) - width_mm * shorter, 9))


def turn(before: Point, at: Point, after: Point) -> float:
    """Angle by which an outline turns at a point, radians, between −π and π."""
    one = math.atan2(at[1] - before[1], at[0] - before[0])
    other = math.atan2(after[1] - at[1], after[0] - at[0])
    return math.remainder(other - one, 2 * math.pi)


def bond(record: Record, joint: Joint) -> Bond:
    """Length and area of a bond: the record's own figures, else from the smallest outline that it holds.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> found = bond(record, next(joint for joint in record.joints if joint.id == "display-bond"))
    >>> round(found.length_mm), found.length_from, found.area_mm2, found.area_from
    (463, 'outline', 600.0, 'record')
    """
    part = outlined(record, joint)
    width, area = joint.width_mm, joint.area_mm2
    length, length_from, area_from = None, "", "record" if area is not None else ""
    if width is not None and part is not None and round_strip(part, width, area):
        length, length_from = strip_length_mm(part.outline_mm, width), "outline"
    elif width is not None and area is not None:
        length, length_from = area / width, "area and width"
    if area is None and length is not None and width is not None:
        area, area_from = length * width, "length and width"
    elif area is None and part is not None:
        area, area_from = area_mm2(part.outline_mm), "whole outline"
    name = part.id if part is not None else ""
    return Bond(joint.id, name, width, joint.thickness_mm, length, length_from, area, area_from)


def round_strip(part: Part, width_mm: float, area: float | None) -> bool:
    """Whether a strip around the outline agrees, within 15 %, with the record's own area, if it gives one."""
    length = strip_length_mm(part.outline_mm, width_mm)
    return length > 0 and (area is None or abs(length * width_mm - area) <= 0.15 * area)


def outlined(record: Record, joint: Joint) -> Part | None:
    """The held part with the smallest outline: the one that the bond runs around."""
    held = [part for part in record.parts if part.id in joint.holds and len(part.outline_mm) >= 2]
    return min(held, key=lambda part: area_mm2(part.outline_mm), default=None)
