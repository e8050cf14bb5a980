"""Battery: the label and its check, what logs said, how a cell is handled, beside the model before."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby
from typing import Any
from urllib.parse import urlencode

from msgspec.structs import replace
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.battery import (
    check_label,
    compare_batteries,
    fields_of,
    handling_of,
    kept_of,
    kept_specs,
    label_of,
    rated_figures,
    with_kept,
)
from midframe.battery.handling_rules import Condition, Packing
from midframe.battery.reader import installed
from midframe.battery.said_by_device import beside_log, beside_promise, device_says
from midframe.battery.typed import FIELDS
from midframe.faults import BadSetting, UnknownPart
from midframe.record.draft import with_part
from midframe.record.model import Measurement, Part, Record
from midframe.sources import cited
from midframe.store import Kept
from midframe.web.battery_forms import label_form, log_fields, positive, stretch
from midframe.web.before import before_of
from midframe.web.context import now, store_of
from midframe.web.forms import posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import page

CONDITIONS: Mapping[Condition, str] = {
    "sound": "sound",
    "damaged": "damaged: dented, pierced, leaking, wet or hot",
    "swollen": "swollen: bulging, or its case out of line",
}
PACKINGS: Mapping[Packing, str] = {
    "alone": "alone",
    "with_equipment": "packed with the device",
    "in_equipment": "inside the device",
}


def battery(request: Request) -> Response:
    """The battery of a record, one at a time where there are several."""
    kept = store_of(request).get(request.path_params["id"])
    return page(request, "battery.html", **content(request, kept))


def batteries(record: Record) -> tuple[Part, ...]:
    """The parts with the role battery."""
    return tuple(part for part in record.parts if "battery" in (part.role, *part.also))


def chosen(record: Record, name: str) -> Part | None:
    """The battery of this id, or the first; none where there is no battery. Raises `UnknownPart`."""
    found = batteries(record)
    if not name:
        return found[0] if found else None
    part = next((one for one in found if one.id == name), None)
    if part is None:
        ids = ", ".join(one.id for one in found) or "no part with the role battery yet"
        raise UnknownPart(f"no battery '{name[:60]}' in {record.device.name}; right: {ids}")
    return part


def content(request: Request, kept: Kept, part: Part | None = None, **more: Any) -> dict[str, Any]:
    """What the page shows; `more` replaces what was typed and could not be kept."""
    record, query = kept.record, request.query_params
    part = part or chosen(record, query.get("part", ""))
    found: dict[str, Any] = {
        "kept": kept,
        "sheet": "checks",
        "sheet_title": "Battery",
        "batteries": batteries(record),
        "part": part,
        "faults": {},
        "log": log_fields(query),
        "fields": {},
    }
    if part is None:
        return found | more
    label = label_of(part)
    report = check_label(label)
    condition: Condition = part.condition or "sound"
    packing: Packing = next((one for one in PACKINGS if one == query.get("packing")), "alone")
    handled = handling_of(label, condition=condition, packing=packing)
    return {
        **found,
        "asked": FIELDS,
        "fields": label_fields(part),
        "report": report,
        "reader": installed(),
        "rated": rated_figures(label)[0],
        "promise": promise(record),
        "said": [one for one in (beside_log(record, part.id), beside_promise(record, part.id)) if one],
        "typed": {},
        "measured": occasions(kept_of(record, part.id)),
        "handled": handled,
        "conditions": CONDITIONS,
        "packings": PACKINGS,
        "packing": packing,
        "sources": cited({*report.sources, *handled.sources}),
        **beside(request, kept),
        **more,
    }


def promise(record: Record) -> str:
    """What the maker promises of the battery over its cycles, as the record has it; else empty.

    >>> from midframe import demo
    >>> promise(demo.load("tern-3"))
    'Its maker promises 88 % after 500 and 82 % after 1000 full cycles, an endurance of 1000 cycles.'
    """
    device = record.device
    after = {500: device.remaining_after_500_percent, 1000: device.remaining_after_1000_percent}
    said = [f"{value:g} % after {cycles}" for cycles, value in after.items() if value is not None]
    words = f"{' and '.join(said)} full cycles" if said else ""
    whole = f"an endurance of {device.full_cycles} cycles" if device.full_cycles is not None else ""
    both = ", ".join(filter(None, (words, whole)))
    return f"Its maker promises {both}." if both else ""


def occasions(measured: tuple[Measurement, ...]) -> list[tuple[Measurement, ...]]:
    """Measurements of one log together, the newest first."""
    return [tuple(group) for _, group in groupby(measured, key=occasion)]


def occasion(one: Measurement) -> tuple[str, str]:
    """What the measurements of one log share: moment and file; one without a moment stands alone."""
    return (one.at, one.file) if one.at else ("", one.id)


def label_fields(part: Part) -> dict[str, str]:
    """What the record says of a label, as the text of the fields."""
    mass = {} if part.mass_g is None else {"mass_g": f"{part.mass_g:g}"}
    return fields_of(part.specs) | mass


def beside(request: Request, kept: Kept) -> dict[str, Any]:
    """The battery beside that of the record chosen, else of the predecessor where it is on the shelf."""
    others, other = before_of(request, kept)
    return {
        "others": others,
        "other": other,
        "compared": None if other is None else compare_batteries(kept.record, other.record),
    }


@posted
def keep_label(request: Request, form: FormData) -> Response:
    """Keep the figures of a label in the record, once a person has typed or looked at them."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name, whole(form, "base"))
    part = named(kept.record, text(form, "part", 200))
    found = label_form(form)
    if found.faults:
        told = content(request, kept, part, fields=found.fields, faults=found.faults)
        return page(request, "battery.html", 422, **told)
    specs = kept_specs(part.specs, found.typed.specs)
    changed = with_part(kept.record, part.id, specs=specs, mass_g=found.mass_g)
    return stored(request, form, kept, changed, f"label of {part.name} entered", f"{part.id}#label")


def named(record: Record, name: str) -> Part:
    """The battery that a form or address is about; raises `UnknownPart`."""
    part = chosen(record, name)
    if part is None:
        raise UnknownPart(f"no battery in {record.device.name}; right: a part with the role battery first")
    return part


def stored(request: Request, form: FormData, kept: Kept, record: Record, summary: str, to: str) -> Response:
    """Save the changed record and go back to its battery."""
    saved = keep(request, form, kept, record, summary)
    part, _, anchor = to.partition("#")
    return onward(saved, f"/r/{kept.id}/battery?{urlencode({'part': part})}#{anchor}")


@posted
def keep_condition(request: Request, form: FormData) -> Response:
    """How the cell was seen to be."""
    kept = store_of(request).get(request.path_params["id"], whole(form, "base"))
    part, said = named(kept.record, text(form, "part", 200)), text(form, "condition", 40)
    condition = next((one for one in CONDITIONS if one == said), None)
    if condition is None:
        raise BadSetting(f"condition: found '{said}'; right: one of {', '.join(CONDITIONS)}")
    changed = with_part(kept.record, part.id, condition=condition)
    return stored(request, form, kept, changed, f"{part.name} seen {condition}", f"{part.id}#handling")


@posted
def keep_said(request: Request, form: FormData) -> Response:
    """Keep what the device itself says of its battery."""
    kept = store_of(request).get(request.path_params["id"], whole(form, "base"))
    part = named(kept.record, text(form, "part", 200))
    typed = {key: text(form, key, 40) for key in ("percent", "cycles", "first_use")}
    try:
        said = device_says(
            part.id,
            now(),
            percent=positive(typed["percent"].removesuffix("%").strip(), "a state of health in %", 120),
            cycles=stretch(typed["cycles"]) if typed["cycles"] != "0" else 0,
            first_use=typed["first_use"],
        )
    except BadSetting as fault:
        told = content(request, kept, part, typed=typed, faults={"said": str(fault)})
        return page(request, "battery.html", 422, **told)
    changed = with_kept(kept.record, said)
    return stored(request, form, kept, changed, f"what the device says of {part.name}", f"{part.id}#health")


@posted
def take_out(request: Request, form: FormData) -> Response:
    """Take what one log said out of the record; undo brings it back."""
    kept = store_of(request).get(request.path_params["id"], whole(form, "base"))
    part, gone = named(kept.record, text(form, "part", 200)), request.path_params["measurement"]
    own = {one.id: occasion(one) for one in kept.record.measurements if one.on == part.id}
    if gone not in own:
        raise UnknownPart(f"no measurement '{gone[:60]}' of {part.name} in the record; perhaps taken out")
    left = tuple(one for one in kept.record.measurements if own.get(one.id) != own[gone])
    changed = replace(kept.record, measurements=left)
    return stored(request, form, kept, changed, f"measurement of {part.name} taken out", f"{part.id}#health")


routes = (
    Route("/r/{id}/battery", battery, methods=["GET"]),
    Route("/r/{id}/battery/label", keep_label, methods=["POST"]),
    Route("/r/{id}/battery/device", keep_said, methods=["POST"]),
    Route("/r/{id}/battery/condition", keep_condition, methods=["POST"]),
    Route("/r/{id}/battery/measurements/{measurement}/out", take_out, methods=["POST"]),
)
