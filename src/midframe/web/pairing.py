"""Pairing: a screen on the bench network gives a one-time code once, and is known from then on."""

from __future__ import annotations

import hashlib
import hmac
import os
import secrets
import threading
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

import msgspec
from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Receive, Scope, Send

from midframe.faults import BadSetting, StoreTrouble, TooManyTries
from midframe.web import faults
from midframe.web.peers import OWN_NAMES, from_here, host_name
from midframe.web.settings import Settings

SIGNS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""What codes are made of: no sign that is easily taken for another (0 O, 1 I L)."""

CODE_SIGNS = 8
CODE_SECONDS = 600.0
MOST_WRONG, MOST_WRONG_OF_ALL = 5, 50
"""Wrong codes in `CODE_SECONDS` from one address, and from all: house choice, 50 of 31^8 are no chance."""

OPEN = ("/pair", "/static/", "/favicon.ico")
"""What a screen that is not paired may see."""

COOKIE_SECONDS = 365 * 24 * 3600


class Screen(msgspec.Struct, frozen=True):
    """A paired screen: its name, when it was paired, and the hash of what its cookie holds."""

    id: str
    name: str
    paired_at: str
    hash: str


class Code(msgspec.Struct, frozen=True):
    """The present code and the second (of the pairing's clock) at which it ends."""

    text: str
    ends: float

    @property
    def spaced(self) -> str:
        """In two groups, as a person reads it."""
        return f"{self.text[:4]} {self.text[4:]}"


class Pairing:
    """The present code and the paired screens, kept in a file that only its owner may read.

    Parameters
    ----------
    file
        where the paired screens are kept; several servers may share it
    clock
        seconds that only grow
    tell
        called with a line of text after each pairing, such as the terminal's output
    """

    def __init__(
        self,
        file: Path,
        clock: Callable[[], float] = time.monotonic,
        tell: Callable[[str], None] = lambda _line: None,
    ) -> None:
        self.file = file
        self.clock = clock
        self.tell = tell
        self.lock = threading.RLock()
        self.present = Code("", 0.0)
        self.wrong: list[tuple[float, str]] = []
        self.read_at: tuple[int, int] | None = None
        self.known_screens: tuple[Screen, ...] = ()

    def code(self) -> Code:
        """The present code; a fresh one where the last was used or has ended."""
        with self.lock:
            if self.clock() >= self.present.ends:
                text = "".join(secrets.choice(SIGNS) for _ in range(CODE_SIGNS))
                self.present = Code(text, self.clock() + CODE_SECONDS)
            return self.present

    def pair(self, typed: str, name: str, address: str, at: str) -> str:
        """The token of a newly paired screen, for the right code; raises `BadSetting` or `TooManyTries`.

        The code counts once: it is used up as soon as the screen is kept.
        """
        with self.lock:
            self.limit(address)
            if not hmac.compare_digest(plain(typed), self.code().text):
                self.wrong.append((self.clock(), address))
                raise BadSetting(
                    "found another code; right: the one that the terminal and the page Sharing show now"
                )
            token = secrets.token_urlsafe(32)
            screen = Screen(secrets.token_hex(4), name[:60] or "a screen", at, hashed(token))
            self.keep((*self.screens(), screen))
            self.present = Code("", 0.0)
            self.tell(f"Paired: {screen.name}. The code for the next screen: {self.code().spaced}")
            return token

    def limit(self, address: str) -> None:
        """Raise `TooManyTries` where too many wrong codes came of late."""
        since = self.clock() - CODE_SECONDS
        self.wrong = [(when, who) for when, who in self.wrong if when > since]
        own = sum(who == address for _, who in self.wrong)
        if own >= MOST_WRONG or len(self.wrong) >= MOST_WRONG_OF_ALL:
            raise TooManyTries(
                f"found {own if own >= MOST_WRONG else len(self.wrong)} wrong codes in the last "
                f"{CODE_SECONDS / 60:.0f} minutes; right: wait so long, or start the server anew"
            )

    def screens(self) -> tuple[Screen, ...]:
        """Every paired screen, as the file holds them now."""
        with self.lock:
            try:
                status = self.file.stat()
                if (status.st_mtime_ns, status.st_ino) != self.read_at:
                    self.known_screens = msgspec.json.decode(self.file.read_bytes(), type=tuple[Screen, ...])
                    self.read_at = (status.st_mtime_ns, status.st_ino)
            except FileNotFoundError:
                self.known_screens, self.read_at = (), None
            except msgspec.DecodeError:
                raise StoreTrouble(
                    f"{self.file}: found a damaged list of paired screens; right: delete it and pair anew"
                ) from None
            return self.known_screens

    def knows(self, token: str) -> bool:
        """Whether this token belongs to a paired screen."""
        return hashed(token) in {screen.hash for screen in self.screens()}

    def unpair(self, screen_id: str) -> None:
        """Forget a screen; raises `BadSetting` for one that is not paired."""
        with self.lock:
            left = tuple(screen for screen in self.screens() if screen.id != screen_id)
            if len(left) == len(self.screens()):
                raise BadSetting("found no such paired screen; right: one of the list")
            self.keep(left)

    def keep(self, screens: tuple[Screen, ...]) -> None:
        """Write the list: whole or not at all, readable by its owner only."""
        fresh = self.file.with_name(f".{self.file.name}.{secrets.token_hex(4)}")
        try:
            with os.fdopen(os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as stream:
                stream.write(msgspec.json.format(msgspec.json.encode(screens)))
                stream.flush()
                os.fsync(stream.fileno())
            fresh.replace(self.file)
        except OSError as error:
            fresh.unlink(missing_ok=True)
            raise StoreTrouble(
                f"{self.file}: found {(error.strerror or 'a fault of the disk').lower()}; nothing changed. "
                "Right: a data folder with room that this user can write"
            ) from None


class PairedOnly:
    """Lets nobody in from the network who is not paired; the bench itself needs no pairing."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass what may pass, answer the rest with the way to the pairing page."""
        if scope["type"] == "http":
            request = Request(scope)
            if not may_pass(request, self.settings):
                await refusal(request)(scope, receive, send)
                return
        await self.app(scope, receive, send)


def may_pass(request: Request, settings: Settings) -> bool:
    """Whether it comes from the bench itself or a paired screen, or asks for what is open to all."""
    path = request.url.path
    if not needs_pairing(request, settings) or path == OPEN[0] or path.startswith(OPEN[1:]):
        return True
    token = request.cookies.get(cookie_name(settings), "")
    pairing: Pairing = request.app.state.pairing
    return bool(token) and pairing.knows(token)


def needs_pairing(request: Request, settings: Settings) -> bool:
    """Whether a screen has to be paired: everyone but the bench's own browser, as soon as it is shared."""
    if settings.pair_everyone:
        return True
    own_name = host_name(request.headers.get("host", "")) in OWN_NAMES
    return settings.share and not (from_here(request.scope) and own_name)


def refusal(request: Request) -> Response:
    """To the pairing page where a person asked for a page; in words where a script or a program asked."""
    path = request.url.path
    message = "found a screen that is not paired; right: open this bench's address and give the pairing code"
    if path.startswith("/api"):
        return JSONResponse({"fault": message}, status_code=403)
    asks_for_page = "text/html" in request.headers.get("accept", "") and "swap" not in request.headers
    if request.method == "GET" and asks_for_page:
        return RedirectResponse(f"/pair?to={quote(path)}" if path != "/" else "/pair", status_code=303)
    return faults.told(request, 403, message)


def cookie_name(settings: Settings) -> str:
    """Cookies are shared by all ports of a machine, so the name says which server it is of."""
    return f"paired-{settings.port}"


def plain(typed: str) -> str:
    """A code as typed, without spaces and hyphens, in capitals; what is no ASCII cannot be right.

    >>> plain(" abcd-2345")
    'ABCD2345'
    """
    kept = "".join(sign for sign in typed.upper() if sign.isalnum())
    return kept if kept.isascii() else ""


def hashed(token: str) -> str:
    """SHA-256 of a token of 256 random bits: what the server keeps in its place."""
    return hashlib.sha256(token.encode()).hexdigest()
