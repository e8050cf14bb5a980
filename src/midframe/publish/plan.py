"""The plan of the device, in proportion: where the screws of a move sit, seen from the side worked on."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.publish.language import language
from midframe.publish.places import places
from midframe.publish.svg import drawing, element, path, titled, words
from midframe.record.model import Face, Joint, Record
from midframe.record.outline import corners

WIDTH = 360.0
"""Width of the drawing, units: that of the section, so that the two stand under one another."""

MARGIN = 8.0
TALLEST = 220.0
"""No plan is taller than this, units: a device wider than long is drawn smaller than its section."""


def plan_drawing(
    record: Record,
    joints: Sequence[Joint],
    parts: Sequence[str] = (),
    up: Face = "back",
    *,
    code: str = "en",
) -> str:
    """The plan as SVG text, or nothing where no joint says its spots or the device has no size.

    The top of the device is on the left as in the section, each screw below its place there; the
    plan is seen from the side that is up. Each spot is a circle with a cross; `parts` are drawn as
    outlines for orientation, `code` the language of what is said.
    """
    spots = sorted((y, x) for joint in joints for x, y in joint.spots_mm)
    if not spots or record.device.size_mm is None:
        return ""
    tall, wide, _ = record.device.size_mm
    found = places(record)
    low, high = found.along if found.true else (0.0, tall)
    scale = min((WIDTH - 2 * MARGIN) / (high - low), TALLEST / wide)

    def at(x: float, y: float) -> tuple[float, float]:
        return MARGIN + (y - low) * scale, MARGIN + (wide - x if up == "front" else x) * scale

    left, _ = at(0.0, 0.0)
    shapes = [
        element("rect", x=left, y=MARGIN, width=tall * scale, height=wide * scale, rx=8, class_="d-device")
    ]
    shown = set(parts) - {record.device.body}
    named = [part for part in record.parts if part.id in shown and part.outline_mm]
    shapes += [
        titled(path([at(*c) for c in corners(part.outline_mm)], "d-part", closed=True), part.name)
        for part in named
    ]
    shapes += [spot(*at(x, y)) for y, x in spots]
    foot, say = MARGIN + wide * scale, language(code).say
    seen = say("plan-seen", face=up)
    shapes.append(words(MARGIN, foot + 14, seen, "d-text d-small"))
    told = say("plan-told", count=len(spots), device=record.device.name, seen=seen)
    return drawing(WIDTH, foot + 20, say("plan-name"), told, shapes)


def spot(x: float, y: float) -> str:
    """A screw seen from above: a circle with a cross."""
    cross = path([(x - 2.6, y), (x + 2.6, y)], "d-mark") + path([(x, y - 2.6), (x, y + 2.6)], "d-mark")
    return element("circle", cx=x, cy=y, r=4.4, class_="d-mark d-open") + cross
