"""Millimetres on a photo: four corners and the known outline give the scale, perspective undone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from midframe.faults import BadSetting

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Matrix = NDArray[numpy.float64]

Point = tuple[float, float]
Seen = Literal["front", "back"]

CORNERS = ("top left", "top right", "bottom right", "bottom left")
"""The order of the corners, as the device lies in the picture with its top edge up."""

CLICK_PX = 2.0
"""How far a marked point may be off, as one standard deviation in x and in y (common practice, no source)."""

LEAST_SIDE_PX = 20.0
"""Shortest edge of the device that is taken for one (own choice)."""

LEAST_SINE = 0.1
"""Sine of the flattest corner that is taken for one: about 6 degrees (own choice)."""


class Rectify:
    """From pixels of a photo to millimetres on the plan of the device, and back.

    The plan is that of the record: seen from the front, x from the left, y from the top. On a
    photo of the back the device lies mirrored, and `seen="back"` turns it over.

    Parameters
    ----------
    corners_px
        Top left, top right, bottom right, bottom left as they lie in the picture, the device's top
        edge up; x to the right and y down, in pixels. The device may lie turned in the picture.
    width_mm, height_mm
        The outline of the device.
    seen
        The face that is up.
    click_px
        Standard deviation of a marked point in x and in y, in pixels.

    Raises
    ------
    BadSetting
        When the corners are not those of a device seen from above: too close together, on one line,
        crossed, or marked against the clock.

    Examples
    --------
    >>> flat = Rectify([(100, 50), (400, 50), (400, 650), (100, 650)], width_mm=75, height_mm=150)
    >>> flat.to_mm(250, 350)
    (37.5, 75.0)
    >>> Rectify(flat.corners_px, width_mm=75, height_mm=150, seen="back").to_mm(100, 50)
    (75.0, 0.0)
    >>> round(flat.error_mm(250, 350), 2)
    0.94

    References
    ----------
    [hartley-zisserman, section 4.1]: the direct linear transform, with four points an exact solution.
    [jcgm-100, clause 5.1.2]: how the errors of the points carry over. From the front, x from the left,
    is the plan of the record (own construction).
    """

    def __init__(
        self,
        corners_px: Sequence[Point],
        *,
        width_mm: float,
        height_mm: float,
        seen: Seen = "front",
        click_px: float = CLICK_PX,
    ) -> None:
        if not (width_mm > 0 and height_mm > 0):
            raise BadSetting(
                f"outline: found {width_mm:g} × {height_mm:g} mm; right: width and height above zero"
            )
        check_corners(corners_px)
        self.corners_px = tuple((float(x), float(y)) for x, y in corners_px)
        self.width_mm, self.height_mm = width_mm, height_mm
        self.seen, self.click_px = seen, click_px

    @property
    def corners_mm(self) -> tuple[Point, ...]:
        """Where the corners lie on the plan."""
        left, right = (0.0, self.width_mm) if self.seen == "front" else (self.width_mm, 0.0)
        return ((left, 0.0), (right, 0.0), (right, self.height_mm), (left, self.height_mm))

    @cached_property
    def _forward(self) -> Matrix:
        return homography(self.corners_px, self.corners_mm)

    @cached_property
    def _backward(self) -> Matrix:
        return homography(self.corners_mm, self.corners_px)

    def to_mm(self, x: float, y: float) -> Point:
        """A point of the photo on the plan, in millimetres, to a thousandth."""
        x_mm, y_mm = moved(self._forward, x, y)
        return round(x_mm, 3) + 0.0, round(y_mm, 3) + 0.0

    def to_px(self, x_mm: float, y_mm: float) -> Point:
        """A point of the plan on the photo, in pixels."""
        return moved(self._backward, x_mm, y_mm)

    def error_mm(self, x: float, y: float) -> float:
        """How far `to_mm` of this point may be off, in millimetres: one standard deviation, x and y together.

        The marked point and all four corners are taken to be off by `click_px` each, independently;
        the squares of what each does to the result are added up.

        References
        ----------
        [jcgm-100, clause 5.1.2]; the derivatives are central differences.
        """
        step = 0.01
        total = 0.0
        for which in range(10):
            high, low = (self._shifted(x, y, which, way * step) for way in (1, -1))
            slopes = ((a - b) / (2 * step) for a, b in zip(high, low, strict=True))
            total += sum(slope * slope for slope in slopes)
        return self.click_px * math.sqrt(total)

    def _shifted(self, x: float, y: float, which: int, by: float) -> Point:
        """The point on the plan when one of its ten inputs (x, y, then the corners) is shifted."""
        values = [x, y, *(value for corner in self.corners_px for value in corner)]
        values[which] += by
        corners = tuple(zip(values[2::2], values[3::2], strict=True))
        matrix = self._forward if which < 2 else homography(corners, self.corners_mm)
        return moved(matrix, values[0], values[1])

    def outside(self, x: float, y: float, margin_mm: float = 1.0) -> bool:
        """Whether a point lies off the device by more than a margin."""
        x_mm, y_mm = self.to_mm(x, y)
        return not (
            -margin_mm <= x_mm <= self.width_mm + margin_mm
            and -margin_mm <= y_mm <= self.height_mm + margin_mm
        )

    def hint(self) -> str:
        """A word of doubt about the corners, or nothing: when the sides look exchanged by a quarter turn."""
        top, right, bottom, left = sides(self.corners_px)
        seen = math.log((top + bottom) / (left + right))
        told = math.log(self.width_mm / self.height_mm)
        if abs(seen + told) < abs(seen - told) and abs(told) > math.log(1.15):
            return (
                "the edge marked as the top looks like a long side of the device; "
                "begin at the corner left of its top edge"
            )
        return ""


def homography(source: Sequence[Point], target: Sequence[Point]) -> Matrix:
    """The 3 × 3 matrix that takes four points to four others, 1 beneath the line in their middle.

    Eight equations for eight unknowns: for each pair x' (g x + h y + 1) = a x + b y + c, and y' likewise.

    References
    ----------
    [hartley-zisserman, section 4.1].
    """
    import numpy

    # Counted from the middle of the source, where no horizon of a convex outline can lie.
    middle_x, middle_y = (sum(values) / 4 for values in zip(*source, strict=True))
    rows, right = [], []
    for (from_x, from_y), (x_to, y_to) in zip(source, target, strict=True):
        x, y = from_x - middle_x, from_y - middle_y
        rows += [[x, y, 1, 0, 0, 0, -x_to * x, -x_to * y], [0, 0, 0, x, y, 1, -y_to * x, -y_to * y]]
        right += [x_to, y_to]
    solved = numpy.linalg.solve(numpy.array(rows, dtype=float), numpy.array(right, dtype=float))
    centred = numpy.append(solved, 1.0).reshape(3, 3)
    matrix: Matrix = centred @ numpy.array([[1, 0, -middle_x], [0, 1, -middle_y], [0, 0, 1]], dtype=float)
    return matrix


def moved(matrix: Matrix, x: float, y: float) -> Point:
    """A point moved by a homography; raises `BadSetting` on and beyond the horizon."""
    over_x, over_y, under = (float(row[0] * x + row[1] * y + row[2]) for row in matrix)
    if under <= 1e-9:
        raise BadSetting(f"point {x:g}, {y:g}: found one beyond the horizon of the device's plane")
    return over_x / under, over_y / under


def sides(corners: Sequence[Point]) -> tuple[float, ...]:
    """Lengths from each corner to the next."""
    return tuple(math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))


def check_corners(corners: Sequence[Point]) -> None:
    """Refuse what cannot be the four corners of a device seen from above."""
    right = f"right: {', '.join(CORNERS)}, clockwise"
    if len(corners) != 4:
        raise BadSetting(f"corners: found {len(corners)}; {right}")
    if not all(math.isfinite(value) for corner in corners for value in corner):
        raise BadSetting(f"corners: found a coordinate that is no number; {right}")
    lengths = sides(corners)
    for index, length in enumerate(lengths):
        if length < LEAST_SIDE_PX:
            raise BadSetting(
                f"corners: found {CORNERS[index]} and {CORNERS[(index + 1) % 4]} {length:.0f} pixels apart; "
                f"right: at least {LEAST_SIDE_PX:.0f}"
            )
    turns = tuple(
        cross(corners[index - 1], corners[index], corners[(index + 1) % 4])
        / (lengths[index - 1] * lengths[index])
        for index in range(4)
    )
    check_turns(turns, right)


def check_turns(turns: Sequence[float], right: str) -> None:
    """Refuse corners whose turns (sines, positive clockwise) do not all go clockwise."""
    if flat := [CORNERS[index] for index, turn in enumerate(turns) if abs(turn) < LEAST_SINE]:
        raise BadSetting(f"corners: found {flat[0]} on one line with its neighbours; {right}")
    if all(turn < 0 for turn in turns):
        raise BadSetting(f"corners: found them marked against the clock; {right}")
    if not all(turn > 0 for turn in turns):
        raise BadSetting(f"corners: found edges that cross or a corner that points inwards; {right}")


def cross(before: Point, at: Point, after: Point) -> float:
    """Twice the signed area of three points; positive when they turn clockwise with y downwards."""
    return (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0])
