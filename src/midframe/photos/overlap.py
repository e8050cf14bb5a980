"""Areas of outlines on the plan, and of what two of them share."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from midframe.record.outline import corners

Point = tuple[float, float]
Polygon = Sequence[Point]
Edge = tuple[Point, Point]


def area_mm2(outline: Polygon) -> float:
    """The area of an outline in mm²; where it crosses itself, by the even-odd rule.

    >>> area_mm2([(0, 0), (4, 0), (0, 3)])
    6.0
    """
    return overlap_mm2(outline, outline)


def overlap_mm2(one: Polygon, other: Polygon) -> float:
    """The area in mm² that two outlines share; exact but for rounding.

    The plane is cut into strips at the height of every corner and of every crossing of two edges.
    Within a strip the edges do not cross, so the shared width changes linearly with the height and
    its value in the middle, times the strip's height, is the exact area.

    Parameters
    ----------
    one, other
        Outlines in mm: at least three corners, or two points as opposite corners of a box. They need
        not be convex; where one crosses itself the even-odd rule holds.

    Examples
    --------
    >>> overlap_mm2([(0, 0), (10, 10)], [(6, 6), (20, 8)])
    8.0
    >>> overlap_mm2([(0, 0), (4, 0), (4, 4), (0, 4)], [(2, 0), (4, 2), (2, 4), (0, 2)])
    8.0

    References
    ----------
    A sweep over strips with the even-odd rule, textbook.
    """
    shapes = [edges(corners(shape)) for shape in (one, other)]
    if not all(shapes):
        return 0.0
    heights = sorted(heights_of([edge for shape in shapes for edge in shape]))
    return sum(
        (lower - upper) * shared([crossings(shape, (upper + lower) / 2) for shape in shapes])
        for upper, lower in pairwise(heights)
    )


def edges(corners: Polygon) -> list[Edge]:
    """The edges of a polygon; none where it has fewer than three corners."""
    return list(pairwise([*corners, corners[0]])) if len(corners) > 2 else []


def heights_of(all_edges: Sequence[Edge]) -> set[float]:
    """The heights of every corner and of every crossing of two edges."""
    heights = {point[1] for edge in all_edges for point in edge}
    for index, edge in enumerate(all_edges):
        heights |= {height for other in all_edges[:index] if (height := crossing(edge, other)) is not None}
    return heights


def crossing(one: Edge, other: Edge) -> float | None:
    """The height at which two edges cross, if they do; parallel ones do not."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = other
    slope = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if slope == 0:
        return None
    along = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / slope
    beside = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / slope
    return ay + along * (by - ay) if 0 <= along <= 1 and 0 <= beside <= 1 else None


def crossings(shape: Sequence[Edge], height: float) -> list[float]:
    """Where the edges of a shape cross a height, from the left: always an even number of them."""
    return sorted(
        ax + (height - ay) * (bx - ax) / (by - ay)
        for (ax, ay), (bx, by) in shape
        if (ay <= height) != (by <= height)
    )


def shared(shapes: Sequence[Sequence[float]]) -> float:
    """The width that lies inside both shapes, each given by its crossings from the left."""
    one, other = (list(zip(row[::2], row[1::2], strict=True)) for row in shapes)
    return sum(max(0.0, min(b, d) - max(a, c)) for a, b in one for c, d in other)
