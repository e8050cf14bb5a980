"""The label of a battery read from a photo of the record: a proposal, kept only once it was looked at."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.battery import ReadLabel, fields_read
from midframe.battery.typed import FIELDS
from midframe.web.context import store_of
from midframe.web.pages.battery import label_fields, named
from midframe.web.pages.photos import photo_of
from midframe.web.waiting import asked, shown


def read(request: Request) -> Response:
    """The figures on one photo, beside it, to be put right and kept."""
    store = store_of(request)
    kept = store.get(request.path_params["id"])
    part = named(kept.record, request.query_params.get("part", ""))
    photo = photo_of(kept, request.path_params["hash"])
    path = store.photo(photo.hash, "full")
    answer = asked(request, "read-label", kept.record, {"path": str(path), "name": "photo"})
    found = answer.value if isinstance(answer.value, ReadLabel) else None
    figures = {} if found is None else fields_read(found.figures)
    return shown(
        request,
        "battery_photo.html",
        answer,
        kept=kept,
        sheet="checks",
        sheet_title="Battery label",
        part=part,
        photo=photo,
        asked=FIELDS,
        figures=figures,
        fields={**label_fields(part), **figures},
        faults={},
        lines=() if found is None else found.lines,
    )


routes = (Route("/r/{id}/battery/photo/{hash}", read),)
