"""All that stands beside one way: power, toolbox, alternatives, documented orders, assumed conditions."""

from __future__ import annotations

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
from midframe.ways.power import Passing, Powered, power_first
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


def beside(
    planner: Planner,
    target: str,
    toolbox: Toolbox | None = None,
    *,
    power: Passing = "passing",
    most: int = 3,
    question: bool = False,
) -> Beside:
    """The way to one part with all that was asked for.

    Parameters
    ----------
    planner, target
        The planner of the record, and the id of a part.
    toolbox
        What is at hand, if that is to be compared.
    power
        Whether the battery is unplugged first.
    most
        How many alternatives are looked for; 0 for none.
    question
        Whether the question that narrows the results most is looked for.

    Raises
    ------
    NoWay, UnknownPart
        Where there is no way to the part, or no such part.
    """
    record = planner.record
    way = found(planner.way(target))
    subjects = assumed_subjects(record)
    settings = (planner.objective, planner.readings, planner.bench)
    return Beside(
        way=way,
        powered=power_first(planner, way, power),
        toolbox=with_toolbox(planner, target, toolbox) if toolbox is not None else None,
        alternatives=alternatives(planner, target, most=most) if most else None,
        orders=orders_to(planner, target),
        conditions=len(subjects),
        range=case_range(planner, way) if subjects else None,
        question=next_question(record, *settings, limit=planner.limit) if question else None,
    )


def orders_to(planner: Planner, target: str) -> tuple[ComparedOrder, ...]:
    """The documented orders of a part, each beside its computed way."""
    return tuple(
        compared(planner, number, order)
        for number, order in enumerate(planner.record.orders)
        if order.target == target
    )


def case_range(planner: Planner, way: Way) -> TargetRange:
    """The way's cost where every assumed condition is dropped, and where all are kept."""
    record = edited(planner.record, deny=assumed_subjects(planner.record))
    free = Planner(record, planner.objective, planner.readings, planner.bench, limit=planner.limit)
    return TargetRange(way.target, cost_of(free.way(way.target)), cost_of(way))
