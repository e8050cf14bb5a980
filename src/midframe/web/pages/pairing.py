"""Pairing a screen: the page where the code is given, and the sheet that shows code and paired screens."""

from __future__ import annotations

from urllib.parse import urlencode

import segno
from markupsafe import Markup
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import Fault
from midframe.web.context import now, settings_of
from midframe.web.faults import status_of
from midframe.web.forms import posted, text
from midframe.web.pairing import COOKIE_SECONDS, Pairing, cookie_name, plain
from midframe.web.render import page, page_or_fragment, see_other


def pair_page(request: Request) -> Response:
    """Asks for the code; with the code in the address, as the QR holds it, one button is left."""
    asked = request.query_params
    return page(
        request, "pair.html", code=plain(asked.get("code", "")), to=inside(asked.get("to", "")), fault=""
    )


@posted
def pair(request: Request, form: FormData) -> Response:
    """Takes the code and gives the screen its cookie."""
    settings, to = settings_of(request), inside(text(form, "to"))
    address = request.client.host if request.client else ""
    try:
        token = pairing_of(request).pair(text(form, "code", 100), text(form, "name", 60), address, now())
    except Fault as fault:
        return page(request, "pair.html", status_of(fault), code="", to=to, fault=str(fault))
    answer = see_other(to)
    answer.set_cookie(
        cookie_name(settings), token, COOKIE_SECONDS, path="/", httponly=True, samesite="strict"
    )
    return answer


def share_page(request: Request) -> Response:
    """Addresses, the present code with its QR, and the paired screens."""
    settings, pairing = settings_of(request), pairing_of(request)
    code = pairing.code() if settings.share else None
    address = settings.addresses[0] if settings.addresses else ""
    return page_or_fragment(
        request,
        "sharing.html",
        "sharing",
        code=code,
        minutes=max(1, round((code.ends - pairing.clock()) / 60)) if code else 0,
        qr=Markup(qr_svg(pair_address(address, code.text))) if code and address else "",  # noqa: S704 (drawn here)
        addresses=settings.addresses,
        screens=pairing.screens(),
    )


@posted
def unpair(request: Request, form: FormData) -> Response:
    """Forgets a screen; it has to be paired anew."""
    pairing_of(request).unpair(text(form, "screen"))
    return see_other("/settings/share")


def pairing_of(request: Request) -> Pairing:
    """The pairing of this server."""
    pairing: Pairing = request.app.state.pairing
    return pairing


def pair_address(address: str, code: str) -> str:
    """What the QR holds.

    >>> pair_address("http://192.0.2.7:8310", "ABCD2345")
    'http://192.0.2.7:8310/pair?code=ABCD2345'
    """
    return f"{address}/pair?{urlencode({'code': code})}"


def qr_svg(content: str) -> str:
    """A QR as SVG, dark on light in every theme, since readers expect that."""
    drawn: str = segno.make(content, error="m", micro=False).svg_inline(
        scale=6, border=4, dark="#000", light="#fff", omitsize=True, svgclass="qr", lineclass=None,
        title="QR of the address with the code",
    )  # fmt: skip
    return drawn


def inside(address: str) -> str:
    """A page of this bench to go on to; the shelf for everything else.

    >>> inside("/r/abc/bench"), inside("//evil.test"), inside("https://evil.test/")
    ('/r/abc/bench', '/', '/')
    """
    good = address.startswith("/") and not address.startswith(("//", "/\\")) and address.isprintable()
    return address if good else "/"


routes = (
    Route("/pair", pair_page, name="pair"),
    Route("/pair", pair, methods=["POST"]),
    Route("/settings/share", share_page, name="share"),
    Route("/settings/share", unpair, methods=["POST"]),
)
