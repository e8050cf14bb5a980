"""The shelf: every record, found as one types; new ones begin here."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.context import store_of
from midframe.web.render import page_or_fragment


def shelf(request: Request) -> Response:
    """All records, or those whose texts hold the words of the query."""
    query = request.query_params.get("q", "")
    found = store_of(request).shelf(query)
    return page_or_fragment(request, "shelf.html", "rows", found=found, query=query)


routes = (Route("/", shelf, name="shelf"),)
