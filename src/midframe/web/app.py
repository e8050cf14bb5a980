"""The application: routes, middleware and what they share. Opens no socket and reads no clock at import."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from midframe.faults import Fault
from midframe.web import faults
from midframe.web.answers import Answers
from midframe.web.documents import Styles
from midframe.web.live import Hub
from midframe.web.pages import all_routes
from midframe.web.pairing import Pairing
from midframe.web.render import environment
from midframe.web.security import middleware
from midframe.web.settings import Settings

if TYPE_CHECKING:
    from midframe.store import Store


def create_app(store: Store, settings: Settings) -> Starlette:
    """The bench over one store.

    Parameters
    ----------
    store
        an open store; closed by whoever opened it
    settings
        hosts, limits, sharing
    """
    app = Starlette(
        routes=[
            *all_routes(),
            Route("/static/drawing.css", drawing_style),
            Route("/favicon.ico", icon),
            Mount("/static", StaticFiles(packages=[("midframe.web", "static")]), name="static"),
        ],
        middleware=middleware(settings),
        exception_handlers={Fault: faults.answer_fault, HTTPException: http_fault},
    )
    app.state.store, app.state.settings, app.state.templates = store, settings, environment()
    app.state.pairing, app.state.hub = Pairing(settings.folder / "paired.json"), Hub(store)
    app.state.answers = Answers(settings.worker_processes)
    app.state.styles = Styles()
    return app


def drawing_style(request: Request) -> Response:  # noqa: ARG001 (a handler is given its request)
    """The style sheet of the drawings, the same that prints and exports carry."""
    from midframe.publish.svg import style

    return Response(style(), media_type="text/css", headers={"cache-control": "no-cache"})


def icon(request: Request) -> Response:  # noqa: ARG001
    """The icon, for browsers that ask at the old address."""
    from importlib.resources import files

    drawn = files("midframe.web").joinpath("static", "icon.svg").read_text(encoding="utf-8")
    return Response(drawn, media_type="image/svg+xml")


def http_fault(request: Request, fault: Exception) -> Response:
    """What Starlette itself refuses, in the same dress."""
    if not isinstance(fault, HTTPException):
        raise fault
    messages = {404: "There is no page at this address.", 405: "This address does not take that."}
    return faults.told(request, fault.status_code, messages.get(fault.status_code, fault.detail))
