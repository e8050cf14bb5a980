"""The bench: default times, wages and habits, all editable; none of them is a property of any device."""

from __future__ import annotations

import msgspec

from midframe.record.model import Face, Joint, Operation, Part

CONSUMABLES = frozenset(
    {
        "isopropanol",
        "lint-free wipe",
        "adhesive remover",
        "adhesive tape",
        "desoldering braid",
        "flux",
        "solder",
    }
)
"""Consumables known by name (common practice, no source); a record may name more under `tools`."""

HEATING_WORDS = ("heat", "warm", "reheat")
CLEANING_WORDS = ("clean", "remove residue")


class Bench(msgspec.Struct, frozen=True, kw_only=True):
    """Times in seconds, wage per hour in the record's currency (common practice, no source; edit to taste).

    A record's own seconds always win; these stand in where it gives none.
    """

    change_seconds: float = 4.0
    flip_seconds: float = 3.0
    lift_seconds: float = 3.0
    screw_seconds: float = 6.0
    connector_seconds: float = 5.0
    clip_seconds: float = 20.0
    adhesive_seconds: float = 90.0
    solder_seconds: float = 120.0
    other_seconds: float = 10.0
    labour_per_hour: float = 45.0
    start_face: Face = "front"

    def operations(self, joint: Joint) -> tuple[tuple[Operation, ...], ...]:
        """The ways of opening a joint, with the default for its kind where the record gives none."""
        if not joint.work:
            return ((self.default_operation(joint),),)
        fallback = self.default_operation(joint).seconds
        return tuple(
            tuple(step if step.seconds is not None else replaced(step, fallback) for step in alternative)
            for alternative in joint.work
        )

    def default_operation(self, joint: Joint) -> Operation:
        """What opening a joint of this kind takes where the record is silent (common practice, no source)."""
        match joint.kind:
            case "screw":
                driver = (f"{joint.drive} driver",) if joint.drive else ("driver of unknown drive",)
                return Operation(do="unscrew", tools=driver, seconds=self.screw_seconds * (joint.count or 1))
            case "connector":
                return Operation(do="unplug", tools=("spudger",), seconds=self.connector_seconds)
            case "clip":
                return Operation(do="unclip", tools=("prying lever",), seconds=self.clip_seconds)
            case "adhesive":
                return Operation(do="pry", tools=("opening pick",), seconds=self.adhesive_seconds)
            case "solder":
                return Operation(do="desolder", tools=("soldering iron",), seconds=self.solder_seconds)
            case _:
                return Operation(do="undo", seconds=self.other_seconds)

    def lift_operation(self, part: Part) -> Operation:
        """How the part is lifted: as it says, else by bare hand in the default time."""
        if part.lift is None:
            return Operation(do="lift", seconds=self.lift_seconds)
        seconds = part.lift.seconds if part.lift.seconds is not None else self.lift_seconds
        return Operation(
            do="lift", tools=part.lift.tools, seconds=seconds, risk=part.lift.risk, harms=part.lift.harms
        )

    def lift_is_default(self, part: Part) -> bool:
        """Whether the lift time is the bench's default."""
        return part.lift is None or part.lift.seconds is None

    def work_is_default(self, joint: Joint, by: int) -> bool:
        """Whether any time of this way of opening is the bench's default."""
        return not joint.work or any(step.seconds is None for step in joint.work[by - 1])


def replaced(step: Operation, seconds: float | None) -> Operation:
    """The operation with its missing seconds filled in."""
    return msgspec.structs.replace(step, seconds=seconds)


def is_heating(step: Operation) -> bool:
    """Whether the operation is heating, by its first word."""
    return step.do.casefold().startswith(HEATING_WORDS)


def is_cleaning(step: Operation) -> bool:
    """Whether the operation cleans or removes residue, by its first words."""
    return step.do.casefold().startswith(CLEANING_WORDS)


def lift_face(part: Part, joints: tuple[Joint, ...]) -> Face | None:
    """The face a part is lifted from: its own, else that of the last rigid joint listed that holds it."""
    if part.face is not None:
        return part.face
    holding = [joint for joint in joints if part.id in joint.holds and not joint.tether]
    return holding[-1].face if holding else None
