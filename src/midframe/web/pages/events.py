"""Streams of server-sent events: the shelf and each record say when they changed."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.live import stream


async def shelf_events(request: Request) -> Response:
    """Changes of anything on the shelf."""
    return await stream(request)


async def record_events(request: Request) -> Response:
    """Changes of one record."""
    return await stream(request, request.path_params["id"])


routes = (
    Route("/events", shelf_events, name="shelf_events"),
    Route("/r/{id}/events", record_events, name="record_events"),
)
