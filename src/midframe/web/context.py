"""What a request handler needs from its request: the store, the clock, who is at the bench."""

from __future__ import annotations

import secrets
from datetime import UTC, datetime
from typing import TYPE_CHECKING
from urllib.parse import unquote

from starlette.requests import Request

from midframe.web.settings import Settings

if TYPE_CHECKING:
    from midframe.store import Store


def store_of(request: Request) -> Store:
    """The store of this server."""
    store: Store = request.app.state.store
    return store


def settings_of(request: Request) -> Settings:
    """The settings of this server."""
    settings: Settings = request.app.state.settings
    return settings


def now() -> str:
    """The present moment as ISO 8601 in UTC, to the millisecond: what the store is given as `at`."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def person(request: Request) -> str:
    """The name of who works at this screen, as they gave it; empty when nobody said."""
    return unquote(request.cookies.get("person", ""))[:60]


def new_key() -> str:
    """A fresh idempotency key for a form: 128 random bits."""
    return secrets.token_urlsafe(16)
