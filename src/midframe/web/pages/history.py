"""History of a record: what changed when, undo, redo, restore, and versions set aside."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import Fault
from midframe.record.differences import differences
from midframe.web.context import now, person, store_of
from midframe.web.forms import key_of, posted, text
from midframe.web.render import page, page_or_fragment, see_other

KINDS: Mapping[str, str] = MappingProxyType(
    {
        "new": "Record begun",
        "edit": "Edited",
        "move": "Move logged",
        "undo": "Undone",
        "redo": "Done again",
        "restore": "Restored",
        "import": "Imported",
        "merge": "Merged",
    }
)
"""What a revision without words of its own is called."""


def history(request: Request) -> Response:
    """The revisions, newest first; one of them opened."""
    return page_or_fragment(request, "history.html", "body_of", **shown(request))


def shown(request: Request, **more: Any) -> dict[str, Any]:
    """What the history's template needs."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    before, opened = number(request, "before"), number(request, "revision")
    changes: tuple[str, ...] = ()
    if opened:
        after = store.get(name, opened)
        earlier = store.get(name, opened - 1) if opened > 1 else None
        changes = tuple(one.words for one in differences(earlier.record if earlier else None, after.record))
    return {
        "kept": kept,
        "sheet": "history",
        "sheet_title": "History",
        "revisions": store.history(name, before=before),
        "before": before,
        "opened": opened,
        "changes": changes,
        "waiting": len(store.beside(name)),
        "words": KINDS,
        "fault": "",
        **more,
    }


def number(request: Request, name: str) -> int | None:
    """A revision number of the query, or None."""
    value = request.query_params.get(name, "")
    return int(value) if value.isascii() and value.isdigit() and len(value) < 10 else None


def changed(request: Request, form: FormData, what: str) -> Response:
    """Undo or redo; where nothing is left to undo the history says so."""
    store, name = store_of(request), request.path_params["id"]
    act = store.undo if what == "undo" else store.redo
    try:
        act(name, author=person(request), at=now(), key=key_of(request, form))
    except Fault as fault:
        store.get(name)  # a record that is not there answers 404 here
        return page(request, "history.html", 422, **shown(request, fault=str(fault)))
    back = text(form, "back")
    return see_other(f"/r/{name}/bench" if back == "bench" else f"/r/{name}/history")


@posted
def undo(request: Request, form: FormData) -> Response:
    """Take the newest change back."""
    return changed(request, form, "undo")


@posted
def redo(request: Request, form: FormData) -> Response:
    """Do the change that was undone last once more."""
    return changed(request, form, "redo")


@posted
def restore(request: Request, form: FormData) -> Response:
    """The record as it was at a revision, as a new revision."""
    name = request.path_params["id"]
    store_of(request).restore(
        name, request.path_params["number"], author=person(request), at=now(), key=key_of(request, form)
    )
    return see_other(f"/r/{name}/history")


def versions(request: Request) -> Response:
    """What was changed on two screens at once, both sides beside each other."""
    return page(request, "versions.html", **both(request))


def both(request: Request, **more: Any) -> dict[str, Any]:
    """What the template of the versions needs."""
    store, name = store_of(request), request.path_params["id"]
    return {
        "kept": store.get(name),
        "sheet": "history",
        "sheet_title": "Versions set aside",
        "open": store.beside(name),
        "fault": "",
        **more,
    }


@posted
def settle(request: Request, form: FormData) -> Response:
    """Choose one of two versions; the other stays in the history."""
    store, name = store_of(request), request.path_params["id"]
    taken = text(form, "take")
    if taken not in ("mine", "theirs"):
        return page(request, "versions.html", 422, **both(request, fault="Choose one of the two versions."))
    store.settle(
        request.path_params["number"],
        "mine" if taken == "mine" else "theirs",
        author=person(request),
        at=now(),
        key=key_of(request, form),
    )
    return see_other(f"/r/{name}/versions" if store.beside(name) else f"/r/{name}/history")


routes = (
    Route("/r/{id}/history", history),
    Route("/r/{id}/undo", undo, methods=["POST"]),
    Route("/r/{id}/redo", redo, methods=["POST"]),
    Route("/r/{id}/restore/{number:int}", restore, methods=["POST"]),
    Route("/r/{id}/versions", versions),
    Route("/r/{id}/versions/{number:int}", settle, methods=["POST"]),
)
