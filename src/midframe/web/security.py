"""Who may ask, and from where: host names, origins, headers; sizes and pairing get their places here."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.datastructures import MutableHeaders
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from midframe.web import faults
from midframe.web.pairing import PairedOnly
from midframe.web.peers import OWN_NAMES, from_here, host_name, is_known
from midframe.web.settings import Settings
from midframe.web.sizes import Sizes

POLICY = (
    "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'self'"
)
"""What a page may load: its own files only; no inline script or style runs."""

HEADERS = (
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cache-control", "no-cache"),
)
"""Headers of every answer that does not set its own."""

OWN_HEADERS = (("cross-origin-opener-policy", "same-origin"),)
"""On the bench itself also these; a browser that comes over the network complains of them."""

SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
"""Methods that change nothing."""


class AnswerHeaders:
    """Puts the headers of `HEADERS` on every answer that does not set its own."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on and add to what comes back."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        own = host_name(Request(scope).headers.get("host", "")) in OWN_NAMES
        added = HEADERS + OWN_HEADERS if own else HEADERS

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in added:
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers)


class KnownHosts:
    """Answers only to the names of this bench, so that no foreign name can be turned to it."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request to a known name on, refuse others."""
        if scope["type"] == "http":
            request = Request(scope)
            name = host_name(request.headers.get("host", ""))
            if not is_known(name, self.settings):
                message = (
                    f"found the address {name or 'without a name'}; right: an address that midframe printed "
                    "at its start. Another name is allowed by midframe serve --host NAME"
                )
                await faults.told(request, 400, message)(scope, receive, send)
                return
        await self.app(scope, receive, send)


class OwnPages:
    """Takes changes only from the pages of this bench, or from a program on the same machine."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass what changes nothing, and what comes from its own pages."""
        if scope["type"] == "http" and scope["method"] not in SAFE:
            request = Request(scope)
            found = foreign(request.headers, request.url.scheme, request.url.path, from_here(scope))
            if found:
                message = f"found {found}; nothing was changed. Right: a form on a page of this bench"
                await faults.told(request, 403, message)(scope, receive, send)
                return
        await self.app(scope, receive, send)


def foreign(headers: Mapping[str, str], scheme: str, path: str, here: bool) -> str:
    """What speaks against a change, in words; empty where nothing does.

    A browser says the page a change comes from in `Origin`. Only a program on
    this machine may leave it out, and only under /api and without cookies.
    """
    origin = headers.get("origin")
    site = headers.get("sec-fetch-site", "same-origin")
    if site not in ("same-origin", "none"):
        return f"a request that a page elsewhere has made ({site})"
    if origin is None:
        plain_program = here and path.startswith("/api/") and "cookie" not in headers
        return "" if plain_program else "a request that does not say which page it comes from"
    own = f"{scheme}://{headers.get('host', '')}"
    return "" if origin.lower() == own.lower() else f"a request from another page ({origin[:80]})"


def middleware(settings: Settings) -> list[Middleware]:
    """The layers around the pages, outermost first."""
    return [
        Middleware(AnswerHeaders),
        Middleware(KnownHosts, settings=settings),
        Middleware(Sizes, settings=settings),
        Middleware(OwnPages),
        Middleware(PairedOnly, settings=settings),
    ]
