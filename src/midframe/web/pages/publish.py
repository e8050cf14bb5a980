"""Publish: a whole device as a folder of static pages in one zip file, or as one document."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.publish.language import language_names
from midframe.record.draft import slug
from midframe.store import Kept
from midframe.web.choices import one_of
from midframe.web.context import store_of
from midframe.web.pages.instruction import PAPERS
from midframe.web.render import page, see_other
from midframe.web.waiting import asked, shown

FORMS: Mapping[str, str] = MappingProxyType(
    {"folder": "linked pages, one zip file", "pdf": "one PDF document"}
)
"""What can be made, in words."""

PARTS: Mapping[str, str] = MappingProxyType({"all": "every part", "priority": "the parts the index asks for"})
SHEETS: Mapping[str, str] = MappingProxyType(
    {
        "instructions": "work instructions",
        "screws": "screws, with the sheet at true scale",
        "refit": "the way back of the whole device",
        "index": "repairability index with its trace",
        "lists": "lists of parts, tools, consumables",
        "chapters": "chapters of the log",
        "photos": "photos, without what they carried",
        "markdown": "the same as Markdown (folder only)",
        "record": "the record itself (folder only)",
    }
)
"""What can be included besides the overview, in words."""

KINDS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {"folder": ("zip", "application/zip"), "pdf": ("pdf", "application/pdf")}
)
"""How the name of each form ends, and its media type."""


def publish(request: Request) -> Response:
    """What can be chosen, and, once chosen, how far it is."""
    kept, query = store_of(request).get(request.path_params["id"]), request.query_params
    context: dict[str, Any] = {
        "kept": kept,
        "sheet": "publish",
        "sheet_title": "Publish",
        "chosen": choices(query),
        "forms": FORMS,
        "spoken": language_names(),
        "papers": PAPERS,
        "parts": PARTS,
        "sheets": SHEETS,
    }
    if "form" not in query:
        return page(request, "publish.html", answer=None, again="", **context)
    answer = asked(request, "publish", kept.record, options(request, kept))
    size = len(answer.value) if answer.status == "done" else 0
    return shown(request, "publish.html", answer, size=size, query=query, **context)


def choices(query: QueryParams) -> dict[str, Any]:
    """What an address chooses; everything is included where it chooses nothing."""
    with_ = [sheet for sheet in SHEETS if sheet in query.getlist("with")]
    return {
        "form": one_of(query, "form", FORMS),
        "language": one_of(query, "language", language_names()),
        "paper": one_of(query, "paper", PAPERS),
        "parts": one_of(query, "parts", PARTS),
        "date": query.get("date", "").strip()[:80],
        "sheets": with_ if "form" in query else list(SHEETS),
    }


def options(request: Request, kept: Kept) -> dict[str, Any]:
    """What the answer depends on besides the record: the choices, and which photos are at hand."""
    store = store_of(request)
    photos = {row.hash: str(store.photo(row.hash, "medium")) for row in store.photos(kept.id)}
    return {**choices(request.query_params), "photos": photos}


def file(request: Request) -> Response:
    """The file to keep; to the page with its progress where it is not there yet."""
    kept = store_of(request).get(request.path_params["id"])
    answer = asked(request, "publish", kept.record, options(request, kept))
    if answer.status != "done":
        return see_other(f"/r/{kept.id}/publish?{request.url.query}")
    chosen = choices(request.query_params)
    suffix, kind = KINDS[chosen["form"]]
    other = "" if chosen["language"] == "en" else f"-{chosen['language']}"
    name = f"{slug(kept.record.device.name)}{other}.{suffix}"
    return Response(
        answer.value, media_type=kind, headers={"content-disposition": f'attachment; filename="{name}"'}
    )


routes = (Route("/r/{id}/publish", publish), Route("/r/{id}/publish/file", file))
