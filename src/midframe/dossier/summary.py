"""Everything of one record at a glance: the device, what it is made of, a row for every way in, the index."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.dossier.index import DeviceIndex, device_index
from midframe.index.results import RepairabilityIndex
from midframe.record.model import Face, Record, Role
from midframe.ways.bench import Bench
from midframe.ways.objective import STEPS_THEN_SECONDS, Objective
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.spread import spread
from midframe.ways.way import NoWayFound, Way
from midframe.ways.wording import first_face


class DeviceLine(msgspec.Struct, frozen=True, kw_only=True):
    """The device in one line, and how many parts, joints and screws it has; what is not known is None."""

    name: str
    kind: str
    invented: bool
    mass_g: float | None
    ingress: str | None
    released_year: int | None
    predecessor: str
    parts: int
    joints: int
    screws: int
    screw_kinds: int
    tools: int
    orders: int
    assumed: int


class WayRow(msgspec.Struct, frozen=True, kw_only=True):
    """The way in to one part: steps, median seconds with the range of nine in ten, money, tools, moves.

    Figures are None and `reason` says why where there is no way. `face` is the side the work begins on.
    `default_seconds` of the time are the bench's defaults, not the record's; `assumed` counts the moves whose
    reach is assumed.
    """

    part: str
    name: str
    role: Role
    steps: int | None = None
    seconds: float | None = None
    low_seconds: float | None = None
    high_seconds: float | None = None
    money: float | None = None
    moves: int | None = None
    tools: tuple[str, ...] = ()
    face: Face | None = None
    proven: bool | None = None
    reason: str = ""
    default_seconds: float = 0.0
    assumed: int = 0

    @property
    def mostly_default(self) -> bool:
        """Whether more than half of the time is the bench's default, not the record's."""
        return self.seconds is not None and self.default_seconds * 2 > self.seconds


class Summary(msgspec.Struct, frozen=True, kw_only=True):
    """One record at a glance; `index_line` says R and class in words, `currency` what money is in."""

    device: DeviceLine
    currency: str
    ways: tuple[WayRow, ...]
    index: DeviceIndex
    index_line: str
    not_met: int


def summary(
    record: Record,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
) -> Summary:
    """A record at a glance, with the best way in to every part under the objective.

    >>> from midframe.demo import load
    >>> found = summary(load("tern-2"))
    >>> found.device.screws, found.index_line
    (32, 'R = 2.86 of 5, class C')
    """
    planner = Planner(record, objective, readings, bench)
    index = device_index(record, readings, bench)
    return Summary(
        device=device_line(record),
        currency=record.device.currency,
        ways=way_rows(record, planner),
        index=index,
        index_line=index_line(index.index),
        not_met=sum(finding.verdict == "not met" for finding in index.findings),
    )


def device_line(record: Record) -> DeviceLine:
    """The device and its counts."""
    device, screws = record.device, [joint for joint in record.joints if joint.kind == "screw"]
    return DeviceLine(
        name=device.name,
        kind=f"foldable {device.kind}" if device.foldable else device.kind,
        invented=device.invented,
        mass_g=device.mass_g,
        ingress=device.ingress,
        released_year=device.released_year,
        predecessor=device.predecessor,
        parts=len(record.parts),
        joints=len(record.joints),
        screws=sum(joint.count or 1 for joint in screws),
        screw_kinds=len({(joint.drive, joint.thread, joint.head, joint.length_mm) for joint in screws}),
        tools=len(record.tools),
        orders=len(record.orders),
        assumed=sum(part.assumed for part in record.parts) + sum(joint.assumed for joint in record.joints),
    )


def way_rows(record: Record, planner: Planner, only: Iterable[str] | None = None) -> tuple[WayRow, ...]:
    """A row for every part but the body, or for some parts, in the order of the record."""
    chosen = None if only is None else set(only)
    return tuple(
        way_row(record, part.id, planner.way(part.id))
        for part in record.parts
        if part.id != record.device.body and (chosen is None or part.id in chosen)
    )


def way_row(record: Record, part_id: str, way: Way | NoWayFound) -> WayRow:
    """The row of one part."""
    (part,) = [one for one in record.parts if one.id == part_id]
    if isinstance(way, NoWayFound):
        return WayRow(part=part.id, name=part.name, role=part.role, reason=way.reason)
    times = spread(way.count)
    return WayRow(
        part=part.id,
        name=part.name,
        role=part.role,
        steps=way.steps,
        seconds=way.seconds,
        low_seconds=times.low_seconds,
        high_seconds=times.high_seconds,
        money=way.money,
        moves=len(way.moves),
        tools=(*way.count.tools, *way.count.consumables),
        face=first_face(record, way.count),
        proven=way.proven,
        default_seconds=sum(move.seconds for move in way.count.moves if move.default_times),
        assumed=assumed_moves(record, way),
    )


def assumed_moves(record: Record, way: Way) -> int:
    """How many moves of a way open a joint or lift a part whose reach is assumed."""
    assumed = {part.id for part in record.parts if part.assumed and part.under}
    assumed |= {joint.id for joint in record.joints if joint.assumed and joint.behind}
    return sum(not assumed.isdisjoint((move.open, *move.lift)) for move in way.moves)


def index_line(index: RepairabilityIndex) -> str:
    """R and class in words, as far as they are known."""
    if index.value is not None:
        return f"R = {index.value.shown} of 5, class {index.value.repair_class}"
    if index.lowest is not None and index.highest is not None:
        low, high = index.lowest, index.highest
        classes = f"class {low.repair_class}"
        if high.repair_class != low.repair_class:
            classes = f"class {low.repair_class} to {high.repair_class}"
        return f"R = {low.shown} to {high.shown} of 5, {classes}: {len(index.missing)} values missing"
    names = ", ".join(dict.fromkeys(score for gap in index.undefined for score in gap.scores))
    return f"no score defined for {names}"
