"""An edited record kept as a revision, the way every form of a page does it."""

from __future__ import annotations

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response

from midframe.record.model import Record
from midframe.store import Kept, Saved
from midframe.web.context import now, person, store_of
from midframe.web.forms import key_of
from midframe.web.render import see_other


def keep(request: Request, form: FormData, kept: Kept, record: Record, summary: str) -> Saved:
    """Keep a record that was edited from `kept`; who, when and under which key the request says."""
    return store_of(request).save(
        kept.id,
        record,
        base=kept.revision,
        summary=summary,
        author=person(request),
        at=now(),
        key=key_of(request, form),
    )


def onward(saved: Saved, to: str) -> Response:
    """On to a page; to the choice between two versions where the same thing was edited twice."""
    return see_other(f"/r/{saved.id}/versions" if saved.beside else to)
