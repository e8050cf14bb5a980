"""Upkeep: mean time to repair over the mix of failures, with how well it is known."""

from __future__ import annotations

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.choices import readings_of, switches
from midframe.web.context import store_of
from midframe.web.waiting import asked, shown


def upkeep(request: Request) -> Response:
    """Time to repair one device."""
    kept = store_of(request).get(request.path_params["id"])
    readings = readings_of(request.query_params)
    answer = asked(request, "upkeep", kept.record, {"readings": msgspec.to_builtins(readings)})
    return shown(
        request,
        "upkeep.html",
        answer,
        kept=kept,
        sheet="upkeep",
        sheet_title="Upkeep",
        switches=switches(readings),
    )


routes = (Route("/r/{id}/upkeep", upkeep),)
