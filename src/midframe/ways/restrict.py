"""The same planner with less to choose from: with some tools only, or without some moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from midframe.record.model import Move
from midframe.ways.facts import Bits
from midframe.ways.solve import Planner


class Restricted(Planner):
    """A planner of the same record, objective, readings, bench and limit without the moves `barred`."""

    def __init__(self, planner: Planner, barred: frozenset[Move], bits: Bits | None = None) -> None:
        self.barred = barred
        fewer: dict[str, Any] = {"bits": bits, "limit": planner.limit, "without": barred}
        super().__init__(planner.record, planner.objective, planner.readings, planner.bench, **fewer)


def restricted(
    planner: Planner,
    *,
    allowed: Callable[[tuple[str, ...]], bool] | None = None,
    without: frozenset[Move] = frozenset(),
    bits: Bits | None = None,
) -> Planner:
    """The planner with fewer moves; what it left out already stays left out.

    `allowed` says of the tools of an operation or lift whether they are at
    hand; moves in `without` are left out; `bits` are shared between planners.
    """
    barred = without | (frozenset(beyond(planner, allowed)) if allowed is not None else frozenset())
    if isinstance(planner, Restricted):
        barred |= planner.barred
    return Restricted(planner, barred, bits)


def beyond(planner: Planner, allowed: Callable[[tuple[str, ...]], bool]) -> Iterator[Move]:
    """Openings and lifts that take a tool which is not at hand."""
    for joint in planner.record.joints:
        for by, work in enumerate(planner.bench.operations(joint), start=1):
            if not all(allowed(step.tools) for step in work):
                yield Move(open=joint.id, by=by)
    for part in planner.record.parts:
        if not allowed(planner.bench.lift_operation(part).tools):
            yield Move(lift=(part.id,))
