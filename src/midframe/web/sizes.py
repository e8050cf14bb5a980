"""How much is taken in one request, and how slowly: counted while it is read, refused with 413 or 408."""

from __future__ import annotations

import asyncio
import time

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from midframe.faults import TooLarge
from midframe.web import faults
from midframe.web.settings import Settings

STILL_SECONDS = 30.0
"""A body that brings nothing for so long is cut (house choice)."""

WHOLE_SECONDS = 900.0
"""A body that is not complete after so long is cut (house choice)."""

DRAIN_SECONDS, DRAIN_BYTES = 10.0, 300_000_000
"""What is still read and thrown away of a body that is refused, so that its sender gets to see the answer."""

ARCHIVES = ("/import", "/api/import")
"""Addresses that take archives."""


class Sizes:
    """Bounds every body: by its declared length first, then by counting what comes."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on with a counted body."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        body = Body(receive, most_bytes(scope["path"], headers.get("content-type", ""), self.settings))

        async def answer(message: Message) -> None:
            if message["type"] == "http.response.start" and brings_body(headers) and not body.whole:
                await body.drain()
                MutableHeaders(scope=message)["connection"] = "close"
            await send(message)

        declared = headers.get("content-length", "")[:18]
        if declared.isdecimal() and int(declared) > body.most:
            told = faults.told(Request(scope), 413, too_large(body.most, int(declared)))
            await told(scope, receive, answer)
            return
        try:
            await self.app(scope, body.receive, answer)
        except ClientDisconnect:  # the network was lost in the middle of a body: nobody is there to answer
            return


class Body:
    """The body of one request as it comes in."""

    def __init__(self, source: Receive, most: int) -> None:
        self.source = source
        self.most = most
        self.taken = 0
        self.whole = False
        self.ends = time.monotonic() + WHOLE_SECONDS

    async def receive(self) -> Message:
        """The next piece; raises `TooLarge` or 408 where the body breaks its bounds."""
        if self.whole:
            return await self.source()
        patience = min(STILL_SECONDS, self.ends - time.monotonic())
        try:
            message = await asyncio.wait_for(self.source(), max(0.0, patience))
        except TimeoutError:
            raise HTTPException(
                408, "What was sent stopped half way; nothing was kept. Send it again."
            ) from None
        self.count(message)
        if self.taken > self.most:
            raise TooLarge(too_large(self.most))
        return message

    def count(self, message: Message) -> None:
        """Note what a piece brought and whether it was the last."""
        self.taken += len(message.get("body", b""))
        self.whole = message["type"] != "http.request" or not message.get("more_body", False)

    async def drain(self) -> None:
        """Read on and keep nothing, within bounds."""
        ends = time.monotonic() + DRAIN_SECONDS
        most = self.taken + DRAIN_BYTES
        while not self.whole and self.taken < most and (left := ends - time.monotonic()) > 0:
            try:
                self.count(await asyncio.wait_for(self.source(), left))
            except TimeoutError:
                return


def brings_body(headers: Headers) -> bool:
    """Whether a body comes with these headers."""
    return headers.get("content-length", "0") != "0" or "transfer-encoding" in headers


def most_bytes(path: str, content_type: str, settings: Settings) -> int:
    """How large a body may be at this address: files come as multipart only, archives at few addresses."""
    if path in ARCHIVES:
        return settings.most_archive_bytes
    if content_type.lower().startswith(("multipart/form-data", "image/")):
        return settings.most_photo_bytes
    return settings.most_form_bytes


def too_large(most: int, found: int | None = None) -> str:
    """The words of a refusal.

    >>> too_large(40_000_000, 61_500_000)
    'found 61.5 MB in one request; right: at most 40 MB. Nothing was kept; send less at a time'
    """
    said = f"{found / 1e6:.1f} MB" if found else f"more than {most / 1e6:g} MB"
    right = f"at most {most / 1e6:g} MB. Nothing was kept; send less at a time"
    return f"found {said} in one request; right: {right}"
