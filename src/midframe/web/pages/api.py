"""The same library calls as JSON, under /api; described at /api/openapi.json."""

from __future__ import annotations

from typing import Any

import msgspec
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from midframe.faults import BadArchive, BadSetting
from midframe.photos import clean
from midframe.record import Record, from_plain, plain, read, sound, write
from midframe.store import STATES, Kept, Saved
from midframe.store.shapes import PhotoRow, Revision, ShelfRow, Told
from midframe.stripdown import Done, done_of
from midframe.web import api_answers
from midframe.web.bench import log_move
from midframe.web.context import now, person, store_of
from midframe.web.openapi import Said, description, operation

TOML = "application/toml"


class ShelfGiven(msgspec.Struct, frozen=True):
    """Rows of the shelf, and how many there are in all."""

    rows: tuple[ShelfRow, ...]
    total: int


class RecordGiven(msgspec.Struct, frozen=True):
    """A record as it stands at a revision."""

    id: str
    revision: int
    state: str
    record: dict[str, Any]


class RecordTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A new record."""

    record: dict[str, Any]
    summary: str = ""
    key: str = ""


class EditTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An edited record and the revision that it was made from; merged with what others did since."""

    base: int
    record: dict[str, Any]
    summary: str = ""
    key: str = ""


class SavedGiven(msgspec.Struct, frozen=True):
    """What a change came to; `beside` are versions set aside because the same thing was edited twice."""

    id: str
    revision: int
    merged: bool
    beside: tuple[int, ...]
    repeated: bool


class MoveTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One thing done at the bench."""

    done: Done
    key: str = ""


class MoveGiven(msgspec.Struct, frozen=True):
    """What a logged move came to: in words, and the ids that it made."""

    id: str
    revision: int
    words: str
    made: tuple[str, ...]


class StepTaken(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Which revision is taken back or done again; none: the newest."""

    of: int | None = None
    key: str = ""


class HistoryGiven(msgspec.Struct, frozen=True):
    """Revisions, newest first."""

    revisions: tuple[Revision, ...]


@operation(Said(summary="The shelf", gives=ShelfGiven, query=("q", "state", "limit", "offset")))
def shelf(request: Request, _body: bytes) -> ShelfGiven:
    """Rows of the shelf that hold the words of `q`, newest change first."""
    asked = request.query_params
    state = asked.get("state") or None
    if state is not None and state not in STATES:
        raise BadSetting(f"state: found '{state[:40]}'; right: one of {', '.join(STATES)}")
    limit, offset = counted(request, "limit", 50, 500), counted(request, "offset", 0, 10_000_000)
    found = store_of(request).shelf(asked.get("q", ""), state, limit=limit, offset=offset)
    return ShelfGiven(found.rows, found.total)


@operation(Said(summary="A new record", takes=RecordTaken, takes_raw=(TOML,), gives=RecordGiven, status=201))
def create(request: Request, body: RecordTaken | bytes) -> RecordGiven:
    """Put a record on the shelf."""
    record = record_in(body)
    words = words_of(request, body, "Record begun")
    saved = store_of(request).new(record, **words)
    return given(store_of(request).get(saved.id))


@operation(Said(summary="One record", gives=RecordGiven, gives_raw=(TOML,), query=("revision",)))
def fetch(request: Request, _body: bytes) -> RecordGiven | Response:
    """A record, as JSON or, where TOML is asked for, as its file."""
    number = counted(request, "revision", 0, 10_000_000) or None
    kept = store_of(request).get(request.path_params["id"], number)
    if TOML in request.headers.get("accept", ""):
        return Response(write(kept.record), media_type=TOML)
    return given(kept)


@operation(Said(summary="An edit", takes=EditTaken, takes_raw=(TOML,), gives=SavedGiven, query=("base",)))
def edit(request: Request, body: EditTaken | bytes) -> SavedGiven:
    """Save an edited record; of a TOML body the query names the base."""
    base = counted(request, "base", 0, 10_000_000) if isinstance(body, bytes) else body.base
    words = words_of(request, body, "")
    return saved_given(store_of(request).save(request.path_params["id"], record_in(body), base=base, **words))


@operation(Said(summary="A move of the strip-down", takes=MoveTaken, gives=MoveGiven, status=201))
def move(request: Request, body: MoveTaken) -> MoveGiven:
    """Log what was done; the record grows."""
    moment, key = now(), body.key[:100] or header_key(request)
    done = done_of(msgspec.to_builtins(body.done))
    name = request.path_params["id"]
    logged = log_move(store_of(request), name, done, at=moment, now=moment, author=person(request), key=key)
    return MoveGiven(name, logged.saved.revision, logged.applied.words, tuple(logged.applied.made))


@operation(Said(summary="Take a change back", takes=StepTaken, gives=SavedGiven))
def undo(request: Request, body: StepTaken) -> SavedGiven:
    """Take the newest change back, or the one named."""
    words = words_of(request, body, "")
    return saved_given(store_of(request).undo(request.path_params["id"], of=body.of, **words))


@operation(Said(summary="Do a change again", takes=StepTaken, gives=SavedGiven))
def redo(request: Request, body: StepTaken) -> SavedGiven:
    """Do again what was taken back."""
    words = words_of(request, body, "")
    return saved_given(store_of(request).redo(request.path_params["id"], of=body.of, **words))


@operation(Said(summary="Revisions", gives=HistoryGiven, query=("limit", "before")))
def history(request: Request, _body: bytes) -> HistoryGiven:
    """Revisions of a record, newest first."""
    limit, before = counted(request, "limit", 50, 500), counted(request, "before", 0, 10_000_000) or None
    return HistoryGiven(store_of(request).history(request.path_params["id"], limit, before))


@operation(Said(summary="A photo", takes_raw=("image/jpeg", "image/png"), gives=PhotoRow, status=201))
def photo(request: Request, body: bytes) -> PhotoRow:
    """Keep a photo for a record, turned upright and stripped of all that is no picture."""
    store, name = store_of(request), request.path_params["id"]
    store.head(name)
    return store.keep_photo(name, clean(body), at=now(), key=header_key(request))


@operation(Said(summary="An archive of one record", gives_raw=("application/zip",)))
def export(request: Request, _body: bytes) -> Response:
    """The record and its photos as a zip."""
    return Response(store_of(request).export(request.path_params["id"]), media_type="application/zip")


@operation(Said(summary="Bring in", takes_raw=("application/zip", TOML), gives=RecordGiven, status=201))
def bring_in(request: Request, body: bytes) -> RecordGiven:
    """A record from an archive or a file."""
    if not body:
        raise BadArchive("the body: found nothing; right: a .device.toml, or a .zip that midframe exported")
    saved = store_of(request).bring_in(
        body, file="the body", author=person(request), at=now(), key=header_key(request)
    )
    return given(store_of(request).get(saved.id))


def openapi(request: Request) -> Response:
    """The description of these routes."""
    return JSONResponse(description(request.app.routes))


def record_in(body: RecordTaken | EditTaken | bytes) -> Record:
    """The record of a body, free of faults; raises `RecordFault` with all of them."""
    if isinstance(body, bytes):
        try:
            return sound(read(body.decode("utf-8-sig"), "the body"), "the body")
        except UnicodeDecodeError:
            raise BadSetting(
                "the body: found bytes that are no UTF-8; right: a record as UTF-8 text"
            ) from None
    return sound(from_plain(body.record, "the body"), "the body")


def words_of(request: Request, body: Any, usual: str) -> Told:
    """What is said about a change: when, by whom, in which words, under which key."""
    summary = getattr(body, "summary", "")[:400] or usual
    key = getattr(body, "key", "")[:100] or header_key(request)
    return {"at": now(), "author": person(request), "summary": summary, "key": key}


def header_key(request: Request) -> str:
    """The idempotency key in the header; empty where none is."""
    return request.headers.get("idempotency-key", "")[:100]


def counted(request: Request, name: str, usual: int, most: int) -> int:
    """A whole number of the query; raises `BadSetting` for anything else."""
    said = request.query_params.get(name, "")
    if not said:
        return usual
    if not (said.isascii() and said.isdigit() and len(said) < 9 and int(said) <= most):
        raise BadSetting(f"{name}: found '{said[:40]}'; right: a whole number from 0 to {most}")
    return int(said)


def given(kept: Kept) -> RecordGiven:
    """A kept record as JSON gives it."""
    return RecordGiven(kept.id, kept.revision, kept.state, plain(kept.record))


def saved_given(saved: Saved) -> SavedGiven:
    """What a change came to, as JSON gives it."""
    return SavedGiven(saved.id, saved.revision, saved.merged, saved.beside, saved.repeated)


routes = (
    Route("/api/openapi.json", openapi),
    Route("/api/records", shelf),
    Route("/api/records", create, methods=["POST"]),
    Route("/api/records/{id}", fetch),
    Route("/api/records/{id}", edit, methods=["PUT"]),
    Route("/api/records/{id}/moves", move, methods=["POST"]),
    Route("/api/records/{id}/undo", undo, methods=["POST"]),
    Route("/api/records/{id}/redo", redo, methods=["POST"]),
    Route("/api/records/{id}/history", history),
    Route("/api/records/{id}/photos", photo, methods=["POST"]),
    Route("/api/records/{id}/export", export),
    Route("/api/records/{id}/ways", api_answers.ways),
    Route("/api/records/{id}/ways/{part}", api_answers.way),
    Route("/api/records/{id}/index", api_answers.index),
    Route("/api/records/{id}/upkeep", api_answers.upkeep),
    Route("/api/records/{id}/layers", api_answers.layers),
    Route("/api/import", bring_in, methods=["POST"]),
)
