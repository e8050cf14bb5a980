"""Texts beside holes that cover neither holes nor one another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import msgspec

from midframe.publish.labels import Box

ADVANCE = 0.6
"""Mean advance of a character in font heights, on the wide side (our own measurement)."""

RINGS = (0.6, 1.6, 2.8, 4.2, 6.0, 8.5, 12.0)
"""Distances between a hole and its text that are tried in turn, mm (own construction)."""

DIRECTIONS = (0, 180, 90, 270, 45, 315, 135, 225)
"""Directions that are tried in turn, degrees clockwise from the right."""

LEADER_FROM_MM = 2.0
"""A text farther from its hole than this gets a leader."""


class Beside(msgspec.Struct, frozen=True):
    """A text beside a hole: its box, and whether a leader joins them."""

    text: str
    hole: tuple[float, float]
    box: Box
    leader: bool

    @property
    def end(self) -> tuple[float, float]:
        """The point of the box that is nearest to the hole."""
        x, y = self.hole
        return min(max(x, self.box.left), self.box.right), min(max(y, self.box.top), self.box.bottom)


def beside(holes: Sequence[tuple[float, float, float, str]], within: Box, size: float) -> tuple[Beside, ...]:
    """A place for the text of every hole (x, y, radius, text), `size` mm high, inside a box.

    Taken is the first place that touches no hole and no text; where none is free, the last one tried.
    """
    discs = [Box(x - r, y - r, x + r, y + r) for x, y, r, _ in holes]
    placed: list[Beside] = []
    for x, y, radius, text in sorted(holes, key=lambda hole: (hole[1], hole[0])):
        wide, high = ADVANCE * size * len(text), size
        taken = [*discs, *(one.box for one in placed)]
        box, gap = first_free(x, y, radius, (wide, high), taken, within)
        placed.append(Beside(text, (x, y), box, gap > LEADER_FROM_MM))
    return tuple(placed)


def first_free(
    x: float, y: float, radius: float, size: tuple[float, float], taken: Iterable[Box], within: Box
) -> tuple[Box, float]:
    """The first box beside a point that is free, and its distance."""
    boxes = list(taken)
    box, gap = Box(x, y, x, y), 0.0
    for gap in RINGS:
        for direction in DIRECTIONS:
            box = box_at(x, y, radius + gap, direction, size)
            inside = within.left <= box.left and box.right <= within.right
            inside = inside and within.top <= box.top and box.bottom <= within.bottom
            if inside and not any(box.meets(other) for other in boxes):
                return box, gap
    return box, gap


def box_at(x: float, y: float, away: float, direction: int, size: tuple[float, float]) -> Box:
    """A box of a size whose near side is `away` from a point in a direction."""
    wide, high = size
    dx, dy = math.cos(math.radians(direction)), math.sin(math.radians(direction))
    left = x + dx * away - (0 if dx > 0.5 else wide if dx < -0.5 else wide / 2)
    top = y + dy * away - (0 if dy > 0.5 else high if dy < -0.5 else high / 2)
    return Box(left, top, left + wide, top + high)
