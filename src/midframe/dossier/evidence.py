"""What the regulations are told about a record: one evidence per part and role, and the sequences behind it.

References
----------
[lbl-2023-1669, Annex IV point 5; Annex VI point 1(c)].
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import get_args

import msgspec

from midframe.dossier.harmless import harmless_way
from midframe.dossier.sequence import Governing, OthersOf, Walk, WayOf, best_walk
from midframe.index.basic_tools import tool_use, uses_heat, uses_solvent
from midframe.index.evidence import DeviceEvidence, Fastener, PartEvidence, Reading, Role, ToolUse
from midframe.index.rows import fastener_points, tool_points
from midframe.record.model import Part, Record
from midframe.ways.bench import Bench, is_heating
from midframe.ways.count import CountedMove, Counter
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.wording import joint_words

ROLES: tuple[Role, ...] = get_args(Role)
"""Roles that one of the regulations asks for."""

READINGS = (
    Reading(
        id="Q14", text="A documented order governs; where there is none, the computed way of fewest steps."
    ),
    Reading(
        id="dossier-equal-ways",
        text="Of computed ways of as few steps the one better for fasteners and tools counts.",
    ),
    Reading(
        id="dossier-harmless",
        text="A way that ruins another part counts only where no way spares it; a note then says so.",
    ),
    Reading(
        id="dossier-segment",
        text="The segment begins after the last priority part put aside before the part itself leaves its"
        " seat; what it leaves with in one bundle is no previous part, what is split off before it is one."
        " Where it hangs on while another priority part leaves, the work on that one is not counted again.",
    ),
    Reading(
        id="dossier-own-joints",
        text="A joint of the part itself counts for fasteners and tools wherever it is opened.",
    ),
    Reading(
        id="dossier-consumables",
        text="A consumable used with a tool adds no step of its own; for the score of tools it is a tool.",
    ),
    Reading(id="dossier-ruins", text="A part ruined by its own removal is no damage: it is being exchanged."),
)
"""Readings of this module, not law [lbl-2023-1669, Annex IV point 5]."""


class RecordEvidence(msgspec.Struct, frozen=True, kw_only=True):
    """The evidence of a record, and the governing sequence of every part in it."""

    device: DeviceEvidence
    sequences: tuple[Governing, ...]


def record_evidence(
    record: Record, readings: Readings | None = None, bench: Bench | None = None
) -> RecordEvidence:
    """The evidence of a record; ways are computed for parts without a usable documented order.

    >>> from midframe.demo import load
    >>> found = record_evidence(load("tern-2"))
    >>> [one.basis for one in found.sequences if one.part in ("battery", "back-cover")]
    ['computed', 'documented']
    """
    planner = Planner(record, STEPS_THEN_SECONDS, readings, bench)
    return evidence_of(planner.counter, partial(harmless_way, planner))


def evidence_of(counter: Counter, way_of: WayOf, others: OthersOf | None = None) -> RecordEvidence:
    """The evidence of the counter's record, with ways from `way_of` and, if given, from `others`."""
    found = [
        (part, *part_evidence(counter, part, way_of, others))
        for part in counter.record.parts
        if roles_of(part)
    ]
    evidence = tuple(
        msgspec.structs.replace(seen, role=role) for part, _, seen in found for role in roles_of(part)
    )
    return RecordEvidence(
        device=device_evidence(counter.record, counter.readings, evidence),
        sequences=tuple(governing for _, governing, _ in found),
    )


def roles_of(part: Part) -> tuple[Role, ...]:
    """The roles of a part that a regulation asks for, its own first."""
    return tuple(role for role in dict.fromkeys((part.role, *part.also)) if role in ROLES)


def device_evidence(record: Record, readings: Readings, parts: tuple[PartEvidence, ...]) -> DeviceEvidence:
    """The device as the regulations see it; a device that does not fold and names no hinge has none."""
    device = record.device
    hinged = any(part.role == "hinge" for part in parts)
    silent = None if device.foldable and "hinge" not in device.absent else False
    return DeviceEvidence(
        name=device.name,
        kind=device.kind,
        parts=parts,
        foldable=device.foldable,
        has_hinge=hinged or silent,
        absent=tuple(role for role in device.absent if role in ROLES),
        updates_years=device.updates_years,
        repair_information=device.repair_information,
        ingress=device.ingress,
        remaining_after_500_percent=device.remaining_after_500_percent,
        remaining_after_1000_percent=device.remaining_after_1000_percent,
        full_cycles=device.full_cycles,
        readings=(*counting_readings(readings), *READINGS),
    )


def counting_readings(readings: Readings) -> tuple[Reading, ...]:
    """The readings of the step count in force.

    >>> counting_readings(Readings())[1]
    Reading(id='Q3', text='a swap just after a removal is free')
    """
    return tuple(
        Reading(id=key, text=text) for key, text in (line.split(" ", 1) for line in readings.described())
    )


def part_evidence(
    counter: Counter, part: Part, way_of: WayOf, others: OthersOf | None = None
) -> tuple[Governing, PartEvidence]:
    """The governing sequence of one part, and the evidence of its first role from it."""
    if part.id == counter.record.device.body:
        reason = "it is the body: the others come out of it"
        return _without_way(
            part, Governing(part=part.id, name=part.name, basis="none", why="", reason=reason)
        )

    def worth(walk: Walk) -> tuple[int, ...]:
        seen = evidence_of_walk(counter, part, walk)
        points = (fastener_points(seen), tool_points(seen))
        return (
            not seen.damages,
            all(one.defined for one in points),
            sum(one.low for one in points),
            sum(one.high for one in points),
        )

    governing, walk = best_walk(counter, part.id, way_of, worth, others)
    if walk is None:
        return _without_way(part, governing)
    seen = evidence_of_walk(counter, part, walk)
    return governing, msgspec.structs.replace(
        seen, step_lines=tuple(line.text for line in governing.step_lines)
    )


def _without_way(part: Part, governing: Governing) -> tuple[Governing, PartEvidence]:
    return governing, PartEvidence(
        part=part.id,
        name=part.name,
        role=roles_of(part)[0],
        steps=None,
        remote=part.remote,
        bundle=part.bundle,
        spare=part.spare,
        unreachable_reason=governing.reason,
    )


def evidence_of_walk(counter: Counter, part: Part, walk: Walk) -> PartEvidence:
    """The evidence that one counted sequence to a part gives, without its step lines."""
    record, moves = counter.record, walk.count.moves
    names = {one.id: one.name for one in record.parts}
    segment = [moves[number - 1] for number in walk.segment]
    own = counter.rules.bundle(part.id)
    work = [operation for move in moves for operation in move.operations]
    before = dict.fromkeys(other for move in moves for other in move.aside if other not in own)
    tools = [name for operation in work for name in operation.tools]
    return PartEvidence(
        part=part.id,
        name=part.name,
        role=roles_of(part)[0],
        steps=len(walk.count.steps),
        remote=part.remote,
        segment_start=names.get(walk.previous, ""),
        fasteners=fasteners_met(counter, segment, own),
        tools=tools_used(record, segment),
        way_fasteners=fasteners_met(counter, moves, own),
        way_tools=tools_used(record, moves),
        way_parts=tuple(before),
        bundle=part.bundle,
        spare=part.spare,
        uses_heat=uses_heat(tools) or any(map(is_heating, work)),
        uses_solvent=uses_solvent(tools),
        damages=tuple(names[one] for one in walk.count.ruined if one not in own),
    )


def fasteners_met(
    counter: Counter, moves: Iterable[CountedMove], own: frozenset[str]
) -> tuple[Fastener, ...]:
    """The joints opened in some moves, as fasteners with their level; `own` are the part and its bundle.

    References
    ----------
    [lbl-2023-1669, Annex I (16)]: a joint is what the act calls a fastener.
    """
    joints = [counter.rules.joints[move.move.open] for move in moves if move.move.open]
    return tuple(
        Fastener(
            joint=one.id,
            name=joint_words(one),
            level=one.fastener,
            own=not own.isdisjoint(one.holds),
            assumed=not one.work and not (one.kind == "screw" and one.drive),
        )
        for one in joints
    )


def tools_used(record: Record, moves: Iterable[CountedMove]) -> tuple[ToolUse, ...]:
    """The tools of some moves with their groups; what the record says of a tool goes before the table."""
    own = {tool.name: tool for tool in record.tools}
    names = dict.fromkeys(name for move in moves for operation in move.operations for name in operation.tools)
    return tuple(
        tool_use(name, group=own[name].group, supplied=own[name].supplied) if name in own else tool_use(name)
        for name in names
    )
