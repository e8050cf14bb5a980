"""One table from what the library raises to what HTTP answers."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from midframe.faults import Fault
from midframe.web.render import page

STATUS: tuple[tuple[str, int], ...] = (
    ("UnknownRecord", 404),
    ("UnknownPart", 404),
    ("TooLarge", 413),
    ("TooManyTries", 429),
    ("StoreTrouble", 507),
    ("Fault", 422),
)
"""Names of exception classes, the special ones first, and the status that each answers."""

TITLES: Mapping[int, str] = MappingProxyType(
    {
        400: "Not this address",
        403: "Not allowed",
        404: "Not here",
        408: "Too slow",
        413: "Too large",
        422: "This does not fit",
        429: "Too many tries",
        507: "The data cannot be written",
    }
)
"""Headings of the refusals."""


def status_of(fault: Fault) -> int:
    """The status that a fault answers."""
    names = {kind.__name__ for kind in type(fault).__mro__}
    return next(status for name, status in STATUS if name in names)


def answer_fault(request: Request, fault: Exception) -> Response:
    """A page that says what was found and what would be right; under /api the same as JSON."""
    if not isinstance(fault, Fault):
        raise fault
    return told(request, status_of(fault), str(fault))


def told(request: Request, status: int, message: str) -> Response:
    """A refusal in words, as a page or as JSON."""
    if request.url.path.startswith("/api"):
        return JSONResponse({"fault": message}, status_code=status)
    return page(request, "fault.html", status, title=TITLES.get(status, "This did not work"), message=message)
