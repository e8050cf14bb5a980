"""Who may ask, from where, and how much: hosts, origins, sizes, headers."""

from __future__ import annotations

from starlette.datastructures import MutableHeaders
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from midframe.web.settings import Settings

POLICY = (
    "default-src 'self'; img-src 'self' blob: data:; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'self'"
)
"""What a page may load: its own files only; no inline script or style runs."""

HEADERS = (
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
)
"""Headers of every answer."""


class Headers:
    """Puts the headers of `HEADERS` on every answer that does not set its own."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on and add to what comes back."""

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS:
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers if scope["type"] == "http" else send)


def middleware(settings: Settings) -> list[Middleware]:
    """The layers around the pages, outermost first."""
    return [
        Middleware(Headers),
        Middleware(TrustedHostMiddleware, allowed_hosts=list(settings.hosts), www_redirect=False),
    ]
