"""The timer of a bond at the bench: seconds that run, what to do now, readings typed, fitted as they come."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.publish.names import title_of
from midframe.record.model import Joint
from midframe.store import Kept
from midframe.web.answers import Answer
from midframe.web.context import now, person, store_of
from midframe.web.forms import key_of, posted, text
from midframe.web.heat_form import celsius
from midframe.web.heat_watch import (
    Now,
    Watched,
    ahead_options,
    begun_in,
    check_reading,
    moment,
    thread_of,
    watched,
)
from midframe.web.own_sources import Typed, type_source
from midframe.web.pages.heat import joint_of
from midframe.web.pages.heat_sources import FEWEST
from midframe.web.render import page, page_or_fragment, see_other
from midframe.web.waiting import answers_of, asked

THERMOMETER_EMISSIVITY = 0.95
"""What the timer takes thermometers to be set to, as `midframe.heat.watch` does (common practice)."""

WAIT_SECONDS = 0.8
"""How long a request waits for a fit: house choice."""

LOOK_SECONDS = 15
"""How often a page without script looks again by itself, where nothing is due sooner (house choice)."""


def timer(request: Request) -> Response:
    """The timer as it stands."""
    return told(request, "", "")


def told(request: Request, typed: str, fault: str) -> Response:
    """The page, or its running part for a look in between."""
    kept, joint, found = place(request)
    if found is None:
        return page(request, "heat_timer.html", 422 if fault else 200, **bare(kept, joint, fault))
    answer, fitting = what_is_known(request, kept, found)
    moment_now, shown_now = now(), None
    if answer.status == "done":
        shown_now = moment(found, answer.value.known, moment_now)
    return page_or_fragment(
        request,
        "heat_timer.html",
        "running" if request.query_params.get("block") == "running" else "timer",
        422 if fault else 202 if fitting or answer.status == "working" else 200,
        **{**bare(kept, joint, fault), "found": found},
        answer=answer,
        fitting=fitting,
        now=shown_now or waiting(found, moment_now, answer),
        look_again=look_again(shown_now),
        typed=typed,
    )


def what_is_known(request: Request, kept: Kept, found: Watched) -> tuple[Answer, bool]:
    """What comes next; while a new reading is fitted, what was known before it."""
    answer = asked(request, "heat-ahead", kept.record, ahead_options(found), wait=WAIT_SECONDS)
    if answer.status != "working" or not found.readings:
        return answer, False
    before = ahead_options(msgspec.structs.replace(found, readings=found.readings[:-1]))
    earlier = answers_of(request).ask("heat-ahead", kept.record, before, wait=0.0, background=True)
    return (earlier, True) if earlier.status == "done" else (answer, False)


def bare(kept: Kept, joint: Joint, fault: str) -> dict[str, Any]:
    """What the page is given where nothing was begun."""
    return {
        "kept": kept,
        "sheet": "heat",
        "sheet_title": f"Timer: {title_of(joint)}",
        "joint": joint,
        "found": None,
        "fault": fault,
        "again": f"/r/{kept.id}/heat/{joint.id}/watch?block=running",
    }


def place(request: Request) -> tuple[Kept, Joint, Watched | None]:
    """Record, joint and newest heating of an address."""
    store = store_of(request)
    kept = store.get(request.path_params["id"])
    joint = joint_of(kept, request.path_params["joint"])
    return kept, joint, watched(store, kept.id, joint.id)


def waiting(found: Watched, at: str, answer: Answer) -> Now:
    """What is shown while the next step is computed, or where it cannot be."""
    words = "Being computed what comes next; the seconds run."
    if answer.status in ("failed", "stopped"):
        words = "What comes next is not known: go by the plan, or take the source off."
    return Now(step="wait", say=words, seconds=found.seconds(at), running=not found.ended)


def look_again(shown_now: Now | None) -> int:
    """Seconds until a page without script looks again: when something is due, else after a while."""
    if shown_now is None:
        return 1
    if shown_now.due is not None and shown_now.due > shown_now.seconds:
        return max(2, min(LOOK_SECONDS, round(shown_now.due - shown_now.seconds) + 1))
    return LOOK_SECONDS


@posted
def begin(request: Request, form: FormData) -> Response:
    """The source goes on now."""
    kept, joint, _ = place(request)
    begun = begun_in(text(form, "begun"), joint.id, taped=bool(text(form, "taped")))
    return noted(request, form, "begun", msgspec.json.encode(begun).decode(), kept, joint)


def noted(request: Request, form: FormData, kind: str, content: str, kept: Kept, joint: Joint) -> Response:
    """Add a note to the heating and show it."""
    store_of(request).add_note(
        thread_of(kept.id, joint.id),
        kind,
        content,
        at=now(),
        author=person(request),
        key=key_of(request, form),
    )
    return see_other(f"/r/{kept.id}/heat/{joint.id}/watch")


@posted
def read(request: Request, form: FormData) -> Response:
    """A reading: °C shown, now or after the seconds that are said."""
    kept, joint, found = place(request)
    if found is None or not found.on or not found.first:
        return told(request, "", "reading: found no first heat running; right: start it from the plan")
    typed = text(form, "shown", 20)
    try:
        shown_c, seconds = celsius(typed), celsius(text(form, "seconds", 20))
        if shown_c is None:
            raise BadSetting("reading: found nothing; right: what the thermometer shows, such as 41,5")
        after = round(found.heated(now()), 1) if seconds is None else seconds
        if check_reading(found, after, shown_c):
            return see_other(f"/r/{kept.id}/heat/{joint.id}/watch")
    except BadSetting as fault:
        return told(request, typed, str(fault))
    return noted(request, form, "reading", msgspec.json.encode((after, shown_c)).decode(), kept, joint)


@posted
def do(request: Request, form: FormData) -> Response:
    """Source off, on again, end; or a reading taken back."""
    kept, joint, found = place(request)
    kind = {"off": "off", "on": "on", "end": "ended", "back": "taken back"}.get(text(form, "do", 10), "")
    if not kind or found is None:
        return told(request, "", "timer: found nothing to do; right: start it from the plan of the bond")
    of = text(form, "of", 10)
    content = of if kind == "taken back" and of.isascii() and of.isdigit() else "0"
    return noted(request, form, kind, content, kept, joint)


@posted
def keep(request: Request, form: FormData) -> Response:
    """The source as it was read here, kept among the own sources."""
    kept, joint, found = place(request)
    if found is None or len(found.readings) < FEWEST:
        return told(request, "", f"own source: found too few readings; right: at least {FEWEST} of them")
    readings = ahead_options(found)["readings"]
    typed = Typed(
        name=f"{found.begun.setting['name']}, read at the timer"[:60],
        setting=found.begun.setting,
        readings=tuple((seconds, shown_c) for seconds, shown_c in readings),
        taped=found.begun.taped,
        thermometer_emissivity=THERMOMETER_EMISSIVITY,
        record_id=kept.id,
        device=kept.name,
        joint=joint.id,
        joint_name=title_of(joint),
    )
    number = type_source(
        store_of(request), typed, at=now(), author=person(request), key=key_of(request, form)
    )
    return see_other(f"/r/{kept.id}/heat/{joint.id}/sources/{number}")


routes = (
    Route("/r/{id}/heat/{joint}/watch", timer),
    Route("/r/{id}/heat/{joint}/watch/begin", begin, methods=["POST"]),
    Route("/r/{id}/heat/{joint}/watch/readings", read, methods=["POST"]),
    Route("/r/{id}/heat/{joint}/watch/do", do, methods=["POST"]),
    Route("/r/{id}/heat/{joint}/watch/keep", keep, methods=["POST"]),
)
