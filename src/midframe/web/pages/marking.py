"""Marking on a photo: four corners give the scale, then spots or an outline in millimetres."""

from __future__ import annotations

import re
from typing import Any, Literal

import msgspec
from msgspec.structs import replace
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.photos import Rectify, covers
from midframe.photos.rectify import CORNERS
from midframe.record.model import Record
from midframe.store import Kept
from midframe.ways.wording import told_apart
from midframe.web.context import store_of
from midframe.web.forms import posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.pages.photos import photo_of
from midframe.web.render import page

Point = tuple[float, float]
Seen = Literal["front", "back"]

PAIR = re.compile(r"\s*(-?\d+(?:\.\d+)?)[\s,;]+(-?\d+(?:\.\d+)?)\s*")
MOST_POINTS = 400


class Marked(msgspec.Struct, frozen=True):
    """What a form marks: corners and points in pixels of the full photo, which face is up, and what it is."""

    corners: str = ""
    points: str = ""
    seen: Seen = "back"
    what: str = ""


def mark(request: Request) -> Response:
    """The photo with what can be marked on it."""
    kept = store_of(request).get(request.path_params["id"])
    return page(
        request, "mark.html", **shown(request, kept, Marked(what=request.query_params.get("what", "")))
    )


def shown(request: Request, kept: Kept, marked: Marked, **more: Any) -> dict[str, Any]:
    """What the marking sheet shows."""
    record, one = kept.record, photo_of(kept, request.path_params["hash"])
    rows = {row.hash: row for row in store_of(request).photos(kept.id)}
    joints = [joint for joint in record.joints if joint.kind == "screw"]
    done = request.query_params.get("done", "")
    return {
        "kept": kept,
        "sheet": "photos",
        "sheet_title": "Mark on a photo",
        "photo": one,
        "row": rows.get(one.hash),
        "marked": marked,
        "joints": joints,
        "called": {joint.id: told_apart(record, joint) for joint in joints},
        "parts": [part for part in record.parts if part.id != record.device.body],
        "names": {part.id: part.name for part in record.parts},
        "corner_names": CORNERS,
        "done": next((name for name in targets(record) if name == done), ""),
        "covers": covers(record)[:6] if done.startswith("part:") else (),
        "fault": "",
        "error_mm": request.query_params.get("error", "")[:8],
        **more,
    }


def called(record: Record, what: str) -> str:
    """What is marked, by its name, with a capital."""
    thing = what.partition(":")[2]
    words = next((told_apart(record, one) for one in record.joints if one.id == thing), thing)
    words = next((one.name for one in record.parts if one.id == thing), words)
    return words[:1].upper() + words[1:]


def targets(record: Record) -> tuple[str, ...]:
    """What may be marked: the spots of every joint, the outline of every part."""
    return (*(f"joint:{one.id}" for one in record.joints), *(f"part:{one.id}" for one in record.parts))


@posted
def save(request: Request, form: FormData) -> Response:
    """Turn what was marked into millimetres and put it into the record."""
    store, name = store_of(request), request.path_params["id"]
    marked = Marked(
        corners=text(form, "corners"),
        points=text(form, "points"),
        seen="front" if text(form, "seen") == "front" else "back",
        what=text(form, "what"),
    )
    kept = store.get(name, whole(form, "base"))
    try:
        record, error = with_marks(kept.record, marked)
    except BadSetting as fault:
        return page(request, "mark.html", 422, **shown(request, kept, marked, fault=str(fault)))
    said = "spots marked on a photo" if marked.what.startswith("joint:") else "outline marked on a photo"
    made = keep(request, form, kept, record, f"{called(kept.record, marked.what)}: {said}")
    to = f"/r/{name}/photos/{request.path_params['hash']}/mark?done={marked.what}&error={error:.2f}"
    return onward(made, to)


def with_marks(record: Record, marked: Marked) -> tuple[Record, float]:
    """The record with the marks in millimetres, and how far the worst of them may be off.

    Raises `BadSetting` where size, corners, points or what is marked is missing or does not fit.
    """
    if record.device.size_mm is None:
        raise BadSetting("scale: found no size of the device; right: height and width in the device's form")
    height, width, _ = record.device.size_mm
    corners, points = points_of(marked.corners, "corners"), points_of(marked.points, "points")
    if len(corners) != len(CORNERS):
        raise BadSetting(f"corners: found {len(corners)}; right: four, {', '.join(CORNERS)}")
    scale = Rectify(corners, width_mm=width, height_mm=height, seen=marked.seen)
    found = tuple(plan_point(scale, point) for point in points)
    kind, _, thing = marked.what.partition(":")
    error = max((scale.error_mm(*point) for point in points), default=0.0)
    if kind == "joint" and thing in {one.id for one in record.joints}:
        if not found:
            raise BadSetting("points: found none; right: one for each screw of the group")
        changed = tuple(replace(one, spots_mm=found) if one.id == thing else one for one in record.joints)
        return replace(record, joints=changed), error
    if kind == "part" and thing in {one.id for one in record.parts}:
        if len(found) < 2:
            raise BadSetting(
                f"points: found {len(found)}; right: two opposite corners, or three and more round it"
            )
        parts = tuple(replace(one, outline_mm=found) if one.id == thing else one for one in record.parts)
        return replace(record, parts=parts), error
    raise BadSetting(f"marked: found '{marked.what[:40]}'; right: a group of screws or a part of the record")


def points_of(typed: str, what: str) -> list[Point]:
    r"""One point a line, x and y in pixels of the full photo.

    >>> points_of("10, 20\n30.5 40", "points")
    [(10.0, 20.0), (30.5, 40.0)]
    """
    lines = [line for line in typed.splitlines() if line.strip()]
    if len(lines) > MOST_POINTS:
        raise BadSetting(f"{what}: found {len(lines)} lines; right: {MOST_POINTS} at most")
    found = []
    for number, line in enumerate(lines, start=1):
        pair = PAIR.fullmatch(line)
        if pair is None or len(line) > 60:
            raise BadSetting(
                f"{what}, line {number}: found '{line[:40]}'; right: two numbers, x and y in pixels"
            )
        found.append((float(pair[1]), float(pair[2])))
    return found


def plan_point(scale: Rectify, point: Point) -> Point:
    """A marked point on the plan, to a hundredth of a millimetre; raises `BadSetting` off the device."""
    if scale.outside(*point):
        x, y = scale.to_mm(*point)
        raise BadSetting(
            f"points: found one at {x:g}, {y:g} mm, off the device; right: points inside the corners"
        )
    x, y = scale.to_mm(*point)
    return round(x, 2), round(y, 2)


routes = (
    Route("/r/{id}/photos/{hash}/mark", mark, methods=["GET"]),
    Route("/r/{id}/photos/{hash}/mark", save, methods=["POST"]),
)
