"""The work instruction to one part: a document to read on the bench, print or keep."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.publish.language import language_names, languages
from midframe.record.draft import slug
from midframe.web.choices import one_of
from midframe.web.context import store_of
from midframe.web.documents import document
from midframe.web.pages.ways import part_of, way_options
from midframe.web.render import fragment
from midframe.web.waiting import asked, shown

PAPERS: Mapping[str, str] = MappingProxyType({"A4": "A4", "letter": "Letter"})
CHOSEN_HERE = ("language", "paper", "file")
"""What the bar over the document chooses; the rest of its address is carried along."""


def instruction(request: Request) -> Response:
    """The document, or how far it is."""
    kept = store_of(request).get(request.path_params["id"])
    part, query = part_of(kept, request.path_params["part"]), request.query_params
    spoken = language_names()
    choices = {"language": one_of(query, "language", spoken), "paper": one_of(query, "paper", PAPERS)}
    answer = asked(request, "instruction", kept.record, {**way_options(request, part), **choices})
    if answer.status == "done":
        if query.get("file") == "yes":
            name = "-".join([slug(f"{kept.record.device.name} {part.name}"), *other(choices["language"])])
            return document(request, answer.value, file_name=f"{name}.html")
        return document(
            request, answer.value, bar=bar(request, kept=kept, part=part, spoken=spoken, **choices)
        )
    return shown(
        request,
        "instruction.html",
        answer,
        kept=kept,
        sheet="ways",
        sheet_title=f"Work instruction: {part.name}",
        part=part,
    )


def other(code: str) -> tuple[str, ...]:
    """What the name of a file says of its language: nothing for the first one."""
    return () if code == languages()[0] else (code,)


def bar(request: Request, **context: Any) -> str:
    """What stands over the document on the screen: back to the way, language, paper, the file."""
    carried = [(key, value) for key, value in request.query_params.multi_items() if key not in CHOSEN_HERE]
    chosen = [(key, context[key]) for key in ("language", "paper")]
    made = fragment(
        request,
        "instruction_bar.html",
        "bar",
        papers=PAPERS,
        carried=carried,
        back=urlencode(carried),
        file=urlencode([*carried, *chosen, ("file", "yes")]),
        **context,
    )
    return bytes(made.body).decode()


routes = (Route("/r/{id}/instruction/{part}", instruction),)
