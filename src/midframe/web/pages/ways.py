"""Ways in: the table of all parts, and one part's way move by move with what else could be done."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.dossier.summary import WayRow
from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import PRIORITY_ROLES, Part, Record
from midframe.store import Kept
from midframe.ways.assumed import assumed_subjects
from midframe.web.choices import LEAST, POWER, one_of, readings_of, switches
from midframe.web.context import store_of
from midframe.web.waiting import asked, shown

Key = Callable[[WayRow], Any]

COLUMNS: Mapping[str, tuple[str, Key]] = MappingProxyType(
    {
        "part": ("Part", lambda row: row.name.casefold()),
        "steps": ("Steps", lambda row: (row.steps or 0, row.seconds or 0.0)),
        "seconds": ("Time", lambda row: row.seconds or 0.0),
        "tools": ("Tools", lambda row: len(row.tools)),
        "face": ("Face", lambda row: row.face or ""),
        "money": ("Cost", lambda row: row.money or 0.0),
        "proven": ("Rests on", lambda row: (bool(row.proven), -row.assumed, not row.mostly_default)),
    }
)
"""Columns that sort the table: their head, and what they go by."""


def ways(request: Request) -> Response:
    """The best way in to every part."""
    kept = store_of(request).get(request.path_params["id"])
    query = request.query_params
    by, readings = one_of(query, "by", LEAST), readings_of(query)
    sort, down = sorting(query.get("sort", ""))
    answer = asked(request, "ways", kept.record, {"by": by, "readings": msgspec.to_builtins(readings)})
    rows = sorted_rows(kept.record, answer.value or (), sort, down=down)
    return shown(
        request,
        "ways.html",
        answer,
        kept=kept,
        sheet="ways",
        sheet_title="Ways in",
        rows=rows,
        columns={name: head for name, (head, _) in COLUMNS.items()},
        sort=sort,
        down=down,
        sort_at=lambda name: sort_address(request, name, sort, down=down),
        by=by,
        least=LEAST,
        switches=switches(readings),
        conditions=len(assumed_subjects(kept.record)),
    )


def sorting(asked_for: str) -> tuple[str, bool]:
    """The column to sort by ("" for the order of the record), and whether the largest is first."""
    down = asked_for.startswith("-")
    name = asked_for.removeprefix("-")
    if name and name not in COLUMNS:
        raise BadSetting(
            f"sort: found '{asked_for[:40]}'; it may be {', '.join(COLUMNS)}, with - for downwards"
        )
    return name, down


def sort_address(request: Request, name: str, sort: str, *, down: bool) -> str:
    """The address of the table sorted by a column; the same column again turns it round."""
    value = f"-{name}" if name == sort and not down else name
    return str(request.url.include_query_params(sort=value).query)


def sorted_rows(
    record: Record, rows: Sequence[WayRow], sort: str, *, down: bool
) -> tuple[tuple[WayRow, ...], ...]:
    """The rows in groups: priority parts first in the order of the record, or all by one column."""
    if sort:
        able = [row for row in rows if row.steps is not None]
        rest = tuple(row for row in rows if row.steps is None)
        return ((*sorted(able, key=COLUMNS[sort][1], reverse=down), *rest),)
    first = {part.id for part in record.parts if {part.role, *part.also} & set(PRIORITY_ROLES)}
    groups = (
        tuple(row for row in rows if row.part in first),
        tuple(row for row in rows if row.part not in first),
    )
    return tuple(group for group in groups if group)


def way(request: Request) -> Response:
    """One part's way in, move by move."""
    kept = store_of(request).get(request.path_params["id"])
    part = part_of(kept, request.path_params["part"])
    query = request.query_params
    options = way_options(request, part)
    answer = asked(request, "way", kept.record, options)
    return shown(
        request,
        "way.html",
        answer,
        kept=kept,
        sheet="ways",
        sheet_title=f"Way in: {part.name}",
        part=part,
        by=options["by"],
        power=options["power"],
        least=LEAST,
        powers=POWER,
        switches=switches(readings_of(query)),
        query=request.url.query,
    )


def others(request: Request) -> Response:
    """Other ways in to one part."""
    kept = store_of(request).get(request.path_params["id"])
    part = part_of(kept, request.path_params["part"])
    options = way_options(request, part)
    del options["power"]
    answer = asked(request, "others", kept.record, options)
    return shown(
        request,
        "others.html",
        answer,
        kept=kept,
        sheet="ways",
        sheet_title=f"Other ways in: {part.name}",
        part=part,
        by=options["by"],
        least=LEAST,
        query=request.url.query,
    )


def way_options(request: Request, part: Part) -> dict[str, Any]:
    """What a question about one part depends on, from the address of its page."""
    query = request.query_params
    return {
        "part": part.id,
        "by": one_of(query, "by", LEAST),
        "power": one_of(query, "power", POWER),
        "readings": msgspec.to_builtins(readings_of(query)),
    }


def part_of(kept: Kept, name: str) -> Part:
    """The part of an address; raises `UnknownPart` for one that is not there and for the body."""
    found = next((part for part in kept.record.parts if part.id == name), None)
    if found is None:
        raise UnknownPart(f"no part '{name[:60]}' in {kept.name}; the sheet Ways in lists all")
    if name == kept.record.device.body:
        raise UnknownPart(f"{found.name} is the body: the others come out of it, it has no way in")
    return found


routes = (
    Route("/r/{id}/ways", ways),
    Route("/r/{id}/ways/{part}", way),
    Route("/r/{id}/ways/{part}/others", others),
)
