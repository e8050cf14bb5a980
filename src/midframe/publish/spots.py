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

PLAIN_BY_MM = 0.5
"""A text that lies not by so much nearer to its hole than to every other gets a leader (own construction)."""


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

    Taken is the first place near the hole that touches no hole and no text and is plainly its own; else the
    first free one, with a leader; where none is free, the last one tried.
    """
    discs = [Box(x - r, y - r, x + r, y + r) for x, y, r, _ in holes]
    placed: list[Beside] = []
    for x, y, radius, text in sorted(holes, key=lambda hole: (hole[1], hole[0])):
        wide, high = ADVANCE * size * len(text), size
        taken = [*discs, *(one.box for one in placed)]
        others = [(a, b, r) for a, b, r, _ in holes if (a, b) != (x, y)]
        box, leader = first_free((x, y, radius), (wide, high), taken, others, within=within)
        placed.append(Beside(text, (x, y), box, leader))
    return tuple(placed)


def first_free(
    hole: tuple[float, float, float],
    size: tuple[float, float],
    taken: Sequence[Box],
    others: Sequence[tuple[float, float, float]],
    *,
    within: Box,
) -> tuple[Box, bool]:
    """The best free box beside a hole, and whether it needs a leader."""
    x, y, radius = hole
    box, free = Box(x, y, x, y), list[tuple[Box, float]]()
    for gap in RINGS:
        for direction in DIRECTIONS:
            box = box_at(x, y, radius + gap, direction, size)
            inside = within.left <= box.left and box.right <= within.right
            inside = inside and within.top <= box.top and box.bottom <= within.bottom
            if inside and not any(box.meets(other) for other in taken):
                free.append((box, gap))
    if not free:
        return box, True
    plain = (found for found, gap in free if gap <= LEADER_FROM_MM and is_own(found, hole, others))
    chosen = next(plain, None)
    if chosen is not None:
        return chosen, False
    return min(free, key=lambda found: found[1] + claim(found[0], hole, others))[0], True


def is_own(box: Box, hole: tuple[float, float, float], others: Iterable[tuple[float, float, float]]) -> bool:
    """Whether a text is plainly nearer to its hole than to every other.

    >>> is_own(Box(2, -1, 9, 1), (0, 0, 1), [(12, 0, 1)]), is_own(Box(2, -1, 9, 1), (0, 0, 1), [(10.2, 0, 1)])
    (True, False)
    """
    own = distance(box, hole) + PLAIN_BY_MM
    return all(distance(box, other) >= own for other in others)


def claim(box: Box, hole: tuple[float, float, float], others: Iterable[tuple[float, float, float]]) -> float:
    """By how many millimetres another hole is nearer to a text than its own; 0 where none is."""
    nearest = min((distance(box, other) for other in others), default=math.inf)
    return max(0.0, distance(box, hole) - nearest)


def distance(box: Box, hole: tuple[float, float, float]) -> float:
    """From the rim of a hole to the nearest point of a box."""
    x, y, radius = hole
    across = max(box.left - x, 0.0, x - box.right)
    down = max(box.top - y, 0.0, y - box.bottom)
    return math.hypot(across, down) - radius


def box_at(x: float, y: float, away: float, direction: int, size: tuple[float, float]) -> Box:
    """A box of a size whose near side is `away` from a point in a direction."""
    wide, high = size
    dx, dy = math.cos(math.radians(direction)), math.sin(math.radians(direction))
    left = x + dx * away - (0 if dx > 0.5 else wide if dx < -0.5 else wide / 2)
    top = y + dy * away - (0 if dy > 0.5 else high if dy < -0.5 else high / 2)
    return Box(left, top, left + wide, top + high)
