"""Stopping a question that is computed, and computing it anew."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.forms import posted, text
from midframe.web.render import see_other
from midframe.web.waiting import answers_of


@posted
def stop(request: Request, form: FormData) -> Response:
    """End the question; its page says that it was stopped."""
    answers_of(request).stop(request.path_params["key"])
    return see_other(back(form))


@posted
def again(request: Request, form: FormData) -> Response:
    """Let the answer go, so that its page asks anew."""
    answers_of(request).forget(request.path_params["key"])
    return see_other(back(form))


def back(form: FormData) -> str:
    """The page the question was asked on; the shelf where that is no page of a record."""
    at = text(form, "back", 2000)
    return at if at.startswith("/r/") and "\\" not in at and at.isprintable() else "/"


routes = (
    Route("/answers/{key}/stop", stop, methods=["POST"]),
    Route("/answers/{key}/again", again, methods=["POST"]),
)
