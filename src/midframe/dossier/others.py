"""Other ways in to one part: the best by each cost, and the best that are distinct."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from midframe.dossier.summary import WayRow, way_row
from midframe.record.model import Record
from midframe.ways.alternatives import Alternative, alternatives
from midframe.ways.objective import MONEY, SECONDS, STEPS_THEN_SECONDS, Objective
from midframe.ways.solve import Planner
from midframe.ways.way import Way

COSTS: tuple[tuple[str, Objective], ...] = (
    ("steps", STEPS_THEN_SECONDS),
    ("seconds", SECONDS),
    ("money", MONEY),
)
"""What may be least, and what is then minimised."""


class Least(msgspec.Struct, frozen=True):
    """The way that takes least of one thing; `same` where it is the one that was asked about."""

    what: str
    row: WayRow
    same: bool


class Other(msgspec.Struct, frozen=True):
    """An alternative: its row, how it differs from the best way, and the way itself."""

    row: WayRow
    alternative: Alternative


class OtherWays(msgspec.Struct, frozen=True, kw_only=True):
    """Other ways to one part; `complete` says that no better distinct one was left untried."""

    target: str
    least: tuple[Least, ...]
    others: tuple[Other, ...]
    complete: bool


def other_ways(
    planner: Planner,
    target: str,
    tell: Callable[[int, int, str], None] | None = None,
    *,
    most: int = 3,
) -> OtherWays:
    """The best way by each cost, and at most `most` distinct alternatives of the planner's best way.

    >>> from midframe.demo import load
    >>> found = other_ways(Planner(load("tern-2")), "sim-tray", most=0)
    >>> [(one.what, one.row.steps) for one in found.least]
    [('steps', 1), ('seconds', 1), ('money', 1)]
    """
    told = tell or (lambda _number, _of, _label: None)
    record, best, least = planner.record, planner.way(target), []
    for number, (what, objective) in enumerate(COSTS, start=1):
        way = Planner(record, objective, planner.readings, planner.bench, limit=planner.limit).way(target)
        same = isinstance(way, Way) and isinstance(best, Way) and set(way.moves) == set(best.moves)
        least.append(Least(what, way_row(record, target, way), same))
        told(number, len(COSTS) + 1, f"least {what}")
    found = alternatives(planner, target, most=most)
    return OtherWays(
        target=target,
        least=tuple(least),
        others=tuple(Other(row_of(record, one), one) for one in found.others),
        complete=found.complete,
    )


def row_of(record: Record, one: Alternative) -> WayRow:
    """The row of an alternative."""
    return way_row(record, one.way.target, one.way)
