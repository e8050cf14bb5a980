"""A device at a glance: its index and the ways in to battery and display."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from midframe.dossier.index import IndexRange, device_index
from midframe.dossier.summary import WayRow, index_line, way_row
from midframe.index.results import RepairabilityIndex
from midframe.record.model import Record
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.solve import Planner

KEY_ROLES = ("battery", "display")
"""The parts that are exchanged most [open-repair-data, phone_shop_prior.csv]."""


class Glance(msgspec.Struct, frozen=True, kw_only=True):
    """What the head of a device's page says.

    `index_line` is R and class in words, `range` what assumed conditions leave open, `not_met` counts duties
    that are not met; `ways` are the ways in to batteries and displays.
    """

    index: RepairabilityIndex
    index_line: str
    range: IndexRange | None
    not_met: int
    ways: tuple[WayRow, ...]


def glance(record: Record, tell: Callable[[int, int, str], None] | None = None) -> Glance:
    """A record at a glance; `tell` is called after each part of it.

    >>> from midframe.demo import load
    >>> [row.steps for row in glance(load("tern-2")).ways]
    [6, 8]
    """
    told = tell or (lambda _number, _of, _label: None)
    planner = Planner(record, STEPS_THEN_SECONDS)
    wanted = [
        part
        for part in record.parts
        if part.id != record.device.body and not {part.role, *part.also}.isdisjoint(KEY_ROLES)
    ]
    rows = []
    for number, part in enumerate(wanted, start=1):
        rows.append(way_row(record, part.id, planner.way(part.id)))
        told(number, len(wanted) + 1, part.name)
    found = device_index(record)
    return Glance(
        index=found.index,
        index_line=index_line(found.index),
        range=found.range,
        not_met=sum(finding.verdict == "not met" for finding in found.findings),
        ways=tuple(rows),
    )
