"""The repairability index: R and class, every score with its clause, what is missing, the findings."""

from __future__ import annotations

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.choices import readings_of, switches
from midframe.web.context import store_of
from midframe.web.waiting import asked, shown


def index(request: Request) -> Response:
    """The index of one record with every finding."""
    kept = store_of(request).get(request.path_params["id"])
    readings = readings_of(request.query_params)
    answer = asked(request, "index", kept.record, {"readings": msgspec.to_builtins(readings)})
    return shown(
        request,
        "index.html",
        answer,
        kept=kept,
        sheet="index",
        sheet_title="Index",
        switches=switches(readings),
        query=request.url.query,
    )


routes = (Route("/r/{id}/index", index),)
