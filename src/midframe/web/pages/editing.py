"""Editing the record: device, parts, joints, seals, layers, checks and tools, one form for each."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault, RecordFault, UnknownPart
from midframe.photos import assume, covers
from midframe.record import Record, check
from midframe.record.draft import slug, unused
from midframe.record.edits import remove_joint, remove_part, rename, take_out
from midframe.record.findings import Finding
from midframe.store import Kept
from midframe.web.context import store_of
from midframe.web.edit_fields import Section
from midframe.web.edit_sections import SECTIONS
from midframe.web.edit_tables import Table, by_field, form_table, new_faults, put, shown_table
from midframe.web.edit_views import choices_for, places_of, rows_of
from midframe.web.forms import posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import page, see_other


def parts(request: Request) -> Response:
    """Everything the record holds, each with the way to its form; what a check finds; what may cover what."""
    kept = store_of(request).get(request.path_params["id"])
    return page(request, "parts.html", **listed(kept))


def listed(kept: Kept, **more: Any) -> dict[str, Any]:
    """What the sheet of parts and joints shows."""
    findings = check(kept.record)
    return {
        "kept": kept,
        "sheet": "parts",
        "sheet_title": "Parts and joints",
        "rows": rows_of(kept.record),
        "findings": [(one, places_of(kept.record, one.path)) for one in findings],
        "covers": covers(kept.record)[:12],
        "names": names_of(kept.record),
        "fault": "",
        **more,
    }


def names_of(record: Record) -> dict[str, str]:
    """Ids of parts and joints and what they are called; a part's name wins."""
    return {joint.id: joint.name or joint.id for joint in record.joints} | {
        part.id: part.name for part in record.parts
    }


def section_of(request: Request) -> Section:
    """The kind of table that an address names."""
    name = request.path_params.get("section", "device")
    if name not in SECTIONS:
        raise UnknownPart(f"found no list '{name}' in a record; right: one of {', '.join(SECTIONS)}")
    return SECTIONS[name]


def index_of(record: Record, section: Section, thing: str) -> int:
    """Where in its list a thing stands."""
    keys = [str(getattr(one, section.key)) for one in getattr(record, section.name)]
    if thing not in keys:
        raise UnknownPart(f"found no {section.one} '{thing}' in the record; perhaps taken out or renamed")
    return keys.index(thing)


def edit(request: Request) -> Response:
    """The form of one thing as the record holds it."""
    section, kept = section_of(request), store_of(request).get(request.path_params["id"])
    thing = request.path_params.get("thing")
    index = index_of(kept.record, section, thing) if thing else None
    return form_page(request, kept, section, shown_table(kept.record, section, index))


def begin(request: Request) -> Response:
    """An empty form; what the address says is filled in."""
    section, kept = section_of(request), store_of(request).get(request.path_params["id"])
    return form_page(request, kept, section, form_table(section, request.query_params, {}, kept.record))


def form_page(
    request: Request, kept: Kept, section: Section, table: Table, findings: tuple[Finding, ...] = ()
) -> Response:
    """The form with the faults beside their fields, and all of them once more above."""
    thing = request.path_params.get("thing", "")
    title = f"Edit {section.one}" if thing or section.name == "device" else f"New {section.one}"
    return page(
        request,
        "edit.html",
        422 if findings else 200,
        kept=kept,
        sheet="parts",
        sheet_title=title,
        section=section,
        thing=thing,
        table=table,
        faults=by_field(findings, section, table),
        options=choices_for(kept.record, section, thing),
        names=names_of(kept.record),
        back=back_of(request),
        other_fault="",
    )


def back_of(request: Request) -> str:
    """Where to go afterwards: a page of this record, as the address or the form's address says."""
    back, own = request.query_params.get("back", ""), f"/r/{request.path_params['id']}"
    inside = back == own or back.startswith((f"{own}/", f"{own}#", f"{own}?"))
    return back if inside and back.isprintable() and "\\" not in back else ""


@posted
def save(request: Request, form: FormData) -> Response:
    """Keep the form as a revision, merged into what others have changed since it was opened."""
    section, kept = section_of(request), opened(request, form)
    thing = request.path_params.get("thing")
    fresh = thing is None and section.name != "device"
    index = index_of(kept.record, section, thing) if thing else None
    table = form_table(section, form, shown_table(kept.record, section, index), kept.record)
    if fresh:
        table = {**named(section, table, kept.record), **table}
    try:
        record = put(kept.record, section, index, table)
    except RecordFault as fault:
        return form_page(request, kept, section, table, fault.findings)
    at = len(getattr(record, section.name)) - 1 if fresh else index or 0
    if findings := new_faults(kept.record, record, section, at):
        return form_page(request, kept, section, table, findings)
    name = str(table.get(section.key) or thing)
    return stored(request, form, kept, record, f"{section.one} {name} {'added' if fresh else 'edited'}")


def opened(request: Request, form: FormData) -> Kept:
    """The record as it stood when the form was made."""
    return store_of(request).get(request.path_params["id"], whole(form, "base"))


def stored(request: Request, form: FormData, kept: Kept, record: Record, summary: str) -> Response:
    """Save and go on: to the choice between two versions where the same thing was edited twice."""
    saved = keep(request, form, kept, record, summary[:1].upper() + summary[1:])
    return onward(saved, back_of(request) or f"/r/{kept.id}/parts{anchor(request)}")


def anchor(request: Request) -> str:
    """The place on the sheet of the thing that was edited."""
    section, thing = request.path_params.get("section", ""), request.path_params.get("thing", "")
    return f"#{section[:-1]}-{thing}" if thing and section in ("parts", "joints") else ""


def named(section: Section, table: Table, record: Record) -> Table:
    """The id of something new, made of what is known of it; a new part sits on the body at first."""
    if section.key != "id":
        return {}
    taken = {
        one.id for kind in ("parts", "joints", "layers", "seals", "checks") for one in getattr(record, kind)
    }
    word = {
        "parts": str(table.get("name", "")),
        "joints": " ".join([*map(str, table.get("holds", [])[:1]), str(table.get("kind", ""))]),
        "layers": " ".join([str(table.get("kind", "")), *map(str, table.get("between", [])[:1])]),
        "seals": " ".join(["seal", *map(str, table.get("at", [])[:1])]),
        "checks": " ".join(str(table.get("text", "")).split()[:4]),
    }[section.name]
    made: Table = {"id": unused(slug(word), taken)}
    return {**made, "seat": record.device.body} if section.name == "parts" else made


@posted
def remove(request: Request, form: FormData) -> Response:
    """Take one thing out of the record, and out of everything that names it."""
    section, kept, thing = section_of(request), opened(request, form), request.path_params["thing"]
    if section.name == "device":
        raise BadSetting("found the device; right: put the whole record away on its own page")
    index = index_of(kept.record, section, thing)
    if section.name == "parts":
        record = remove_part(kept.record, thing)
    elif section.name == "joints":
        record = remove_joint(kept.record, thing)
    else:
        record = take_out(kept.record, section.name, index)
    return stored(request, form, kept, record, f"{section.one} {thing} taken out")


@posted
def give_id(request: Request, form: FormData) -> Response:
    """Another id for a part or joint, wherever it is named."""
    section, kept, thing = section_of(request), opened(request, form), request.path_params["thing"]
    index_of(kept.record, section, thing)
    new = text(form, "id", 80)
    if new == thing:
        return see_other(f"/r/{kept.id}/edit/{section.name}/{thing}")
    record = rename(kept.record, "part" if section.name == "parts" else "joint", thing, new)
    return stored(request, form, kept, record, f"{section.one} {thing} is now called {new} in the file")


@posted
def cover(request: Request, form: FormData) -> Response:
    """Say that one part lies over another part or joint."""
    kept = opened(request, form)
    above, below = text(form, "above"), text(form, "below")
    try:
        record = assume(kept.record, above, below, confirmed=True)
        if worse := new_blocks(kept.record, record):
            raise RecordFault(worse)
    except Fault as fault:
        return page(request, "parts.html", 422, **listed(kept, fault=str(fault)))
    return stored(request, form, kept, record, f"{above} lies over {below}")


def new_blocks(before: Record, after: Record) -> tuple[Finding, ...]:
    """Faults of the whole record that were not there before."""
    known = {(one.path, one.found) for one in check(before)}
    found = (one for one in check(after) if one.level == "fault" and (one.path, one.found) not in known)
    return tuple(msgspec.structs.replace(one, file="") for one in found)


routes = (
    Route("/r/{id}/parts", parts),
    Route("/r/{id}/covers", cover, methods=["POST"]),
    Route("/r/{id}/edit/device", edit, methods=["GET"]),
    Route("/r/{id}/edit/device", save, methods=["POST"]),
    Route("/r/{id}/edit/{section}/new", begin, methods=["GET"]),
    Route("/r/{id}/edit/{section}/new", save, methods=["POST"]),
    Route("/r/{id}/edit/{section}/{thing}", edit, methods=["GET"]),
    Route("/r/{id}/edit/{section}/{thing}", save, methods=["POST"]),
    Route("/r/{id}/edit/{section}/{thing}/remove", remove, methods=["POST"]),
    Route("/r/{id}/edit/{section}/{thing}/id", give_id, methods=["POST"]),
)
