"""All that stands beside one way, gathered from the library."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.ways.alternatives import Alternatives, alternatives
from midframe.ways.assumed import (
    Question,
    TargetRange,
    assumed_subjects,
    cost_of,
    edited,
    next_question,
)
from midframe.ways.orders import ComparedOrder, compared
from midframe.ways.power import Powered, power_first
from midframe.ways.solve import Planner, found
from midframe.ways.toolbox import Toolbox, WithToolbox, with_toolbox
from midframe.ways.way import Way


class Beside(msgspec.Struct, frozen=True, kw_only=True):
    """One way and what stands beside it."""

    way: Way
    powered: Powered
    toolbox: WithToolbox | None
    alternatives: Alternatives | None
    orders: tuple[ComparedOrder, ...]
    conditions: int
    range: TargetRange | None
    question: Question | None


def beside(planner: Planner, target: str, toolbox: Toolbox | None, options: dict[str, Any]) -> Beside:
    """The way to one part with all that was asked for; `NoWay` where there is none."""
    record = planner.record
    way = found(planner.way(target))
    subjects = assumed_subjects(record)
    settings = (planner.objective, planner.readings, planner.bench)
    return Beside(
        way=way,
        powered=power_first(planner, way, options["power"]),
        toolbox=with_toolbox(planner, target, toolbox) if toolbox is not None else None,
        alternatives=alternatives(planner, target, most=options["most"]) if options["most"] else None,
        orders=tuple(
            compared(planner, number, order)
            for number, order in enumerate(record.orders)
            if order.target == target
        ),
        conditions=len(subjects),
        range=case_range(planner, way) if subjects else None,
        question=next_question(record, *settings, limit=planner.limit) if options["assumed"] else None,
    )


def case_range(planner: Planner, way: Way) -> TargetRange:
    """The way's cost where every assumed condition is dropped, and where all are kept."""
    record = edited(planner.record, deny=assumed_subjects(planner.record))
    free = Planner(record, planner.objective, planner.readings, planner.bench, limit=planner.limit)
    return TargetRange(way.target, cost_of(free.way(way.target)), cost_of(way))
