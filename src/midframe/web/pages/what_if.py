"""What would change it: every single design change, ranked by what it gains."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.dossier.what_if import Change, WhatIf
from midframe.web.choices import one_of
from midframe.web.context import store_of
from midframe.web.waiting import asked, shown

SORTS: Mapping[str, str] = MappingProxyType({"index": "gain in the index", "minutes": "minutes saved"})
MOST = 40
"""Changes that are shown; the command line gives all."""


def what_if(request: Request) -> Response:
    """The ranked changes, or how many of them are tried."""
    kept = store_of(request).get(request.path_params["id"])
    sort = one_of(request.query_params, "sort", SORTS)
    answer = asked(request, "what-if", kept.record, {"times": True})
    return shown(
        request,
        "what_if.html",
        answer,
        kept=kept,
        sheet="index",
        sheet_title="What would change it",
        sort=sort,
        sorts=SORTS,
        changes=ranked(answer.value, sort) if answer.status == "done" else (),
        most=MOST,
    )


def ranked(found: WhatIf, sort: str) -> tuple[Change, ...]:
    """The changes in the order asked for."""
    if sort == "minutes":
        return tuple(sorted(found.changes, key=lambda change: -change.seconds_saved_mean))
    return found.changes


routes = (Route("/r/{id}/what-if", what_if),)
