"""The record that another is set beside: the one chosen, else the predecessor where it is on the shelf."""

from __future__ import annotations

from starlette.requests import Request

from midframe.record.draft import slug
from midframe.store import Kept
from midframe.web.context import store_of

MOST = 200
"""Records of the shelf that are offered; house choice."""


def before_of(request: Request, kept: Kept, name: str = "with") -> tuple[list[tuple[str, str]], Kept | None]:
    """Id and name of every other record, and the one to set beside.

    The query says which under `name`; an empty value is none, no value the predecessor. Raises
    `UnknownRecord`.
    """
    store = store_of(request)
    before = kept.record.device.predecessor.removesuffix(".device.toml").casefold()
    rows = [row for row in store.shelf(limit=MOST).rows if row.id != kept.id]
    wanted = request.query_params.get(name)
    if wanted is None:
        wanted = next((row.id for row in rows if before in (slug(row.name), row.name.casefold())), "")
    return [(row.id, row.name) for row in rows], store.get(wanted) if wanted else None
