"""Logs of a battery: a file taken in, its columns looked at and remembered, the result kept."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.battery import label_of, mapping_text, measurements_of, rated_figures, with_kept
from midframe.battery.kept import resistance_of, step_note
from midframe.battery.mapping_file import unit_faults
from midframe.faults import BadSetting, Fault, LogFault
from midframe.publish.battery_log import LogAnswer
from midframe.sources import cited
from midframe.store import Kept
from midframe.store.log_files import keep_log, kept_log
from midframe.web.answers import Answer
from midframe.web.battery_forms import SIGNS, asked_of, column_rows, columns_form, log_faults, log_fields
from midframe.web.context import now, person, store_of
from midframe.web.faults import status_of
from midframe.web.forms import files, key_of, posted, whole
from midframe.web.pages.battery import content, named, stored
from midframe.web.render import page, see_other
from midframe.web.waiting import WAIT_SECONDS, asked, shown

REMEMBERED = "battery-log-columns"
"""Thread of the bench notes that holds the columns of meters, for every record."""

KEEP_SECONDS = 20.0
"""How long keeping waits for a result that was let go meanwhile: house choice."""


@posted
def take(request: Request, form: FormData) -> Response:
    """Take in a log; what was typed stays where something is wrong."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    fields = log_fields(form)
    part = named(kept.record, fields["part"])
    faults = log_faults(fields)
    given = files(form, "log")
    status = 422
    if not given:
        faults["log"] = "found no file; right: the CSV that the meter or cycler wrote"
    if not faults:
        try:
            found = keep_log(store, given[0][1], given[0][0])
        except Fault as fault:
            faults["log"], status = str(fault), status_of(fault)
        else:
            fields |= {"name": given[0][0][-80:], "part": part.id}
            return see_other(f"{at_log(name, found)}?{urlencode(said(fields))}")
    if given:
        faults.setdefault("log", f"choose {given[0][0]} once more")
    return page(request, "battery.html", status, **content(request, kept, part, log=fields, faults=faults))


def at_log(name: str, log_hash: str) -> str:
    """The address of what a log says."""
    return f"/r/{name}/battery/log/{log_hash}"


def said(fields: dict[str, str]) -> dict[str, str]:
    """The fields that say something."""
    return {key: value for key, value in fields.items() if value}


def result(request: Request) -> Response:
    """What a log says: its columns to be looked at, or the result."""
    kept = store_of(request).get(request.path_params["id"])
    fields = log_fields(request.query_params)
    answer = answer_to(request, kept, fields)
    return shown(request, "battery_log.html", answer, **told(request, kept, fields, answer))


def answer_to(request: Request, kept: Kept, fields: dict[str, str], wait: float = WAIT_SECONDS) -> Answer:
    """What is known of a log by what was said of it."""
    store = store_of(request)
    part = named(kept.record, fields["part"])
    path = kept_log(store, request.path_params["log"])
    if faults := log_faults(fields):
        raise BadSetting("\n".join(f"{key}: {text}" for key, text in faults.items()))
    options = {
        "path": str(path),
        "name": fields["name"] or "log",
        "mappings": [note.content for note in reversed(store.notes(REMEMBERED))],
        "asked": msgspec.to_builtins(asked_of(fields, *rated_figures(label_of(part)))),
    }
    return asked(request, "battery-log", kept.record, options, wait=wait)


def told(request: Request, kept: Kept, fields: dict[str, str], answer: Answer, **more: Any) -> dict[str, Any]:
    """What the sheet of a log shows."""
    found = answer.value if isinstance(answer.value, LogAnswer) else None
    health = None if found is None else found.health
    part = named(kept.record, fields["part"])
    here = f"{at_log(kept.id, request.path_params['log'])}?{urlencode(said(fields))}"
    return {
        "kept": kept,
        "sheet": "checks",
        "sheet_title": "Battery log",
        "part": part,
        "rated": rated_figures(label_of(part)),
        "fields": fields,
        "hidden_fields": said(fields),
        "here": here,
        "back": f"/r/{kept.id}/battery?{urlencode(said(fields))}#health",
        "log_at": at_log(kept.id, request.path_params["log"]),
        "look": request.query_params.get("look") == "columns",
        "rows": () if found is None else column_rows(found.columns),
        "signs": SIGNS,
        "resistance": None if health is None else resistance_of(health),
        "steps_words": step_note(health) if health is not None and health.resistances else "",
        "sources": cited(health.sources) if health is not None else (),
        "already": any(one.file == request.path_params["log"] for one in kept.record.measurements),
        "fault": "",
        **more,
    }


@posted
def keep_columns(request: Request, form: FormData) -> Response:
    """Remember the columns as a person has looked at them."""
    store = store_of(request)
    kept = store.get(request.path_params["id"])
    fields = log_fields(form)
    try:
        mapping = columns_form(form)
        wrong = [fault for one in mapping.columns for fault in unit_faults(one, fields["name"] or "log")]
        if wrong:
            raise LogFault(wrong)
    except Fault as fault:
        answer = answer_to(request, kept, fields)
        more = told(request, kept, fields, answer, fault=str(fault), look=True)
        more["rows"] = retyped(more["rows"], form)
        return page(request, "battery_log.html", 422, answer=answer, again=more["here"], **more)
    store.add_note(
        REMEMBERED,
        "columns",
        mapping_text(mapping),
        at=now(),
        author=person(request),
        key=key_of(request, form),
    )
    return see_other(f"{at_log(kept.id, request.path_params['log'])}?{urlencode(said(fields))}")


def retyped(rows: Any, form: FormData) -> list[dict[str, Any]]:
    """The rows of the columns as they were typed."""
    return [
        {
            **row,
            "column": str(form.get(f"column-{row['role']}", "")),
            "unit": str(form.get(f"unit-{row['role']}", "")),
        }
        for row in rows
    ]


@posted
def keep_result(request: Request, form: FormData) -> Response:
    """Keep what a log said with the record."""
    kept = store_of(request).get(request.path_params["id"], whole(form, "base"))
    fields = log_fields(form)
    part = named(kept.record, fields["part"])
    answer = answer_to(request, kept, fields, KEEP_SECONDS)
    found = answer.value if isinstance(answer.value, LogAnswer) else None
    if found is None or found.health is None:
        return see_other(f"{at_log(kept.id, request.path_params['log'])}?{urlencode(said(fields))}")
    measured = measurements_of(
        found.health, part.id, now(), file=request.path_params["log"], log_name=fields["name"]
    )
    changed = with_kept(kept.record, measured)
    return stored(request, form, kept, changed, f"{part.name} measured from a log", f"{part.id}#health")


routes = (
    Route("/r/{id}/battery/log", take, methods=["POST"]),
    Route("/r/{id}/battery/log/{log}", result, methods=["GET"]),
    Route("/r/{id}/battery/log/{log}/columns", keep_columns, methods=["POST"]),
    Route("/r/{id}/battery/log/{log}/keep", keep_result, methods=["POST"]),
)
