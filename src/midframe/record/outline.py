"""Outlines on the plan as polygons: their corners, what lies inside, where a line runs through them."""

from __future__ import annotations

from collections.abc import Sequence

Point = tuple[float, float]
Span = tuple[float, float]


def corners(outline: Sequence[Point]) -> tuple[Point, ...]:
    """The outline as a polygon; two points are opposite corners of a box.

    >>> corners([(0, 0), (2, 1)])
    ((0, 0), (2, 0), (2, 1), (0, 1))
    """
    if len(outline) != 2:
        return tuple(outline)
    (x1, y1), (x2, y2) = outline
    return ((x1, y1), (x2, y1), (x2, y2), (x1, y2))


def inside(point: Point, outline: Sequence[Point]) -> bool:
    """Whether a point lies in an outline, by the even-odd rule.

    >>> inside((1, 1), ((0, 0), (2, 2))), inside((3, 1), ((0, 0), (2, 2)))
    (True, False)
    """
    return sum(y < point[1] for span in crossings(outline, point[0]) for y in span) % 2 == 1


def crossings(outline: Sequence[Point], line: float, axis: int = 0) -> tuple[Span, ...]:
    """Where the line of constant x (axis 0) or y (axis 1) runs inside an outline, as ascending spans.

    >>> crossings(((0, 0), (4, 0), (4, 9), (0, 9)), 1.0), crossings(((0, 0), (4, 9)), 3.0, 1)
    (((0.0, 9.0),), ((0.0, 4.0),))
    >>> crossings(((0, 0), (4, 0), (4, 9), (0, 9)), 5.0)
    ()
    """
    polygon = corners(outline)
    ends = []
    for one, other in zip(polygon, (*polygon[1:], *polygon[:1]), strict=True):
        low, high = one[axis], other[axis]
        if (low <= line) != (high <= line):
            along = (line - low) / (high - low)
            ends.append(one[1 - axis] + (other[1 - axis] - one[1 - axis]) * along)
    ends.sort()
    return tuple(zip(ends[::2], ends[1::2], strict=True))
