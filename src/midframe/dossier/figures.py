"""All figures of one record as flat rows: what a table of many records is made of."""

from __future__ import annotations

from typing import TypeAlias

import msgspec

from midframe.dossier.index import DeviceIndex, device_index
from midframe.dossier.summary import device_line, way_rows
from midframe.dossier.upkeep import device_upkeep
from midframe.faults import BadSetting
from midframe.index.results import decimals
from midframe.record import digest
from midframe.record.model import Record
from midframe.upkeep import UpkeepSettings
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT

Cell: TypeAlias = str | int | float | bool | None
Row: TypeAlias = dict[str, Cell]
"""Column name, unit in it → value; what is not known is None."""


class FigureSettings(msgspec.Struct, frozen=True, kw_only=True):
    """What is computed for each record: `limit` ends a search (states), `draws` and `seed` of the upkeep."""

    limit: int = USUAL_LIMIT
    draws: int = 4_000
    seed: int = 1
    upkeep: bool = True


class Figures(msgspec.Struct, frozen=True, kw_only=True):
    """One record as rows of three tables: itself, its parts with their ways in, its joints."""

    digest: str
    record: Row
    parts: tuple[Row, ...]
    joints: tuple[Row, ...]


def figures(record: Record, settings: FigureSettings | None = None) -> Figures:
    """Every figure of one record.

    Parameters
    ----------
    record
        A sound record.
    settings
        Limits of the searches and of the simulation.

    Returns
    -------
    Figures
        Rows whose column names carry their units.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = figures(load("tern-2"), FigureSettings(draws=1_000))
    >>> found.record["index_class"], found.record["screws"], len(found.parts)
    ('C', 32, 42)
    """
    chosen, key = settings or FigureSettings(), digest(record)
    planner = Planner(record, STEPS_THEN_SECONDS, limit=chosen.limit)
    line = device_line(record)
    row: Row = {"digest": key, **msgspec.structs.asdict(line)}
    row |= index_cells(device_index(record, limit=chosen.limit))
    row |= upkeep_cells(record, chosen) if chosen.upkeep else {}
    return Figures(
        digest=key, record=row, parts=part_rows(record, planner, key), joints=joint_rows(record, key)
    )


def index_cells(found: DeviceIndex) -> Row:
    """R, its class, each score as a range, and how many findings are not met."""
    index = found.index
    cells: Row = {
        "index_state": index.state,
        "index": float(index.value.exact) if index.value else None,
        "index_lowest": float(index.lowest.exact) if index.lowest else None,
        "index_highest": float(index.highest.exact) if index.highest else None,
        "index_class": index.value.repair_class if index.value else None,
        "missing_values": len(index.missing),
        "findings_not_met": sum(one.verdict == "not met" for one in found.findings),
    }
    for score in index.scores:
        cells[f"score_{score.symbol}_lowest"] = float(decimals(score.low, 2)) if score.defined else None
        cells[f"score_{score.symbol}_highest"] = float(decimals(score.high, 2)) if score.defined else None
    return cells


def upkeep_cells(record: Record, settings: FigureSettings) -> Row:
    """Mean time to repair with its interval, median and 95th percentile; None where it cannot be had."""
    names = ("mean", "mean_low", "mean_high", "median", "p95")
    try:
        found = device_upkeep(record, None, UpkeepSettings(draws=settings.draws, seed=settings.seed)).upkeep
    except BadSetting:
        return {f"repair_{name}_seconds": None for name in names}
    return {f"repair_{name}_seconds": getattr(found, f"{name}_seconds") for name in names}


def part_rows(record: Record, planner: Planner, key: str) -> tuple[Row, ...]:
    """A row for every part but the body: what it is, and its way in."""
    ways = {row.part: row for row in way_rows(record, planner)}
    return tuple(
        {
            "digest": key,
            "device": record.device.name,
            "part": part.id,
            "name": part.name,
            "role": part.role,
            "mass_g": part.mass_g,
            "spare": part.spare,
            "price": part.price,
            "currency": record.device.currency if part.price is not None else None,
            "assumed": part.assumed,
            "steps": ways[part.id].steps,
            "seconds": ways[part.id].seconds,
            "low_seconds": ways[part.id].low_seconds,
            "high_seconds": ways[part.id].high_seconds,
            "money": ways[part.id].money,
            "moves": ways[part.id].moves,
            "face": ways[part.id].face,
            "proven": ways[part.id].proven,
            "tools": "; ".join(ways[part.id].tools),
            "no_way": ways[part.id].reason or None,
        }
        for part in record.parts
        if part.id in ways
    )


def joint_rows(record: Record, key: str) -> tuple[Row, ...]:
    """A row for every joint."""
    return tuple(
        {
            "digest": key,
            "device": record.device.name,
            "joint": joint.id,
            "kind": joint.kind,
            "holds": "; ".join(joint.holds),
            "fastener": joint.fastener,
            "tether": joint.tether,
            "face": joint.face,
            "assumed": joint.assumed,
            "count": joint.count,
            "drive": joint.drive or None,
            "thread": joint.thread or None,
            "length_mm": joint.length_mm,
            "torque_nm": joint.torque_nm,
        }
        for joint in record.joints
    )
