"""One row for each part in each priority role: steps, points, and what decides them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from midframe.index.evidence import (
    PRIORITY_ROLES,
    DeviceEvidence,
    Fastener,
    PartEvidence,
    Role,
    ToolUse,
    of_role,
)
from midframe.index.lbl_2023_1669 import KEY, METHOD, Symbol, remote_steps
from midframe.index.results import PartRow, Points
from midframe.index.sheet import (
    Entry,
    Gathered,
    depth_entry,
    fastener_entry,
    presence,
    tool_entry,
)

CLAUSES: Mapping[str, str] = {
    "steps": f"{KEY}, {METHOD}, Disassembly depth; Annex I (20)",
    "remote_extra": f"{KEY}, {METHOD}, remote notification and authorisation",
    "depth": f"{KEY}, {METHOD}, Disassembly depth",
    "fastener": f"{KEY}, {METHOD}, Fasteners; Annex I (16)-(19)",
    "tool": f"{KEY}, {METHOD}, Tools; Annex I (42)-(44)",
    "weight_depth": f"{KEY}, {METHOD}, formulas of SDD",
    "weight_other": f"{KEY}, {METHOD}, formulas of SF and ST",
}


def part_rows(device: DeviceEvidence, gathered: Gathered) -> tuple[PartRow, ...]:
    """Rows in the order of the formulas; absent parts have one too, with the highest points (C12)."""
    rows: list[PartRow] = []
    for role in PRIORITY_ROLES:
        weights = (
            gathered.sheets[0].depth_weights.get(role, 0),
            gathered.sheets[0].other_weights.get(role, 0),
        )
        found = [_row(part, weights) for part in of_role(device, role)]
        if found:
            rows += _mark_counting(found)
        elif any(weights):
            rows.append(_empty_row(role, weights, absent=presence(device, role) is False))
    return tuple(rows)


def _row(part: PartEvidence, weights: tuple[int, int]) -> PartRow:
    extra = remote_steps(part.remote)
    return PartRow(
        role=part.role,
        part=part.part,
        name=part.name,
        state="present",
        steps=part.steps,
        remote_extra=extra,
        n=None if part.steps is None else part.steps + extra,
        depth=_points([depth_entry(part)[0]]),
        fastener=fastener_points(part),
        tool=tool_points(part),
        weight_depth=weights[0],
        weight_other=weights[1],
        deciding_fastener=_deciding_fastener(part),
        deciding_tool=_deciding_tool(part),
        segment_start=part.segment_start,
        step_lines=part.step_lines,
        clauses=dict(CLAUSES),
        cautions=_cautions(part),
    )


def _cautions(part: PartEvidence) -> tuple[str, ...]:
    if not part.damages:
        return ()
    ruined = ", ".join(part.damages)
    return (
        f"the way ruins {ruined}; the act counts removal without damage to the product [{KEY}, {METHOD}]",
    )


def _points(entries: Iterable[Entry], *, defined: bool = True) -> Points:
    entries = tuple(entries)
    return Points(
        low=min(entry.low for entry in entries), high=min(entry.high for entry in entries), defined=defined
    )


def fastener_points(part: PartEvidence) -> Points:
    """Worst fastener of the segment; 5 where there is none.

    >>> screw = Fastener(joint="s", name="screws", level="reusable")
    >>> tape = Fastener(joint="t", name="tape", level="removable")
    >>> part = PartEvidence(part="b", name="B", role="button", steps=3, fasteners=(screw, tape))
    >>> str(fastener_points(part))
    '1'

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Fasteners]
    """
    entries = [fastener_entry(fastener, part)[0] for fastener in part.fasteners]
    entries += [Entry(1, 5)] if part.steps is None else []
    defined = all(fastener.level != "none" for fastener in part.fasteners)
    return _points(entries or [Entry(5, 5)], defined=defined)


def tool_points(part: PartEvidence) -> Points:
    """Worst tool group of the segment; 5 where the bare hand will do.

    >>> tools = (ToolUse(name="spudger", group="basic"), ToolUse(name="suction cup", group="commercial"))
    >>> str(tool_points(PartEvidence(part="b", name="B", role="button", steps=3, tools=tools)))
    '1'

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Tools]
    """
    entries = [tool_entry(tool, part)[0] for tool in part.tools if tool.group != "none"]
    entries += [Entry(1, 5)] if part.steps is None else []
    defined = all(tool.group != "proprietary" for tool in part.tools)
    return _points(entries or [Entry(5, 5)], defined=defined)


def _deciding_fastener(part: PartEvidence) -> Fastener | None:
    """The first of the worst fasteners: below the ladder, then fewest points, known before unknown."""

    def rank(fastener: Fastener) -> tuple[bool, int, int]:
        entry = fastener_entry(fastener, part)[0]
        return fastener.level != "none", entry.low, entry.high

    return min(part.fasteners, key=rank, default=None)


def _deciding_tool(part: PartEvidence) -> ToolUse | None:
    def rank(tool: ToolUse) -> tuple[bool, int, int]:
        entry = tool_entry(tool, part)[0]
        return tool.group != "proprietary", entry.low, entry.high

    return min((tool for tool in part.tools if tool.group != "none"), key=rank, default=None)


def _mark_counting(rows: list[PartRow]) -> list[PartRow]:
    """Say for each score which instance sets it: the lowest, the first among equals (C11)."""
    counts: dict[int, list[Symbol]] = {}
    columns: tuple[tuple[Symbol, list[Points]], ...] = (
        ("SDD", [row.depth for row in rows]),
        ("SF", [row.fastener for row in rows]),
        ("ST", [row.tool for row in rows]),
    )
    for symbol, points in columns:
        worst = min(range(len(rows)), key=lambda at: (points[at].defined, points[at].low, points[at].high))
        counts.setdefault(worst, []).append(symbol)
    return [_counting(row, tuple(counts.get(at, ()))) for at, row in enumerate(rows)]


def _counting(row: PartRow, symbols: tuple[Symbol, ...]) -> PartRow:
    return msgspec.structs.replace(row, counts_for=symbols)


def _empty_row(role: Role, weights: tuple[int, int], *, absent: bool) -> PartRow:
    points = Points(low=5 if absent else 1, high=5)
    clauses = dict(CLAUSES) | dict.fromkeys(
        ("depth", "fastener", "tool"), f"{KEY}, {METHOD}, absent priority part"
    )
    return PartRow(
        role=role,
        part="",
        name=role.replace("_", " "),
        state="absent" if absent else "unknown",
        steps=None,
        remote_extra=0,
        n=None,
        depth=points,
        fastener=points,
        tool=points,
        weight_depth=weights[0],
        weight_other=weights[1],
        counts_for=("SDD", "SF", "ST"),
        clauses=clauses if absent else dict(CLAUSES),
    )
