"""One way as plain data, with all that stands beside it."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.cli.plain.ways import cost_data, finding_data, move_data, question_data, way_data
from midframe.dossier.beside import Beside
from midframe.record.model import Move
from midframe.ways.alternatives import Alternatives
from midframe.ways.orders import ComparedOrder
from midframe.ways.power import Powered
from midframe.ways.solve import Planner
from midframe.ways.toolbox import WithToolbox
from midframe.ways.way import NoWayFound, untouched, whys
from midframe.ways.wording import Difference


def detail_data(planner: Planner, found: Beside) -> dict[str, Any]:
    """The way, its moves, and what stands beside it."""
    record, way, powered = planner.record, found.way, found.powered
    still, closed = untouched(record, way)
    needed = whys(record, powered.moves, way.target, planner.rules)
    moves = [
        move_data(number, move, later)
        for number, (move, later) in enumerate(zip(powered.count.moves, needed, strict=True), start=1)
    ]
    return {
        "readings": list(powered.count.readings),
        "way": way_data(record, way.target, way),
        "power": power_data(powered),
        "moves": moves,
        "untouched": {"parts": list(still), "joints": list(closed)},
        "toolbox": toolbox_data(found.toolbox) if found.toolbox is not None else None,
        "alternatives": alternatives_data(found.alternatives) if found.alternatives is not None else None,
        "orders": [order_data(order) for order in found.orders],
        "assumed": {
            "conditions": found.conditions,
            "range": msgspec.to_builtins(found.range),
            "question": question_data(found.question),
        },
    }


def power_data(powered: Powered) -> dict[str, Any]:
    """What the precaution does and costs; the moves beside it are with the precaution."""
    return {
        "choice": powered.passing,
        "text": powered.text,
        "moved": list(powered.moved),
        "added": list(powered.added),
        "proven": powered.proven,
        "cautions": [msgspec.to_builtins(one) for one in powered.cautions],
        **cost_data(powered.count),
    }


def moves_data(moves: tuple[Move, ...]) -> list[dict[str, Any]]:
    """Moves without their costs."""
    return [{"open": one.open, "by": one.by} if one.open else {"lift": list(one.lift)} for one in moves]


def toolbox_data(found: WithToolbox) -> dict[str, Any]:
    """What is missing, and the way without it."""
    owned: dict[str, Any]
    if isinstance(found.owned, NoWayFound):
        owned = {"found": False, "reason": found.owned.reason}
    else:
        owned = {
            "found": True,
            **cost_data(found.owned.count),
            "moves_in_order": moves_data(found.owned.moves),
        }
    return {
        "text": found.missing.text,
        "missing": [msgspec.to_builtins(thing) for thing in found.missing.things],
        "without": owned,
        "difference": difference_data(found.difference),
    }


def alternatives_data(found: Alternatives) -> dict[str, Any]:
    """Other ways, best first."""
    others = [
        {
            "difference": difference_data(other.difference),
            **cost_data(other.way.count),
            "moves_in_order": moves_data(other.way.moves),
        }
        for other in found.others
    ]
    return {"complete": found.complete, "others": others}


def difference_data(difference: Difference | None) -> Any:
    """What one way does otherwise."""
    return msgspec.to_builtins(difference)


def order_data(order: ComparedOrder) -> dict[str, Any]:
    """A documented order beside the way."""
    return {
        "order": order.order,
        "title": order.title,
        "source": order.source,
        "legal": order.legal,
        "illegal_move": order.illegal_move,
        "gets_out": order.gets_out,
        "unneeded": list(order.unneeded),
        "cost": cost_data(order.count) if order.count is not None else None,
        "difference": difference_data(order.difference),
        "findings": [finding_data(finding) for finding in order.findings],
    }
