"""Labels under a drawing that touch neither one another nor one another's leaders."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from midframe.publish.svg import cut, element, width_of, words

LINE = 16.0
"""Height of one row of labels, drawing units."""

CLEAR = 3.0
"""Space kept free around labels and leaders, drawing units."""


class Box(msgspec.Struct, frozen=True):
    """A rectangle on the drawing."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two share any point."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


class Label(msgspec.Struct, frozen=True):
    """A placed label: its text, the point it names, its box, and the row it stands in."""

    text: str
    x: float
    y: float
    box: Box
    row: int

    @property
    def leader(self) -> Box:
        """The upright hairline from the point to the row, with the space it keeps."""
        return Box(self.x - CLEAR, self.y, self.x + CLEAR, self.box.top)


def place(anchors: Iterable[tuple[float, float, str]], top: float, width: float) -> tuple[Label, ...]:
    """A place below `top` for every (x, y, text), in as few rows as will do; texts too long are cut.

    Labels never overlap. Where no arrangement keeps every leader clear of every label, leaders may
    pass behind labels.
    """
    wanted: list[tuple[float, float, str]] = []
    for x, y, text in sorted(anchors):
        wanted.append((apart(x, wanted), y, cut(text)))
    for strict, rows in [*((True, rows) for rows in range(1, len(wanted) + 2)), (False, len(wanted))]:
        found = arranged(wanted, top, width, rows=rows, strict=strict)
        if found is not None:
            return found
    raise AssertionError("one row for each label always does")


def apart(x: float, wanted: list[tuple[float, float, str]]) -> float:
    """The anchor moved to the right until its leader is clear of those before it."""
    while any(abs(x - other) < 2 * CLEAR for other, _, _ in wanted):
        x += CLEAR
    return x


def arranged(
    wanted: list[tuple[float, float, str]], top: float, width: float, *, rows: int, strict: bool
) -> tuple[Label, ...] | None:
    """The first arrangement in so many rows without a collision; `None` if there is none."""
    placed: list[Label] = []

    def rest_fits(index: int) -> bool:
        if index == len(wanted):
            return True
        for label in candidates(*wanted[index], top, width, rows):
            if all(clear(label, other, strict=strict) for other in placed):
                placed.append(label)
                if rest_fits(index + 1):
                    return True
                placed.pop()
        return False

    return tuple(placed) if rest_fits(0) else None


def candidates(x: float, y: float, text: str, top: float, width: float, rows: int) -> Iterator[Label]:
    """Where a label may go: right of its leader, left of it, else as far as the edges let it."""
    wide = min(width_of(text), width)
    inside = min(max(0.0, x - wide / 2), width - wide)
    lefts = [left for left in (x - 2, x + 2 - wide, inside) if 0 <= left <= width - wide]
    for row in range(rows):
        y_row = top + row * LINE
        for left in lefts:
            yield Label(text, x, y, Box(left, y_row, left + wide, y_row + LINE - 2), row)


def clear(label: Label, other: Label, *, strict: bool) -> bool:
    """Whether two labels, and if strict their leaders too, keep clear of each other."""
    if label.box.meets(other.box):
        return False
    return not strict or not (label.box.meets(other.leader) or label.leader.meets(other.box))


def drawn(labels: Iterable[Label]) -> str:
    """The labels with their hairlines."""
    parts = []
    for label in labels:
        parts.append(
            element("line", x1=label.x, y1=label.y, x2=label.x, y2=label.box.top + 2, class_="d-leader")
        )
        parts.append(words(label.box.left, label.box.bottom - 2, label.text))
    return "".join(parts)
