"""The whole sheet of one way: the toolbox first, then the way, then what else could be done."""

from __future__ import annotations

from typing import Any

from midframe.cli.sheets.beside import (
    alternatives_part,
    assumed_part,
    orders_part,
    power_part,
    toolbox_part,
)
from midframe.cli.sheets.way import heading, moves_part, needs_part, readings_part
from midframe.dossier.beside import Beside
from midframe.ways.solve import Planner
from midframe.ways.way import whys


def detail_sheet(planner: Planner, found: Beside, options: dict[str, Any]) -> list[str]:
    """One way with all that was gathered beside it."""
    record, way, powered = planner.record, found.way, found.powered
    currency = record.device.currency
    part = next(part for part in record.parts if part.id == way.target)
    lines: list[str] = []
    if found.toolbox is not None:
        lines += toolbox_part(found.toolbox, options["toolbox"], currency)
    lines += heading(record, part, way, powered, options["by"])
    lines += power_part(powered, options["power"])
    lines += moves_part(record, powered.count, whys(record, powered.moves, way.target, planner.rules))
    lines += needs_part(record, way, powered.count, [one.move for one in powered.cautions])
    if found.alternatives is not None:
        lines += alternatives_part(found.alternatives, currency)
    lines += orders_part(found.orders, currency)
    lines += assumed_part(found.range, found.conditions, found.question)
    return lines + readings_part(powered.count.readings)
