"""Ecodesign: the four things that a part's way out must not ask for too much of.

Fasteners, tools, environment and skill, each looked at on the whole way from
the closed device. Environment and skill are ruled out by heat and solvents,
which is a reading, and never ruled in: the act refers to a standard whose text
is not used here.

References
----------
[eco-2023-1670, Annex II B and D point 1.1(5); Annex I (6)-(10), (50), (52)-(56)]
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from midframe.index.evidence import FastenerLevel, PartEvidence, Plain, Reading, Role, ToolGroup
from midframe.index.findings import named, opening_gaps, way_gaps
from midframe.index.results import OPEN, LegalFinding, Verdict

KEY = "eco-2023-1670"

ANY_REMOVABLE: frozenset[FastenerLevel] = frozenset({"removable", "resupplied", "reusable"})
LASTING: frozenset[FastenerLevel] = frozenset({"resupplied", "reusable"})
NEAR_TOOLS: frozenset[ToolGroup] = frozenset({"none", "basic", "spare_set", "product_set"})
ALL_TOOLS: frozenset[ToolGroup] = NEAR_TOOLS | {"commercial"}

READING = Reading(
    id="ecodesign-environment",
    text="Heat or a solvent on the way calls for a workshop and a generalist. That a place or a level of"
    " skill is enough is never read off a record.",
)
WAY = Reading(
    id="ecodesign-way",
    text="Each part is judged on its governing sequence: a documented order, else the computed way of fewest"
    " steps. Where it is computed, another way may ask for less.",
)


class Demand(Plain, frozen=True):
    """What one point of the act allows on the way to a part."""

    point: str
    fasteners: frozenset[FastenerLevel]
    tools: frozenset[ToolGroup]
    environment: Literal["use", "workshop"]
    skill: Literal["layman", "generalist"]


PROFESSIONAL = Demand(
    point="1.1(5)(a)", fasteners=ANY_REMOVABLE, tools=ALL_TOOLS, environment="workshop", skill="generalist"
)
END_USER = Demand(
    point="1.1(5)(b)", fasteners=ANY_REMOVABLE, tools=NEAR_TOOLS, environment="use", skill="layman"
)
BATTERY = Demand(point="1.1(5)(c)(i)", fasteners=LASTING, tools=NEAR_TOOLS, environment="use", skill="layman")
BATTERY_ALTERNATIVE = Demand(
    point="1.1(5)(c)(ii)",
    fasteners=ANY_REMOVABLE,
    tools=ALL_TOOLS,
    environment="workshop",
    skill="generalist",
)

DEMANDS: Mapping[Role, Demand] = {
    "display": PROFESSIONAL,
    "front_camera": PROFESSIONAL,
    "rear_camera": PROFESSIONAL,
    "audio_connector": PROFESSIONAL,
    "charging_port": PROFESSIONAL,
    "button": PROFESSIONAL,
    "microphone": PROFESSIONAL,
    "speaker": PROFESSIONAL,
    "hinge": PROFESSIONAL,
    "back_cover": END_USER,
    "protective_foil": END_USER,
    "sim_tray": END_USER,
    "card_tray": END_USER,
    "battery": BATTERY,
}
"""Which point rules each part [eco-2023-1670, Annex II B and D point 1.1(5)]."""


def worst(verdicts: tuple[Verdict, ...]) -> Verdict:
    """All must be met: one "not met" decides, else one open verdict keeps it open.

    >>> worst(("met", "not decidable from the record", "met"))
    'not decidable from the record'
    """
    if "not met" in verdicts:
        return "not met"
    return OPEN if OPEN in verdicts else "met"


def disassembly_findings(part: PartEvidence, demand: Demand, annex: str) -> tuple[LegalFinding, ...]:
    """Four findings for one part under one point: fasteners, tools, environment, skill.

    Parameters
    ----------
    part
        Its whole way is looked at, not only the last segment.
    demand
        The point of the act that rules the part.
    annex
        "Annex II B" for smartphones, "Annex II D" for slate tablets.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(5)]
    """
    clause = f"{annex} point {demand.point}"
    return (
        _fasteners(part, demand, clause),
        _tools(part, demand, clause),
        _surroundings(part, demand, clause, f"environment: {demand.environment}"),
        _surroundings(part, demand, clause, f"skill: {demand.skill}"),
    )


def part_finding(
    part: PartEvidence, clause: str, duty: str, verdict: Verdict, *, why: str, missing: tuple[str, ...] = ()
) -> LegalFinding:
    """A finding of this regulation on one part."""
    return LegalFinding(
        regulation=KEY,
        clause=clause,
        duty=duty,
        verdict=verdict,
        why=why,
        part=part.part,
        name=part.name,
        role=part.role,
        missing=missing,
    )


def _fasteners(part: PartEvidence, demand: Demand, clause: str) -> LegalFinding:
    allowed = [level for level in ("removable", "resupplied", "reusable") if level in demand.fasteners]
    duty = f"fasteners: {' or '.join(allowed)}"
    joints = part.way_fasteners or ()
    bad = [
        f"{joint.name} ({joint.level})"
        for joint in joints
        if joint.level and joint.level not in demand.fasteners
    ]
    if bad:
        return part_finding(part, clause, duty, "not met", why=named(bad))
    gaps = (*way_gaps(part), *(f"fastener level of {joint.name}" for joint in joints if joint.level is None))
    if gaps:
        return part_finding(part, clause, duty, OPEN, why="a fastener or the way is not known", missing=gaps)
    if part.damages:
        gap = (f"whether the loss of {named(part.damages)} damages the product",)
        return part_finding(part, clause, duty, OPEN, why=f"the way ruins {named(part.damages)}", missing=gap)
    return part_finding(
        part, clause, duty, "met", why=named(joint.name for joint in joints) or "no fastener on the way"
    )


def _tools(part: PartEvidence, demand: Demand, clause: str) -> LegalFinding:
    extra = " or commercially available" if "commercial" in demand.tools else ""
    duty = f"tools: none, supplied or basic{extra}"
    tools = part.way_tools or ()
    bad = [f"{tool.name} ({tool.group})" for tool in tools if tool.group and tool.group not in demand.tools]
    if bad:
        return part_finding(part, clause, duty, "not met", why=named(bad))
    unknown = (f"group of the tool {tool.name}" for tool in tools if tool.group is None)
    gaps = (*way_gaps(part), *opening_gaps(part), *unknown)
    if gaps:
        return part_finding(part, clause, duty, OPEN, why="a tool or the way is not known", missing=gaps)
    return part_finding(part, clause, duty, "met", why=named(tool.name for tool in tools) or "bare hand")


def _surroundings(part: PartEvidence, demand: Demand, clause: str, duty: str) -> LegalFinding:
    verdict, why, gaps = _surroundings_verdict(part, demand)
    found = part_finding(part, clause, duty, verdict, why=why, missing=gaps)
    return msgspec.structs.replace(found, reading=READING.text)


def _surroundings_verdict(part: PartEvidence, demand: Demand) -> tuple[Verdict, str, tuple[str, ...]]:
    hot = named(word for word, used in (("heat", part.uses_heat), ("a solvent", part.uses_solvent)) if used)
    if hot and demand.environment == "use":
        return "not met", f"the way uses {hot}", ()
    tools = part.way_tools or ()
    odd = [tool.name for tool in tools if tool.group is None or tool.group not in demand.tools]
    gaps = (*way_gaps(part), *(f"what {name} asks of place and hands" for name in odd))
    if gaps:
        return OPEN, "a tool or the way is not known well enough", gaps
    trial = (f"a trial in the {demand.environment} environment by a {demand.skill}",)
    if hot:
        return OPEN, f"the way uses {hot}, as a workshop may", trial
    return OPEN, "nothing on the way speaks against it: no heat, no solvent, only tools allowed here", trial
