"""Marks of the joints: line art of our own, one shape per kind, told apart without colour."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from midframe.publish.svg import element, path
from midframe.record.model import JointKind

KINDS: tuple[JointKind, ...] = ("screw", "connector", "clip", "adhesive", "solder", "other")
"""Kinds of joints in the order of the legend."""


def screw(x: float, y: float, class_: str) -> str:
    """A flat head over a shank with two turns of thread; the head is at (x, y)."""
    head = path([(x - 4, y), (x + 4, y), (x + 2, y + 2.5), (x - 2, y + 2.5)], class_, closed=True)
    shank = path([(x, y + 2.5), (x, y + 10)], class_)
    turns = "".join(path([(x - 2, y + d + 1), (x + 2, y + d)], class_) for d in (4.5, 7.5))
    return head + shank + turns


def connector(x: float, y: float, class_: str) -> str:
    """A plug let into its socket."""
    socket = path([(x - 6, y - 1), (x - 6, y + 5), (x + 6, y + 5), (x + 6, y - 1)], class_)
    return socket + element("rect", x=x - 3, y=y - 4, width=6, height=6, class_=class_)


def clip(x: float, y: float, class_: str) -> str:
    """A hook behind an edge."""
    hook = path([(x - 3, y - 6), (x - 3, y + 3), (x + 3, y), (x - 3, y - 1)], class_)
    return hook + path([(x, y + 4), (x + 6, y + 4)], class_)


def adhesive(x: float, y: float, class_: str, width: float = 16) -> str:
    """A zigzag along the bond, `width` units long."""
    teeth = max(2, round(width / 4))
    step = width / teeth
    left = x - width / 2
    return path([(left + step * i, y + (2 if i % 2 else -2)) for i in range(teeth + 1)], class_)


def solder(x: float, y: float, class_: str) -> str:
    """A dome on its pad."""
    dome = element("path", d=f"M{x - 4:.1f} {y + 2:.1f}a4 5 0 0 1 8 0", class_=class_)
    return dome + path([(x - 7, y + 2), (x + 7, y + 2)], class_)


def other(x: float, y: float, class_: str) -> str:
    """A cross in a square."""
    square = element("rect", x=x - 4, y=y - 4, width=8, height=8, class_=class_)
    return (
        square
        + path([(x - 4, y - 4), (x + 4, y + 4)], class_)
        + path([(x - 4, y + 4), (x + 4, y - 4)], class_)
    )


SHAPES: Mapping[JointKind, Callable[[float, float, str], str]] = {
    "screw": screw,
    "connector": connector,
    "clip": clip,
    "adhesive": adhesive,
    "solder": solder,
    "other": other,
}


def icon(kind: JointKind, x: float, y: float, class_: str = "d-mark") -> str:
    """The mark of a kind of joint at a place."""
    return SHAPES[kind](x, y, class_)


def legend_icon(kind: JointKind) -> str:
    """The mark alone, 20 by 16 units, for a legend that names it beside."""
    shape = icon(kind, 10, 4 if kind == "screw" else 8)
    return element(
        "svg",
        shape,
        viewBox="0 0 20 16",
        class_="drawing d-legend",
        fill="none",
        stroke="currentColor",
        aria_hidden="true",
    )
