"""The device: its section large, what it is made of, its figures, where its other sheets are, its state."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.battery import in_short, stands
from midframe.dossier.summary import device_line
from midframe.faults import BadSetting
from midframe.publish.section import stack_drawing, stretch
from midframe.record.model import PRIORITY_ROLES, Face, Joint, Part, Record
from midframe.store import STATES as STORED
from midframe.store import Kept
from midframe.ways.assumed import assumed_subjects
from midframe.web.context import now, store_of
from midframe.web.forms import posted, text
from midframe.web.render import see_other
from midframe.web.states import STATES
from midframe.web.waiting import asked, shown


class PartLine(msgspec.Struct, frozen=True):
    """One part in the list: what it is and what holds it."""

    part: Part
    roles: tuple[str, ...]
    joints: int


def device(request: Request) -> Response:
    """The page of one device."""
    kept = store_of(request).get(request.path_params["id"])
    answer = asked(request, "device", kept.record)
    return shown(request, "device.html", answer, **content(request, kept))


def content(request: Request, kept: Kept) -> Mapping[str, Any]:
    """What the page shows beside its computed figures."""
    record = kept.record
    up: Face = "front" if request.query_params.get("up") == "front" else "back"
    out = [part.id for part in record.parts if part.id != record.device.body]
    links = {part: f"/r/{kept.id}/ways/{part}" for part in out}
    return {
        "kept": kept,
        "sheet": "device",
        "sheet_title": "Device",
        "drawing": stack_drawing(record, up=up, links=links),
        "up": up,
        "stretch": stretch(record),
        "line": device_line(record),
        "battery": in_short(record),
        "battery_stands": stands(record),
        "open_questions": len(assumed_subjects(record)),
        "set_aside": len(store_of(request).beside(kept.id)),
        "states": STATES,
        "first": lines(record, priority=True),
        "rest": lines(record, priority=False),
    }


def lines(record: Record, *, priority: bool) -> tuple[PartLine, ...]:
    """The parts with a priority role, or the others, in the order of the record."""
    found = [PartLine(part, roles_of(part), joints_at(record.joints, part.id)) for part in record.parts]
    return tuple(one for one in found if priority == (not set(PRIORITY_ROLES).isdisjoint(one.roles)))


def roles_of(part: Part) -> tuple[str, ...]:
    """The roles of a part that say something."""
    return tuple(role for role in dict.fromkeys((part.role, *part.also)) if role != "other")


def joints_at(joints: tuple[Joint, ...], part: str) -> int:
    """How many joints hold a part."""
    return sum(part in joint.holds for joint in joints)


@posted
def state(request: Request, form: FormData) -> Response:
    """Where the work on the device stands."""
    name, chosen = request.path_params["id"], text(form, "state")
    for one in STORED:
        if one == chosen:
            store_of(request).set_state(name, one, now())
            return see_other(f"/r/{name}")
    raise BadSetting(f"state: found '{chosen[:40]}'; it may be {', '.join(STORED)}")


routes = (
    Route("/r/{id}", device),
    Route("/r/{id}/state", state, methods=["POST"]),
)
