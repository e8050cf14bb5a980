"""Settings of this screen: who works here, its looks, hints of the keyboard; and where the data lies."""

from __future__ import annotations

from urllib.parse import quote

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.web.context import settings_of
from midframe.web.forms import posted, text
from midframe.web.pairing import COOKIE_SECONDS
from midframe.web.render import page, see_other

THEMES = (("", "as the system has it"), ("light", "light"), ("dark", "dark, for a dark bench"))


def settings_page(request: Request) -> Response:
    """The form."""
    return page(
        request,
        "settings.html",
        themes=THEMES,
        folder=str(settings_of(request).folder),
        place=settings_of(request).place,
        saved="saved" in request.query_params,
    )


@posted
def save(request: Request, form: FormData) -> Response:  # noqa: ARG001 (a handler is given its request)
    """Keeps the settings on this screen, in cookies."""
    theme = text(form, "theme")
    answer = see_other("/settings?saved")
    keep(answer, "person", quote(text(form, "person", 60), safe=" "))
    keep(answer, "theme", theme if theme in dict(THEMES) else "")
    keep(answer, "hints", "" if text(form, "hints") else "off")
    return answer


def keep(answer: Response, name: str, value: str) -> None:
    """A cookie of this screen; an empty value takes it away."""
    if value:
        answer.set_cookie(name, value, COOKIE_SECONDS, path="/", httponly=True, samesite="strict")
    else:
        answer.delete_cookie(name, path="/", httponly=True, samesite="strict")


routes = (
    Route("/settings", settings_page, name="settings"),
    Route("/settings", save, methods=["POST"]),
)
