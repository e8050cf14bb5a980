"""A job put away and taken up again: what lies where, what is on order, what to look at on return."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator, Sequence
from typing import Any
from urllib.parse import quote

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault, IllegalMove
from midframe.publish.bench_sheets import pause_html, refit_html
from midframe.publish.job import Job, OnOrder, PutAway, TakenUp, Telling
from midframe.publish.log_moves import log_moves
from midframe.publish.pause import DEVICE, Pause
from midframe.publish.progress import progress
from midframe.publish.refit import refit
from midframe.record.draft import slug
from midframe.record.model import Record
from midframe.store import Kept
from midframe.web.bench import set_running
from midframe.web.context import now, person, store_of
from midframe.web.documents import document
from midframe.web.forms import key_of, posted, text
from midframe.web.jobs import job_at, pause_of, set_state, tell
from midframe.web.live import job_thread
from midframe.web.render import fragment, page_or_fragment, see_other
from midframe.web.words import day

LONGEST = 120
"""Signs that a place or a thing on order may have: house choice."""

NUMBER = re.compile(r"[a-z0-9]{1,16}")


def pause(request: Request) -> Response:
    """The page, or its block where that is fetched anew."""
    kept = store_of(request).get(request.path_params["id"])
    return shown(request, kept)


def shown(request: Request, kept: Kept, fault: str = "", status: int = 200) -> Response:
    """The page with the sheet as it stands, or with why there is none."""
    store = store_of(request)
    number = kept.revision + store.last_note(job_thread(kept.id))  # before the job: never newer than it
    job = job_at(store, kept.id)
    sheet = None
    try:
        sheet = pause_of(kept.record, job)
    except IllegalMove as illegal:
        fault = fault or f"The moves so far cannot be gone back as they stand: {illegal}. See the bench log."
    context: dict[str, Any] = {
        "kept": kept,
        "sheet": "refit",
        "sheet_title": "Job put away" if job.away else "Put the job away",
        "job": job,
        "rest": sheet,
        "lying": lying(sheet),
        "refitting": job.begun is not None and job.ended is None,
        "stand": number,
        "parts": [one for one in kept.record.parts if one.id != kept.record.device.body],
        "names": {part.id: part.name for part in kept.record.parts},
        "shots": [entry.photo for entry in kept.record.log if entry.photo][-3:],
        "device_key": DEVICE,
        "fault": fault,
    }
    if request.query_params.get("block") == "pause":
        return fragment(request, "pause.html", "pause", status, **context)
    return page_or_fragment(request, "pause.html", "pause", status, **context)


def lying(sheet: Pause | None) -> tuple[str, ...]:
    """The screws of each tray in words."""
    if sheet is None:
        return ()
    return tuple(", ".join(f"{n} × {letter}" for letter, n in one.screws) for one in sheet.resting)


@posted
def away(request: Request, form: FormData) -> Response:
    """Put the job away, or say anew where things lie while it is."""
    store, name = store_of(request), request.path_params["id"]
    kept, moment = store.get(name), now()
    try:
        sheet = pause_of(kept.record, job_at(store, name))
        if not sheet.done:
            raise BadSetting("pause: found a closed device; right: one with moves in its log")
    except (BadSetting, IllegalMove) as fault:
        return refused(request, kept, fault)
    keys = (DEVICE, *(one.key for one in sheet.resting))
    places = tuple((key, text(form, f"place-{key}", LONGEST)) for key in keys)
    ordered = tuple(new_order(form, kept.record))
    tell_all(request, form, [PutAway(places, text(form, "notes", 4_000)), *ordered])
    set_running(store, name, run=False, at=moment)
    if ordered or job_at(store, name).on_order:
        set_state(store, name, "waiting", moment)
    return answered(request, name)


def new_order(form: FormData, record: Record) -> Iterator[OnOrder]:
    """What is newly on order, if anything is typed."""
    item, part = text(form, "item", LONGEST), text(form, "part", 80)
    known = {one.id: one.name for one in record.parts}
    if item or part in known:
        made = secrets.token_hex(4)
        yield OnOrder(
            made, item or known[part], part if part in known else "", text(form, "expected", LONGEST)
        )


@posted
def order(request: Request, form: FormData) -> Response:
    """Something more is on order."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    made = list(new_order(form, kept.record))
    if not made:
        return refused(request, kept, BadSetting("order: found nothing typed; right: what is on order"))
    tell_all(request, form, made)
    if job_at(store, name).away is not None:
        set_state(store, name, "waiting", now())
    return answered(request, name, "orders")


@posted
def came(request: Request, form: FormData) -> Response:
    """Something that was on order came, did not come after all, or is taken off the list."""
    store, name = store_of(request), request.path_params["id"]
    number, what = text(form, "number"), text(form, "what")
    held = job_at(store, name).orders.get(number) if NUMBER.fullmatch(number) else None
    if held is None or what not in ("came", "waits", "off"):
        fault = BadSetting("order: found none of this number; right: one of the list")
        return refused(request, store.get(name), fault)
    item = "" if what == "off" else held.item
    tell_all(request, form, [OnOrder(number, item, held.part, held.note, what == "came")])
    return answered(request, name, "orders")


@posted
def up(request: Request, form: FormData) -> Response:
    """Take the job up again where it was put away."""
    store, name = store_of(request), request.path_params["id"]
    job = job_at(store, name)
    tell_all(request, form, [TakenUp()])
    refitting = job.begun is not None and job.ended is None
    set_state(store, name, "refitting" if refitting else "apart_now", now())
    if request.headers.get("swap", "") == "outbox":
        return Response(status_code=204)
    return see_other(f"/r/{name}/{'refit' if refitting else 'bench'}")


def tell_all(request: Request, form: FormData, tellings: Sequence[Telling]) -> None:
    """Keep what was told, with who told it."""
    tell(
        store_of(request),
        request.path_params["id"],
        tellings,
        at=now(),
        author=person(request),
        key=key_of(request, form),
    )


def answered(request: Request, name: str, place: str = "") -> Response:
    """After a change: nothing more for the outbox, else the page."""
    if request.headers.get("swap", "") == "outbox":
        return Response(status_code=204)
    return see_other(f"/r/{name}/pause{f'#{quote(place)}' if place else ''}")


def refused(request: Request, kept: Kept, fault: Fault) -> Response:
    """The page again with what is wrong; the outbox keeps what was refused and shows the words."""
    if request.headers.get("swap", "") == "outbox":
        return Response(str(fault), status_code=422, media_type="text/plain")
    return shown(request, kept, str(fault), 422)


def pause_sheet(request: Request) -> Response:
    """The pause sheet to print, or as a file to keep."""
    kept, job = stood(request)
    sheet = pause_of(kept.record, job)
    put_away = ""
    if job.away is not None:
        put_away = f"{day(job.away.at)} UTC" + (f", {job.away.author}" if job.away.author else "")
    link = f"{request.url.scheme}://{request.url.netloc}/r/{kept.id}/pause"
    html = pause_html(kept.record, sheet, put_away=put_away, link=link, **printed(request))
    return document(request, html, file_name=file_name(request, f"{kept.name} pause"))


def refit_sheet(request: Request) -> Response:
    """The way back to print, with what is ticked already; from the log where no refit is begun."""
    kept, job = stood(request)
    told = progress(kept.record, job)
    back = refit(kept.record, log_moves(kept.record).moves) if told is None else told.refit
    html = refit_html(kept.record, back, told=told, **printed(request))
    return document(request, html, file_name=file_name(request, f"{kept.name} refit"))


def stood(request: Request) -> tuple[Kept, Job]:
    """The record of a sheet and its job."""
    kept = store_of(request).get(request.path_params["id"])
    return kept, job_at(store_of(request), kept.id)


def printed(request: Request) -> dict[str, str]:
    """Paper and language of a sheet."""
    query = request.query_params
    return {"paper": query.get("paper", "A4"), "code": query.get("language", "en")}


def file_name(request: Request, name: str) -> str:
    """The name of the file where one is to be kept."""
    return f"{slug(name)}.html" if request.query_params.get("file") == "yes" else ""


routes = (
    Route("/r/{id}/pause", pause),
    Route("/r/{id}/pause/away", away, methods=["POST"]),
    Route("/r/{id}/pause/order", order, methods=["POST"]),
    Route("/r/{id}/pause/came", came, methods=["POST"]),
    Route("/r/{id}/pause/up", up, methods=["POST"]),
    Route("/r/{id}/pause/sheet", pause_sheet),
    Route("/r/{id}/refit/sheet", refit_sheet),
)
