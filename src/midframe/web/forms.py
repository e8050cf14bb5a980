"""Reading forms: plain handlers run in the thread pool, the body is read before in the event loop."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import wraps

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response


def posted(
    handler: Callable[[Request, FormData], Response],
) -> Callable[[Request], Awaitable[Response]]:
    """A handler of a form: it is given the fields, and runs in the thread pool like every other."""

    @wraps(handler)
    async def read_then_handle(request: Request) -> Response:
        async with request.form(max_files=200, max_fields=5_000) as form:
            return await run_in_threadpool(handler, request, form)

    return read_then_handle


def text(form: FormData, name: str, longest: int = 20_000) -> str:
    """A text field without surrounding space; empty when absent."""
    value = form.get(name, "")
    return value.strip()[:longest] if isinstance(value, str) else ""


def whole(form: FormData, name: str) -> int | None:
    """A whole number, or None where the field is empty or no number."""
    value = text(form, name)
    return int(value) if value.isascii() and value.isdigit() and len(value) < 12 else None


def key_of(request: Request, form: FormData) -> str:
    """The idempotency key of this change: from the header of the outbox, else from the form."""
    return (request.headers.get("idempotency-key", "") or text(form, "key"))[:100]


def files(form: FormData, name: str) -> list[tuple[str, bytes]]:
    """Name and content of every file that was given under this name; an empty choice is none."""
    found = [one for one in form.getlist(name) if isinstance(one, UploadFile) and one.filename]
    return [(one.filename or "", one.file.read()) for one in found]
