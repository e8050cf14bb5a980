"""Records side by side: ways, index, screws, time to repair, and what makes the difference."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.web.context import store_of
from midframe.web.waiting import asked, shown

MOST = 4
"""Records that fit beside one another on a page."""


def compare(request: Request) -> Response:
    """Choose what to compare with; side by side once chosen."""
    store, query = store_of(request), request.query_params
    kept = store.get(request.path_params["id"])
    chosen = tuple(dict.fromkeys(one for one in query.getlist("with") if one and one != kept.id))
    if len(chosen) >= MOST:
        raise BadSetting(f"compare: found {len(chosen) + 1} records; right: {MOST} at most")
    beside = [store.get(name) for name in chosen]
    search = query.get("q", "")[:200]
    rows = [row for row in store.shelf(search, limit=24).rows if row.id != kept.id]
    ranking = "ranking" in query
    records = [one.record for one in (kept, *beside)]
    answer = asked(request, "compare", records, {"ranking": ranking}) if beside else None
    context: dict[str, Any] = {
        "kept": kept,
        "sheet": "compare",
        "sheet_title": "Compare",
        "beside": beside,
        "chosen": chosen,
        "rows": rows,
        "search": search,
        "most": MOST,
        "ranking": ranking,
    }
    if answer is None:
        from midframe.web.render import page

        return page(request, "compare.html", answer=None, again=request.url.path, **context)
    return shown(request, "compare.html", answer, **context)


routes = (Route("/r/{id}/compare", compare),)
