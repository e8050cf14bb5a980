"""Assumed conditions asked one at a time; every answer tightens the results."""

from __future__ import annotations

from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault, UnknownPart
from midframe.store import Kept
from midframe.stripdown import ConditionQuestion, answer, most_needed
from midframe.stripdown.naming import part_name
from midframe.web.answers import Answer
from midframe.web.context import store_of
from midframe.web.forms import posted, text
from midframe.web.keeping import keep, onward
from midframe.web.waiting import asked, shown

FEW = 8
"""With no more assumed conditions than these, what each answer would give is computed exactly."""

EXACT_SECONDS = 1.5
"""How long the page waits for the question that settles most: house choice."""


def questions(request: Request) -> Response:
    """The question to answer now, what it would settle, and how wide the results still are."""
    kept = store_of(request).get(request.path_params["id"])
    return told(request, kept)


def told(request: Request, kept: Kept, fault: str = "") -> Response:
    """The page, or the block of it that is swapped."""
    open_ones = most_needed(kept.record)
    found = width(request, kept, len(open_ones))
    open_ones = first_by_gain(open_ones, found)
    skip = request.query_params.get("skip", "0")
    place = int(skip) % len(open_ones) if skip.isascii() and skip.isdigit() and open_ones else 0
    block = "answer" if request.query_params.get("block") == "answer" else "asked"
    context: dict[str, Any] = {
        "kept": kept,
        "sheet": "questions",
        "sheet_title": "Questions",
        "open_ones": open_ones,
        "now_asked": open_ones[place] if open_ones else None,
        "place": place,
        "few": FEW,
        "names": {part.id: part_name(kept.record, part.id) for part in kept.record.parts},
        "fault": fault,
    }
    return shown(request, "questions.html", found, block, **context)


def width(request: Request, kept: Kept, count: int) -> Answer:
    """The range of all ways, and the exact question where there are few; a worker computes it."""
    exact = 0 < count <= FEW
    return asked(request, "questions", kept.record, {"exact": exact}, wait=EXACT_SECONDS if exact else 0.3)


def first_by_gain(open_ones: tuple[ConditionQuestion, ...], found: Answer) -> tuple[ConditionQuestion, ...]:
    """The questions with the one that settles most in front, once that is known."""
    if found.status != "done" or found.value[1] is None:
        return open_ones
    best = found.value[1]
    return tuple(sorted(open_ones, key=lambda one: (one.kind, one.subject) != (best.kind, best.subject)))


@posted
def answered(request: Request, form: FormData) -> Response:
    """Take an answer: it was so, nothing was in the way, or other parts were."""
    store, name = store_of(request), request.path_params["id"]
    kind, subject, said = text(form, "kind"), text(form, "subject"), text(form, "answer")
    kept = store.get(name)
    try:
        if said not in ("yes", "no", "instead"):
            raise BadSetting("the answer: found none; right: yes, nothing, or other parts")
        instead = tuple(one for one in form.getlist("instead") if isinstance(one, str))
        if said == "instead" and not instead:
            raise BadSetting("other parts: found none chosen; right: at least one, or the answer “nothing”")
        record = answer(
            kept.record,
            kind,
            subject,
            holds=said == "yes",
            instead=instead if said == "instead" else (),
        )
    except (BadSetting, UnknownPart) as fault:
        return failed(request, kept, fault)
    words = {"yes": "Yes", "no": "No, nothing is in the way", "instead": "No, other parts are in the way"}
    asked_so = (one.text for one in most_needed(kept.record) if (one.kind, one.subject) == (kind, subject))
    summary = f"{next(asked_so, f'Question on {subject}:')} {words[said]}"
    return onward(keep(request, form, kept, record, summary), f"/r/{name}/questions")


def failed(request: Request, kept: Kept, fault: Fault) -> Response:
    """The page again with what is wrong."""
    response = told(request, kept, str(fault))
    response.status_code = 422
    return response


routes = (
    Route("/r/{id}/questions", questions),
    Route("/r/{id}/questions", answered, methods=["POST"]),
)
