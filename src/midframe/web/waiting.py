"""A page around an answer: what is computed is told while it is, and the answer when it is there."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from starlette.requests import Request
from starlette.responses import HTMLResponse

from midframe.web.answers import Answer
from midframe.web.render import page_or_fragment

if TYPE_CHECKING:
    from collections.abc import Sequence

    from midframe.record.model import Record
    from midframe.web.answers import Answers

WAIT_SECONDS = 0.3
"""How long a request waits for an answer before it shows the progress: house choice."""

STATUS: Mapping[str, int] = MappingProxyType({"working": 202, "done": 200, "failed": 422, "stopped": 200})
"""What HTTP says of an answer."""


def answers_of(request: Request) -> Answers:
    """The answers of this server."""
    answers: Answers = request.app.state.answers
    return answers


def asked(
    request: Request,
    question: str,
    record: Record | Sequence[Record],
    options: Mapping[str, Any] | None = None,
    *,
    wait: float = WAIT_SECONDS,
) -> Answer:
    """What is known of a question; a short one is waited for."""
    return answers_of(request).ask(question, record, options, wait=wait)


def shown(request: Request, name: str, answer: Answer, block: str = "answer", **context: Any) -> HTMLResponse:
    """The page of an answer, or only its part: progress, answer or fault, with the status that fits."""
    return page_or_fragment(
        request, name, block, STATUS[answer.status], answer=answer, again=again_at(request), **context
    )


def again_at(request: Request) -> str:
    """The address of this page with its query, for looking again."""
    query = request.url.query
    return request.url.path + (f"?{query}" if query else "")
