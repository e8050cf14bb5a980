"""The plan of the device, in proportion: where the screws of a move sit, seen from the side worked on."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.publish.places import corners
from midframe.publish.svg import drawing, element, path, titled, words
from midframe.record.model import Face, Joint, Record

LONG = 190.0
"""The longer side of the device in the plan, drawing units."""

EDGE = 6.0


def plan_drawing(
    record: Record, joints: Sequence[Joint], parts: Sequence[str] = (), up: Face = "back"
) -> str:
    """The plan as SVG text, or nothing where no joint says its spots or the device has no size.

    Seen from the back, left and right are exchanged. Each spot is a circle with a cross, numbered
    from the top; `parts` are drawn as outlines for orientation.
    """
    spots = sorted((y, x) for joint in joints for x, y in joint.spots_mm)
    if not spots or record.device.size_mm is None:
        return ""
    tall, wide, _ = record.device.size_mm
    scale = LONG / max(tall, wide)

    def at(x: float, y: float) -> tuple[float, float]:
        return EDGE + (x if up == "front" else wide - x) * scale, EDGE + y * scale

    shapes = [
        element("rect", x=EDGE, y=EDGE, width=wide * scale, height=tall * scale, rx=8, class_="d-device")
    ]
    shown = set(parts) - {record.device.body}
    named = [part for part in record.parts if part.id in shown and part.outline_mm]
    shapes += [
        titled(path([at(*c) for c in corners(part)], "d-part", closed=True), part.name) for part in named
    ]
    for y, x in spots:
        shapes.append(spot(*at(x, y)))
    side = "front" if up == "front" else "back"
    foot = EDGE * 2 + tall * scale
    shapes.append(words(EDGE, foot + 8, f"seen from the {side}", "d-text d-small"))
    width = max(EDGE * 2 + wide * scale, 122.0)
    told = f"{len(spots)} screw spots on the plan of {record.device.name}, seen from the {side}."
    return drawing(width, foot + 12, "Screw spots", told, shapes)


def spot(x: float, y: float) -> str:
    """A screw seen from above: a circle with a cross."""
    cross = path([(x - 2.6, y), (x + 2.6, y)], "d-mark") + path([(x, y - 2.6), (x, y + 2.6)], "d-mark")
    return element("circle", cx=x, cy=y, r=4.4, class_="d-mark d-open") + cross
