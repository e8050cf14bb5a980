"""The style sheets of documents that are served for print."""

from __future__ import annotations

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route


def style(request: Request) -> Response:
    """One style sheet by its hash."""
    text = request.app.state.styles.get(request.path_params["name"])
    if text is None:
        raise HTTPException(404)
    return Response(text, media_type="text/css", headers={"cache-control": "max-age=86400, immutable"})


routes = (Route("/styles/{name}.css", style),)
