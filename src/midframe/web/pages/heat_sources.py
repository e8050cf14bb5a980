"""Own sources of heat: readings typed, the source fitted to them, the list, taking out and bringing back."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, UnknownRecord
from midframe.publish.names import title_of
from midframe.record.model import Joint
from midframe.store import Kept
from midframe.web.context import now, person, store_of
from midframe.web.forms import key_of, posted, text
from midframe.web.heat_form import SOURCES, celsius
from midframe.web.own_sources import (
    About,
    OwnSource,
    Typed,
    fit_options,
    own_source,
    own_sources,
    say,
    type_source,
)
from midframe.web.pages.heat import joint_of
from midframe.web.render import page, see_other
from midframe.web.waiting import asked, shown

ROWS = 10
"""Readings that a form takes: as many as `midframe.heat.calibrate` does."""

FEWEST = 2


def sources(request: Request) -> Response:
    """The list of own sources, and the form for another one."""
    return told(request, {}, {})


def told(request: Request, typed: dict[str, str], faults: dict[str, str]) -> Response:
    """The page, with what was typed and what is wrong with it."""
    kept, joint = place(request)
    store = store_of(request)
    found = own_sources(store)
    return page(
        request,
        "heat_sources.html",
        422 if faults else 200,
        **context(kept, joint),
        own=[one for one in found if not one.removed],
        removed=[one for one in found if one.removed],
        just=request.query_params.get("removed", ""),
        typed=typed,
        faults=faults,
        rows=range(1, ROWS + 1),
        settings=choices(joint),
        air=air_words,
    )


def place(request: Request) -> tuple[Kept, Joint]:
    """Record and joint of an address."""
    kept = store_of(request).get(request.path_params["id"])
    return kept, joint_of(kept, request.path_params["joint"])


def context(kept: Kept, joint: Joint) -> dict[str, Any]:
    """What every page here is given."""
    return {"kept": kept, "sheet": "heat", "sheet_title": "Own sources of heat", "joint": joint}


def choices(joint: Joint) -> list[tuple[str, str]]:
    """The settings of the table that an own source may be nearest to."""
    from midframe.heat import tables

    return [
        (f"{key} {number}", one.told)
        for key, settings in tables().items()
        for number, one in enumerate(settings)
        if joint.width_mm is not None or one.reach == "face"
    ]


def setting_of(said: str) -> dict[str, Any]:
    """The setting that was chosen; raises `BadSetting`."""
    from midframe.heat import settings_of

    source, _, number = said.partition(" ")
    if source in SOURCES and number.isascii() and number.isdigit() and int(number) < len(settings_of(source)):
        found: dict[str, Any] = msgspec.to_builtins(settings_of(source)[int(number)])
        return found
    raise BadSetting("found none of the list; right: the source and setting that yours is nearest to")


def air_words(calibration: dict[str, Any]) -> str:
    """A fitted source in words."""
    low, air, high = calibration["air_c"]
    least, heat, most = calibration["coefficient_w_m2k"]
    return (
        f"{air:.0f} °C ({low:.0f} to {high:.0f}) at the device, "
        f"{heat:.0f} W/(m²·K) ({least:.0f} to {most:.0f})"
    )


@posted
def add(request: Request, form: FormData) -> Response:
    """Keep the readings as they were typed; their fit is computed on the page that follows."""
    kept, joint = place(request)
    typed = {name: text(form, name, 60) for name in ("name", "setting", "emissivity", "taped", *row_names())}
    read, faults = read_form(typed)
    if faults:
        return told(request, typed, faults)
    made = Typed(
        name=typed["name"],
        setting=read["setting"],
        readings=read["readings"],
        taped=bool(typed["taped"]),
        thermometer_emissivity=read["emissivity"],
        record_id=kept.id,
        device=kept.name,
        joint=joint.id,
        joint_name=title_of(joint),
    )
    number = type_source(store_of(request), made, at=now(), author=person(request), key=key_of(request, form))
    return see_other(f"/r/{kept.id}/heat/{joint.id}/sources/{number}")


def row_names() -> list[str]:
    """The names of the fields of readings."""
    return [f"{what}-{row}" for row in range(1, ROWS + 1) for what in ("s", "c")]


def read_form(typed: dict[str, str]) -> tuple[dict[str, Any], dict[str, str]]:
    """What the fields say, and what is wrong with them by field."""
    read: dict[str, Any] = {}
    faults: dict[str, str] = {}
    if not typed["name"]:
        faults["name"] = "found nothing; right: a name, such as: dryer of bench 2"
    for name, reader in (("setting", setting_of), ("emissivity", emissivity)):
        try:
            read[name] = reader(typed[name])
        except BadSetting as fault:
            faults[name] = str(fault)
    readings, wrong = readings_of(typed)
    read["readings"] = readings
    return read, {**faults, **wrong}


def emissivity(said: str) -> float:
    """What the thermometer is set to; raises `BadSetting`."""
    value = celsius(said) if said else 0.95
    if value is None or not 0.1 <= value <= 1.0:
        raise BadSetting(f"found '{said}'; right: 0.1 to 1, as the thermometer shows it; most are at 0.95")
    return value


def readings_of(typed: dict[str, str]) -> tuple[tuple[tuple[float, float], ...], dict[str, str]]:
    """Readings in their order, and what is wrong by field."""
    found: dict[float, float] = {}
    faults: dict[str, str] = {}
    for row in range(1, ROWS + 1):
        seconds, shown_c = typed[f"s-{row}"], typed[f"c-{row}"]
        if not seconds and not shown_c:
            continue
        try:
            at, value = reading(seconds, shown_c)
            if at in found:
                raise BadSetting(f"found a second one after {at:g} s; right: each at its own time")
            found[at] = value
        except BadSetting as fault:
            faults[f"row-{row}"] = str(fault)
    if not faults and len(found) < FEWEST:
        faults["readings"] = f"found {len(found)}; right: {FEWEST} to {ROWS} readings, the later the better"
    return tuple(sorted(found.items())), faults


def reading(seconds: str, shown_c: str) -> tuple[float, float]:
    """One reading as typed; raises `BadSetting`."""
    at, value = celsius(seconds), celsius(shown_c)
    if at is None or value is None:
        missing = "seconds" if at is None else "temperature"
        raise BadSetting(f"found no {missing}; right: both, such as 60 and 41")
    if not (0.0 < at <= 7200.0 and -20.0 <= value <= 400.0):
        raise BadSetting(f"found {value:g} °C after {at:g} s; right: −20 to 400 °C after 0 to 7200 s")
    return at, value


def source(request: Request) -> Response:
    """One own source: its fit, computed by a worker and kept once it is there."""
    kept, joint = place(request)
    store = store_of(request)
    found = own_source(store, number_of(request))
    more = {**context(kept, joint), "own": found}
    if found.calibration is not None:
        return page(request, "heat_source.html", answer=None, again="", fitted=found.calibration, **more)
    record = store.get(found.typed.record_id).record
    answer = asked(request, "heat-fit", record, fit_options(found))
    fitted = msgspec.to_builtins(answer.value) if answer.status == "done" else None
    if fitted is not None:
        say(store, "fitted", About(found.id, fitted), at=now(), key=f"heat-fit-{found.id}")
    return shown(request, "heat_source.html", answer, fitted=fitted, **more)


def number_of(request: Request) -> int:
    """The number of an own source in an address; raises `UnknownRecord`."""
    said = request.path_params["source"]
    if not (said.isascii() and said.isdigit() and len(said) < 10):
        raise UnknownRecord(f"own source: found '{said[:40]}'; right: a number of the list of own sources")
    return int(said)


@posted
def remove(request: Request, form: FormData) -> Response:
    """Take a source out of the plans, or bring it back."""
    kept, joint = place(request)
    found: OwnSource = own_source(store_of(request), number_of(request))
    kind = "brought back" if text(form, "do") == "back" else "removed"
    say(
        store_of(request),
        kind,
        About(found.id),
        at=now(),
        author=person(request),
        key=key_of(request, form),
    )
    told = f"?removed={found.id}" if kind == "removed" else ""
    return see_other(f"/r/{kept.id}/heat/{joint.id}/sources{told}")


routes = (
    Route("/r/{id}/heat/{joint}/sources", sources),
    Route("/r/{id}/heat/{joint}/sources", add, methods=["POST"]),
    Route("/r/{id}/heat/{joint}/sources/{source}", source),
    Route("/r/{id}/heat/{joint}/sources/{source}", remove, methods=["POST"]),
)
