"""The refit: the way back ticked off move by move, the screws counted back hole by hole."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import wraps
from types import MappingProxyType
from typing import Any, Literal
from urllib.parse import quote

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault, IllegalMove, UnknownPart
from midframe.publish.job import (
    BeganBefore,
    Begun,
    Ended,
    InHole,
    Job,
    Lying,
    Reopened,
    TakenUp,
    Telling,
    Ticked,
    Warned,
    Weighed,
)
from midframe.publish.log_moves import log_moves
from midframe.publish.progress import (
    TRIAL,
    Progress,
    against,
    all_in,
    before_it,
    curing,
    letters,
    progress,
    taken_back_with,
)
from midframe.record.model import Move, Record
from midframe.store import Kept, State
from midframe.ways.teardown import teardown
from midframe.web.answers import Answer
from midframe.web.context import now, person, store_of
from midframe.web.forms import key_of, posted, text, whole
from midframe.web.jobs import job_at, refit_of, set_state, tell, went_on
from midframe.web.live import JOB, job_thread, stream
from midframe.web.pages.ways import part_of, way_options
from midframe.web.refit_view import view_of
from midframe.web.render import fragment, page_or_fragment, see_other
from midframe.web.waiting import asked, shown

GIVEN = re.compile(r"[+-]?\d{1,6}(?:[.,]\d{1,6})?")
"""A figure as it is typed at the bench."""

STATES: Mapping[type[Telling], State] = MappingProxyType(
    {Begun: "refitting", TakenUp: "refitting", Reopened: "refitting", Ended: "closed"}
)
"""What the shelf says once this is told and kept."""

SHOWN_AHEAD = 10
"""Moves that stand open below the next one; the others are folded: house choice."""

Act = Callable[[Request, FormData, Kept, Job], tuple[list[Telling], str]]
"""Reads a form: what is told of the job by it, and where on the page one goes on."""


def refit(request: Request) -> Response:
    """The page, or its block where that is fetched anew; a way to a part is computed first."""
    kept = store_of(request).get(request.path_params["id"])
    if part := request.query_params.get("part", ""):
        return from_part(request, kept, part)
    context = stand(request, kept)
    if request.query_params.get("block") == "refit":
        return fragment(request, "refit.html", "refit", **context)
    return page_or_fragment(request, "refit.html", "refit", **context)


def from_part(request: Request, kept: Kept, name: str) -> Response:
    """The page with the way to a part to begin from, once it is computed."""
    part = part_of(kept, name)
    answer = asked(request, "way", kept.record, way_options(request, part), wait=1.5)
    context = stand(request, kept) | {"way": answer, "part": part}
    del context["answer"], context["again"]
    return shown(request, "refit.html", answer, "refit", **context)


def stand(request: Request, kept: Kept, fault: str = "") -> dict[str, Any]:
    """What the page needs: the job, how far its refit is, or what it can begin from."""
    store = store_of(request)
    number = kept.revision + store.last_note(job_thread(kept.id))  # before the job: never newer than it
    job, found = job_at(store, kept.id), None
    try:
        found = progress(kept.record, job)
    except IllegalMove as illegal:
        fault = fault or (
            f"The record was edited since this refit was begun and its moves do not fit any more: {illegal}. "
            "Begin it anew, or take the edit back in the history."
        )
    return {
        "kept": kept,
        "sheet": "refit",
        "sheet_title": "Refit",
        "job": job,
        "told": found,
        "view": view_of(kept.record, job, found) if found is not None else None,
        "stand": number,
        "logged": log_moves(kept.record),
        "log_went_on": went_on(kept.record, job),
        "parts": [one for one in kept.record.parts if one.id != kept.record.device.body],
        "shown_ahead": SHOWN_AHEAD,
        "curing": curing(found, now()) if found is not None else (),
        "fault": fault,
        "way": None,
        "answer": None,
        "again": "",
    }


def act(reads: Act) -> Callable[[Request], Any]:
    """A handler of a form that tells something of the job."""

    @posted
    @wraps(reads)
    def handle(request: Request, form: FormData) -> Response:
        store, name = store_of(request), request.path_params["id"]
        kept = store.get(name)
        job = job_at(store, name)
        try:
            tellings, place = reads(request, form, kept, job)
        except (BadSetting, UnknownPart, IllegalMove) as fault:
            return refused(request, kept, fault)
        if job.away is not None and any(isinstance(one, (Ticked, InHole)) for one in tellings):
            tellings = [TakenUp(), *tellings]  # who ticks has taken the job up again
        tell(store, name, tellings, at=now(), author=person(request), key=key_of(request, form))
        state = next((STATES[type(one)] for one in reversed(tellings) if type(one) in STATES), None)
        if state is not None:
            set_state(store, name, state, now())
        return answered(request, name, place)

    return handle


def answered(request: Request, name: str, place: str) -> Response:
    """After a change: nothing more for the outbox, the block for the page's script, else the page."""
    swap = request.headers.get("swap", "")
    if swap == "outbox":
        return Response(status_code=204)
    if swap:
        kept = store_of(request).get(name)
        return fragment(request, "refit.html", "refit", **stand(request, kept))
    return see_other(f"/r/{name}/refit{f'#{quote(place)}' if place else ''}")


def refused(request: Request, kept: Kept, fault: Fault) -> Response:
    """The page again with what is wrong; the outbox keeps what was refused and shows the words."""
    if request.headers.get("swap", "") == "outbox":
        return Response(str(fault), status_code=422, media_type="text/plain")
    return page_or_fragment(request, "refit.html", "refit", 422, **stand(request, kept, str(fault)))


@act
def begin(request: Request, form: FormData, kept: Kept, _job: Job) -> tuple[list[Telling], str]:
    """Begin the refit, or begin it anew."""
    basis = text(form, "basis")
    moves, new_parts = moves_from(request, kept, basis, text(form, "part"))
    if not moves:
        raise BadSetting("refit: found no move to go back; right: a log with moves, everything, or a part")
    begun = Begun(basis if basis != "part" else text(form, "part"), moves, new_parts)
    return [begun], "refit"


def moves_from(
    request: Request, kept: Kept, basis: str, part: str
) -> tuple[tuple[Move, ...], tuple[str, ...]]:
    """The moves that are gone back, and the parts that come back as new ones."""
    if basis == "log":
        return log_moves(kept.record).moves, ()
    if basis == "everything":
        return teardown(kept.record), ()
    if basis != "part":
        raise BadSetting("refit: found nothing to begin from; right: the log, everything out, or a part")
    found = part_of(kept, part)
    answer: Answer = asked(request, "way", kept.record, way_options(request, found), wait=20.0)
    if answer.status != "done":
        raise BadSetting(f"way to {found.name}: it is still being computed; right: look at it first")
    return answer.value[1].powered.moves, (found.id,)


@act
def before(_request: Request, _form: FormData, _kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """The refit that was begun before stands again, with its ticks."""
    if job.before is None:
        raise BadSetting("refit: found none that was begun before; right: one that was replaced")
    return [BeganBefore()], "refit"


@act
def tick(_request: Request, form: FormData, kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """Tick a move, or take its tick back; what is against it is told first."""
    told, line = refit_of(kept.record, job), text(form, "line")
    if line == TRIAL:
        return [Ticked(TRIAL, done=text(form, "done") != "no")], "next"
    words = ". ".join(against(kept.record, told, line))
    if text(form, "done") == "no":
        return untick(kept.record, told, line), anchor(told, line)
    step = next(one for one in told.steps if one.key == line)
    early = before_it(kept.record, told, step)
    if words and (early or text(form, "anyway") != "yes"):
        return [Warned(line, words)], "warned"
    return [Ticked(line, in_spite=words)], "next"


def untick(record: Record, told: Progress, line: str) -> list[Telling]:
    """A tick taken back, with those of the moves that lie over it; their screws are out again."""
    over = taken_back_with(record, told, line)
    joints = {one.line.joint for one in told.steps if one.key in over and one.line.screws}
    holes = [InHole(one.joint, one.hole, "") for one in told.count.driven if one.joint in joints]
    return [*(Ticked(key, done=False) for key in (*reversed(over), line)), *holes]


def anchor(told: Progress, line: str) -> str:
    """Where a move stands on the page."""
    return next((f"line-{one.line.number}" for one in told.steps if one.key == line), "")


@act
def hole(_request: Request, form: FormData, kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """A screw is in a hole, or out of it again; or all that are left are in, each of its own kind."""
    told, joint = refit_of(kept.record, job), text(form, "joint")
    group = next((one for one in told.count.groups if one.joint == joint), None)
    if group is None:
        raise UnknownPart(f"no screws of '{joint[:60]}' are out in this refit; right: a joint of its list")
    place = anchor(told, f"close {joint}") if told.next != f"close {joint}" else "next"
    if text(form, "all") == "yes":
        return list(all_in(told, joint)), place
    number, out = whole(form, "hole"), whole(form, "out")
    letter = "" if out is not None else text(form, "letter") or group.letter
    chosen = out if out is not None else number
    if chosen is None or not 1 <= chosen <= group.count:
        raise BadSetting(f"{joint}: found no hole {chosen}; right: 1 to {group.count}")
    if letter and letter not in letters(told.count):
        raise BadSetting(f"kind: found '{letter[:9]}'; out are {', '.join(sorted(letters(told.count)))}")
    return [InHole(joint, chosen, letter)], place


@act
def tray(_request: Request, form: FormData, kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """How many screws of each kind lie in the tray; an empty field says nothing."""
    told = refit_of(kept.record, job)
    counts: list[Telling] = []
    for letter in sorted(letters(told.count)):
        said = text(form, f"lying-{letter}")
        if said and (not said.isascii() or not said.isdigit() or int(said) > 999):
            raise BadSetting(f"tray, {letter}: found '{said[:12]}'; right: a whole number, 0 to 999")
        counts.append(Lying(letter, int(said) if said else None))
    return counts, "tray"


@act
def weigh(_request: Request, form: FormData, _kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """A weighing before opening, or at the end."""
    when: Literal["first", "last"] = "last" if text(form, "when") == "last" else "first"
    mass = figure(form, "mass_g", "mass", above=True)
    step = figure(form, "resolution_g", "scale's step", above=True)
    spread = figure(form, "repeatability_g", "spread of repeated weighings")
    changed = figure(form, "changed_g", "changed on purpose", signed=True)
    around = figure(form, "changed_uncertainty_g", "uncertainty of the change")
    told = Weighed(when, mass, step or 0.1, spread, changed or 0.0, around or 0.0)
    if job.ended is not None and when == "last":  # weighed after it was closed: the same job
        return [Reopened(), told, job.ended.telling], "weighing"
    return [told], "weighing"


def figure(
    form: FormData, name: str, words: str, *, above: bool = False, signed: bool = False
) -> float | None:
    """A figure in grams as it was typed; None where the field is empty."""
    said = text(form, name, 20)
    if not said:
        return None
    value = float(said.replace(",", ".")) if GIVEN.fullmatch(said) else None
    if value is None or (above and value <= 0) or (value < 0 and not signed):
        right = "grams above 0" if above else "grams" if signed else "grams, 0 or more"
        raise BadSetting(f"{words}: found '{said}'; right: {right}, such as 191.3")
    return value


@act
def end(_request: Request, form: FormData, kept: Kept, job: Job) -> tuple[list[Telling], str]:
    """The device is closed; what is still wrong is told, and kept with the end."""
    if job.ended is not None:
        return [], "refit"
    points = refit_of(kept.record, job).open_points
    if points and text(form, "anyway") != "yes":
        raise BadSetting(f"Not closed yet. {'. '.join(points)}.")
    return [Ended(points)], "refit"


@act
def reopen(_request: Request, _form: FormData, _kept: Kept, _job: Job) -> tuple[list[Telling], str]:
    """The end was told too early."""
    return [Reopened()], "refit"


async def events(request: Request) -> Response:
    """Changes of the record and of its job as server-sent events."""
    return await stream(request, request.path_params["id"] + JOB)


routes = (
    Route("/r/{id}/refit", refit),
    Route("/r/{id}/refit/begin", begin, methods=["POST"]),
    Route("/r/{id}/refit/before", before, methods=["POST"]),
    Route("/r/{id}/refit/tick", tick, methods=["POST"]),
    Route("/r/{id}/refit/hole", hole, methods=["POST"]),
    Route("/r/{id}/refit/tray", tray, methods=["POST"]),
    Route("/r/{id}/refit/weigh", weigh, methods=["POST"]),
    Route("/r/{id}/refit/end", end, methods=["POST"]),
    Route("/r/{id}/refit/reopen", reopen, methods=["POST"]),
    Route("/r/{id}/refit/events", events),
)
