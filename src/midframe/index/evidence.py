"""What the regulations are told about a device: plain values, no record and no way.

Whoever holds a record and the ways in fills these structs; the modules of this
package read nothing else. A value that is not known stays None and is never guessed.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting

Role: TypeAlias = Literal[
    "battery",
    "display",
    "back_cover",
    "front_camera",
    "rear_camera",
    "charging_port",
    "button",
    "microphone",
    "speaker",
    "hinge",
    "sim_tray",
    "card_tray",
    "audio_connector",
    "protective_foil",
]
FastenerLevel: TypeAlias = Literal["reusable", "resupplied", "removable", "none"]
ToolGroup: TypeAlias = Literal["none", "basic", "spare_set", "product_set", "commercial", "proprietary"]
SpareOffer: TypeAlias = Literal["end_user", "professional", "none"]
RemoteDuty: TypeAlias = Literal["notification", "authorisation"]
RepairInformation: TypeAlias = Literal["public", "free_professional", "paid_professional", "none"]
DeviceKind: TypeAlias = Literal["phone", "tablet"]

PRIORITY_ROLES: tuple[Role, ...] = (
    "battery",
    "display",
    "back_cover",
    "front_camera",
    "rear_camera",
    "charging_port",
    "button",
    "microphone",
    "speaker",
    "hinge",
)
"""Priority parts, in the order of the formulas [lbl-2023-1669, Annex IV point 5]."""


class Plain(msgspec.Struct, frozen=True, kw_only=True):
    """Base of every struct of this package: frozen, filled by keyword."""


class Reading(Plain, frozen=True):
    """A documented choice where an act is silent: its id and what was chosen."""

    id: str
    text: str


class Fastener(Plain, frozen=True):
    """A fastener met on a way: the joint's id and name, and its level (None: not known).

    `own` says whether it holds the part itself, so that it comes with that part's spare where it is
    resupplied; `assumed` whether the record does not say how it is opened, so that its tool is a usual one.
    """

    joint: str
    name: str
    level: FastenerLevel | None
    own: bool = True
    assumed: bool = False


class ToolUse(Plain, frozen=True):
    """A tool used on a way and its group (None: not known). The bare hand is no tool.

    `proprietary` stays true for a proprietary tool that is supplied: its group is
    then that of the supply, but the battery duty still asks.
    """

    name: str
    group: ToolGroup | None
    proprietary: bool = False


class PartEvidence(Plain, frozen=True):
    """One part in one role: how it comes out and how its spare is offered.

    A part with several roles gives one evidence per role, all with the same `part`.

    Parameters
    ----------
    steps
        Physical steps from the closed device (simultaneous tools, heating and
        cleaning included, remote actions not); None where no way is known.
    remote
        Serial-number actions needed for full function of the spare part.
    step_lines
        The counted steps as text, for the trace.
    segment_start
        Which priority part had left before the incremental segment began.
    fasteners, tools
        Met in the incremental segment only: this is what SF and ST look at.
    way_fasteners, way_tools
        Met on the whole way from the closed device: what the ecodesign and
        battery duties look at. None where the whole way is not known.
    way_parts
        Ids of the parts taken out on the way before this one; None if not known.
    bundle
        Ids of the parts that the spare part is sold together with.
    uses_heat, uses_solvent, damages
        Facts of the whole way; `damages` names the parts it ruins.
    """

    part: str
    name: str
    role: Role
    steps: int | None
    remote: tuple[RemoteDuty, ...] = ()
    step_lines: tuple[str, ...] = ()
    segment_start: str = ""
    fasteners: tuple[Fastener, ...] = ()
    tools: tuple[ToolUse, ...] = ()
    way_fasteners: tuple[Fastener, ...] | None = None
    way_tools: tuple[ToolUse, ...] | None = None
    way_parts: tuple[str, ...] | None = None
    bundle: tuple[str, ...] = ()
    spare: SpareOffer | None = None
    uses_heat: bool = False
    uses_solvent: bool = False
    damages: tuple[str, ...] = ()
    unreachable_reason: str = ""


class DeviceEvidence(Plain, frozen=True):
    """The device as the regulations see it.

    A priority role that has no evidence and is not in `absent` counts as of
    unknown presence, like the roles in `unknown_roles`. `has_hinge` speaks for
    the hinge: False means absent, None not known. Years count from the end of
    placing the model on the market; percentages are of rated capacity.
    """

    name: str
    kind: DeviceKind
    parts: tuple[PartEvidence, ...]
    foldable: bool = False
    has_hinge: bool | None = False
    absent: tuple[Role, ...] = ()
    unknown_roles: tuple[Role, ...] = ()
    updates_years: float | None = None
    repair_information: RepairInformation | None = None
    ingress: str | None = None
    remaining_after_500_percent: float | None = None
    remaining_after_1000_percent: float | None = None
    full_cycles: int | None = None
    readings: tuple[Reading, ...] = ()


def of_role(device: DeviceEvidence, role: Role) -> tuple[PartEvidence, ...]:
    """Every part of the device in one role, in the order given."""
    return tuple(part for part in device.parts if part.role == role)


def check_evidence(device: DeviceEvidence) -> None:
    """Refuse evidence that contradicts itself; a missing value is no contradiction.

    Raises
    ------
    BadSetting
        Naming the part or role, what was found and what would be right.
    """
    for role in PRIORITY_ROLES:
        _check_role(device, role)
    for part in device.parts:
        _check_part(part)


def _check_role(device: DeviceEvidence, role: Role) -> None:
    found = [part.part for part in of_role(device, role)]
    if found and (role in device.absent or role in device.unknown_roles):
        state = "absent" if role in device.absent else "of unknown presence"
        raise BadSetting(
            f"{role}: said to be {state}, but part {found[0]!r} has that role; keep one of the two"
        )
    if role != "hinge":
        return
    if found and not device.has_hinge:
        raise BadSetting(
            f"hinge: part {found[0]!r} has that role, so has_hinge must be true, not {device.has_hinge}"
        )
    if device.has_hinge and "hinge" in device.absent:
        raise BadSetting("hinge: has_hinge is true, but the hinge is listed as absent; keep one of the two")


def _check_part(part: PartEvidence) -> None:
    if part.steps is not None and part.steps < 0:
        raise BadSetting(f"part {part.part!r}: {part.steps} steps; a count of steps is 0 or more")
    if part.way_fasteners is not None:
        whole = {fastener.joint for fastener in part.way_fasteners}
        stray = [fastener.joint for fastener in part.fasteners if fastener.joint not in whole]
        if stray:
            raise BadSetting(
                f"part {part.part!r}: joint {stray[0]!r} is in the segment but not in way_fasteners;"
                " the segment is part of the way"
            )
    if part.way_tools is not None:
        names = {tool.name for tool in part.way_tools}
        missing = [tool.name for tool in part.tools if tool.name not in names]
        if missing:
            raise BadSetting(
                f"part {part.part!r}: tool {missing[0]!r} is in the segment but not in way_tools;"
                " the segment is part of the way"
            )
