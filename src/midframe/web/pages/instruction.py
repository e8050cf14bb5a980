"""The work instruction to one part: a document to read on the bench, print or keep."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.record.draft import slug
from midframe.web.choices import one_of
from midframe.web.context import store_of
from midframe.web.documents import document
from midframe.web.pages.ways import part_of, way_options
from midframe.web.waiting import asked, shown

PAPERS: Mapping[str, str] = MappingProxyType({"A4": "A4", "letter": "Letter"})


def instruction(request: Request) -> Response:
    """The document, or how far it is."""
    kept = store_of(request).get(request.path_params["id"])
    part, query = part_of(kept, request.path_params["part"]), request.query_params
    paper = one_of(query, "paper", PAPERS)
    options = {**way_options(request, part), "paper": paper}
    answer = asked(request, "instruction", kept.record, options)
    if answer.status == "done":
        name = slug(f"{kept.record.device.name} {part.name}") + ".html"
        return document(request, answer.value, file_name=name if query.get("file") == "yes" else "")
    return shown(
        request,
        "instruction.html",
        answer,
        kept=kept,
        sheet="ways",
        sheet_title=f"Work instruction: {part.name}",
        part=part,
    )


routes = (Route("/r/{id}/instruction/{part}", instruction),)
