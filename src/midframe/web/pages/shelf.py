"""The shelf: every record, found as one types; new ones begin here, files come in here."""

from __future__ import annotations

from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import Fault
from midframe.record.draft import begin
from midframe.store import STATES as STORED
from midframe.web.context import now, person, store_of
from midframe.web.forms import files, key_of, posted, text
from midframe.web.render import page, page_or_fragment, see_other
from midframe.web.states import STATES

MOST = 60
"""Records on one page of the shelf."""


def shelf(request: Request) -> Response:
    """All records, or those whose texts hold the words of the query."""
    return page_or_fragment(request, "shelf.html", "rows", **shown(request))


def shown(request: Request, **more: Any) -> dict[str, Any]:
    """What the shelf's template needs."""
    query, state = request.query_params.get("q", "")[:200], request.query_params.get("state", "")
    first = request.query_params.get("from", "0")
    start = int(first) if first.isascii() and first.isdigit() and len(first) < 9 else 0
    known = next((one for one in STORED if one == state), None)
    found = store_of(request).shelf(query, state=known, limit=MOST, offset=start, removed=state == "removed")
    return {
        "found": found,
        "query": query,
        "state": state if known or state == "removed" else "",
        "states": list(STATES.items()),
        "state_words": STATES,
        "first": start,
        "most": MOST,
        "begin_fault": "",
        "begin_name": "",
        "faults": (),
        **more,
    }


@posted
def start(request: Request, form: FormData) -> Response:
    """Begin a record with nothing but its device, and go to the bench."""
    name, kind = text(form, "name", 120), text(form, "kind")
    if not name:
        more = shown(request, begin_fault="A record needs the name of its device.")
        return page(request, "shelf.html", 422, **more)
    record = begin(name, "tablet" if kind == "tablet" else "phone")
    kept = store_of(request).new(
        record, summary="Record begun", author=person(request), at=now(), key=key_of(request, form)
    )
    return see_other(f"/r/{kept.id}/bench")


@posted
def bring_in(request: Request, form: FormData) -> Response:
    """Import records and archives; what cannot be read is said, what can be is kept."""
    given, faults, made = files(form, "file"), [], []
    if not given:
        faults.append("No file came with the form. Choose a .device.toml or a .zip that midframe exported.")
    for place, (name, data) in enumerate(given):
        try:
            made.append(brought(request, name, data, f"{key_of(request, form)}-{place}"))
        except Fault as fault:
            faults += [line if name in line else f"{name}: {line}" for line in str(fault).splitlines()]
    if faults:
        kept = [f"{count} of {len(given)} files came in." for count in (len(made),) if made]
        return page(request, "shelf.html", 422, **shown(request, faults=kept + faults))
    return see_other(f"/r/{made[0]}" if len(made) == 1 else "/#main")


def brought(request: Request, name: str, data: bytes, key: str) -> str:
    """The id of one record read from a file or an archive."""
    kept = store_of(request).bring_in(data, file=name, author=person(request), at=now(), key=key)
    return kept.id


@posted
def demo(request: Request, form: FormData) -> Response:  # noqa: ARG001 (the form holds nothing)
    """Put the invented devices on the shelf."""
    from midframe.web.demo import put_demo

    put_demo(store_of(request), now())
    return see_other("/")


@posted
def put_away(request: Request, form: FormData) -> Response:  # noqa: ARG001
    """Take a record off the shelf; it can be brought back."""
    store_of(request).remove(request.path_params["id"], at=now())
    return see_other("/")


@posted
def bring_back(request: Request, form: FormData) -> Response:  # noqa: ARG001
    """Put a record back on the shelf."""
    store_of(request).bring_back(request.path_params["id"])
    return see_other(f"/r/{request.path_params['id']}")


def export(request: Request) -> Response:
    """One record as an archive: the record file and its photos; originals only when asked."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    data = store.export(name, originals=request.query_params.get("originals") == "yes")
    from midframe.record.draft import slug

    disposition = f'attachment; filename="{slug(kept.record.device.name)}.zip"'
    return Response(data, media_type="application/zip", headers={"content-disposition": disposition})


routes = (
    Route("/", shelf, name="shelf"),
    Route("/records", start, methods=["POST"]),
    Route("/import", bring_in, methods=["POST"]),
    Route("/demo", demo, methods=["POST"]),
    Route("/r/{id}/put-away", put_away, methods=["POST"]),
    Route("/r/{id}/bring-back", bring_back, methods=["POST"]),
    Route("/r/{id}/export", export),
)
