"""The bench: what was done is logged while it happens, and the record grows by itself."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault, NothingToUndo, UnknownPart
from midframe.publish import stack_drawing
from midframe.record.model import PRIORITY_ROLES, LogEntry, Record
from midframe.store import Kept
from midframe.stripdown import (
    VERBS,
    BenchState,
    Line,
    apply,
    bench_state,
    done_of,
    hear,
    line_words,
    log_questions,
    settle,
)
from midframe.stripdown.naming import part_name
from midframe.web.bench import begin_anew, done_from_speech, log_move, moment_said, set_running
from midframe.web.bench_form import GROUPS, KEYS, done_in, offer
from midframe.web.context import now, person, store_of
from midframe.web.forms import files, key_of, posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import fragment, page, page_or_fragment, see_other

SHOWN = 10
"""Lines of the log on the page."""

BLOCKS = ("log", "move")


class LogLine(msgspec.Struct, frozen=True, kw_only=True):
    """A line of the log as the page shows it."""

    seconds: float
    words: str
    note: str
    photo: str
    against: str
    took: float | None
    tools: tuple[str, ...]
    waits: tuple[str, ...]
    assumed: bool
    edit: str
    role: str


def bench(request: Request) -> Response:
    """The page, or one block of it where a part is fetched anew."""
    kept = store_of(request).get(request.path_params["id"])
    block = request.query_params.get("block", "")
    context = shown(request, kept, said=request.query_params.get("said", "")[:600])
    if block in BLOCKS:
        return fragment(request, "bench.html", block, **context)
    return page(request, "bench.html", **context)


def shown(request: Request, kept: Kept, **more: Any) -> dict[str, Any]:
    """What the page needs."""
    store = store_of(request)
    record, state = kept.record, bench_state(kept.record)
    clock = store.clock(kept.id)
    said = more.pop("said", "")
    heard = hear(said, record) if said else None
    return {
        "kept": kept,
        "sheet": "bench",
        "sheet_title": "Bench",
        "state": state,
        "lines": lines(record, state),
        "more_lines": max(0, len(state.lines) - SHOWN),
        "clock_seconds": clock.seconds(now()),
        "running": clock.running_since is not None,
        "server_now": now(),
        "offer": offer(record, state),
        "verbs": VERBS,
        "keys": KEYS,
        "group_of": {verb: name for name, verbs in GROUPS.items() for verb in verbs},
        "aside_names": [(part_name(record, part), part in state.hanging) for part in state.aside],
        "drawing": stack_drawing(record, gone=state.aside, up=up_of(state)) if len(record.parts) > 1 else "",
        "roles": (*PRIORITY_ROLES, "main_board", "sub_board", "sim_tray", "audio_connector", "other"),
        "said": said,
        "heard": heard.done if heard else None,
        "left": heard.left if heard else (),
        "fault": "",
        "logged": "",
        **more,
    }


def up_of(state: BenchState) -> Any:
    """The side that lies up in the drawing."""
    return state.face if state.face in ("front", "back") else "back"


def lines(record: Record, state: BenchState) -> tuple[LogLine, ...]:
    """The last lines of the log, the newest first."""
    return tuple(line_shown(record, line) for line in reversed(state.lines[-SHOWN:]))


def line_shown(record: Record, line: Line) -> LogLine:
    """One line with what its joint or part holds."""
    entry: LogEntry = line.entry
    joint = next((one for one in record.joints if one.id in (entry.open, entry.on)), None)
    part = next((one for one in record.parts if entry.lift and one.id == entry.lift[0]), None)
    work = joint.work[0] if joint is not None and joint.work else ()
    step = next((one for one in reversed(work) if entry.open or one.do == entry.note.partition(":")[0]), None)
    lift = part.lift if part is not None else None
    condition = joint.behind if joint is not None and entry.open else part.under if part is not None else ()
    subject = joint if joint is not None and entry.open else part
    note = entry.note.partition(": ")[2] if joint is not None and entry.on else entry.note
    return LogLine(
        seconds=entry.seconds,
        words=line_words(record, line),
        note=note,
        photo=entry.photo,
        against=line.against,
        took=step.seconds if step is not None else lift.seconds if lift is not None else None,
        tools=step.tools if step is not None else lift.tools if lift is not None else (),
        waits=tuple(part_name(record, one) for one in condition[0]) if condition else (),
        assumed=bool(subject and subject.assumed and condition),
        edit=f"joints/{joint.id}" if joint is not None else f"parts/{part.id}" if part is not None else "",
        role=part.role.replace("_", " ") if part is not None and part.role != "other" else "",
    )


def answered(request: Request, logged: str) -> Response:
    """After a change: nothing more for the outbox, the log for the page's script, else the page."""
    name = request.path_params["id"]
    if request.headers.get("swap", "") == "outbox":
        return Response(logged, media_type="text/plain")
    if "swap" in request.headers:
        kept = store_of(request).get(name)
        return fragment(request, "bench.html", "log", **shown(request, kept, logged=logged))
    return see_other(f"/r/{name}/bench")


def refused(request: Request, fault: Fault) -> Response:
    """The page again with what is wrong; the outbox keeps what was refused and shows the words."""
    if request.headers.get("swap", "") == "outbox":
        return Response(str(fault), status_code=422, media_type="text/plain")
    kept = store_of(request).get(request.path_params["id"])
    return page_or_fragment(request, "bench.html", "log", 422, **shown(request, kept, fault=str(fault)))


@posted
def move(request: Request, form: FormData) -> Response:
    """Log what was done."""
    name, key = request.path_params["id"], key_of(request, form)
    moment = now()
    try:
        done = done_in(form)
        hash_ = photo_in(request, form, key)
        if hash_:
            done = msgspec.structs.replace(done, photo=hash_)
        logged = log_move(
            store_of(request),
            name,
            done,
            at=moment_said(text(form, "at"), moment),
            now=moment,
            author=person(request),
            key=key,
        )
    except (BadSetting, UnknownPart) as fault:
        return refused(request, fault)
    return answered(request, f"Logged: {logged.applied.words}")


def photo_in(request: Request, form: FormData, key: str) -> str:
    """The hash of the photo that came with a move, once kept; empty where none came."""
    given = files(form, "photo")
    if not given:
        return ""
    from midframe.photos import clean

    kept = store_of(request).keep_photo(
        request.path_params["id"], clean(given[0][1]), at=now(), key=f"{key}-photo" if key else ""
    )
    return kept.hash


@posted
def said(request: Request, form: FormData) -> Response:
    """Log a sentence as it was said; what is no move is kept as a note."""
    store, name, moment = store_of(request), request.path_params["id"], now()
    sentence = text(form, "said", 600)
    try:
        if not sentence:
            raise BadSetting("what was said: found nothing; right: a sentence, such as: lifted the display")
        record = store.get(name).record
        done, at = done_from_speech(sentence, record), moment_said(text(form, "at"), moment)
        try:
            apply(record, done, 0.0)
        except BadSetting:
            done = done_of({"verb": "note", "note": sentence})
        logged = log_move(
            store, name, done, at=at, now=moment, author=person(request), key=key_of(request, form)
        )
    except BadSetting as fault:
        return refused(request, fault)
    return answered(request, f"Logged: {logged.applied.words}")


@posted
def clock(request: Request, form: FormData) -> Response:
    """Let the clock run, or stand."""
    at = moment_said(text(form, "at"), now())
    set_running(store_of(request), request.path_params["id"], run=text(form, "do") == "go", at=at)
    return answered(request, "The clock runs" if text(form, "do") == "go" else "The clock stands")


@posted
def undo(request: Request, form: FormData) -> Response:
    """Take the newest change back."""
    try:
        store_of(request).undo(
            request.path_params["id"], author=person(request), at=now(), key=key_of(request, form)
        )
    except NothingToUndo as fault:
        return refused(request, fault)
    return answered(request, "Taken back")


@posted
def anew(request: Request, form: FormData) -> Response:
    """Begin a new log."""
    begin_anew(
        store_of(request),
        request.path_params["id"],
        now=now(),
        author=person(request),
        key=key_of(request, form),
    )
    return see_other(f"/r/{request.path_params['id']}/bench")


@posted
def asked(request: Request, form: FormData) -> Response:
    """Answer what the log leaves open: which figure is right, where a cable leads."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    line, fact, take = whole(form, "line"), text(form, "fact"), text(form, "take")
    open_ones = [one for one in log_questions(kept.record) if one.line == line and one.fact == fact]
    if not open_ones or take not in ("here", "record"):
        return refused(request, BadSetting("the question: found none that is open; it was answered already"))
    record = settle(kept.record, open_ones[0], "here" if take == "here" else "record")
    saved = keep(request, form, kept, record, f"{open_ones[0].subject}: {fact} settled")
    return onward(saved, f"/r/{name}/bench") if saved.beside else answered(request, "Settled")


routes = (
    Route("/r/{id}/bench", bench),
    Route("/r/{id}/bench/moves", move, methods=["POST"]),
    Route("/r/{id}/bench/said", said, methods=["POST"]),
    Route("/r/{id}/bench/clock", clock, methods=["POST"]),
    Route("/r/{id}/bench/undo", undo, methods=["POST"]),
    Route("/r/{id}/bench/anew", anew, methods=["POST"]),
    Route("/r/{id}/bench/asked", asked, methods=["POST"]),
)
