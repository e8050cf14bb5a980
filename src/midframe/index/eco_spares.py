"""Ecodesign: who is offered which spare part, with what, bundled how.

References
----------
[eco-2023-1670, Annex II B and D points 1.1(1) and 1.1(7)]
"""

from __future__ import annotations

from midframe.index.eco_disassembly import part_finding
from midframe.index.evidence import DeviceEvidence, Fastener, PartEvidence, Reading, Role
from midframe.index.findings import named
from midframe.index.results import OPEN, LegalFinding

PROFESSIONAL_LIST: frozenset[Role] = frozenset(
    {
        "front_camera",
        "rear_camera",
        "audio_connector",
        "charging_port",
        "button",
        "microphone",
        "speaker",
        "hinge",
    }
)
"""For professional repairers, the battery apart [eco-2023-1670, Annex II B and D point 1.1(1)(a)]."""

END_USER_LIST: frozenset[Role] = frozenset(
    {"battery", "back_cover", "display", "protective_foil", "sim_tray", "card_tray"}
)
"""For professional repairers and end users [eco-2023-1670, Annex II B and D point 1.1(1)(c)(i)]."""

SMALL_PARTS: frozenset[Role] = frozenset(
    {"microphone", "speaker", "button", "charging_port", "audio_connector"}
)
"""May ride inside a larger assembly, within limits [eco-2023-1670, Annex II B and D point 1.1(1)(b)]."""

BOTH = Reading(id="spare-both", text="An offer to end users is taken as one to professional repairers too.")

FREE_PAIRS: tuple[frozenset[Role], ...] = (
    frozenset({"microphone", "speaker"}),
    frozenset({"microphone", "charging_port"}),
)
"""Bundles allowed outright [eco-2023-1670, Annex II B and D point 1.1(1)(b)]."""


def spare_findings(part: PartEvidence, annex: str, exception: LegalFinding) -> list[LegalFinding]:
    """Whether one part is offered to those the act names.

    Parameters
    ----------
    part
        Its `spare` says to whom it is offered.
    annex
        "Annex II B" or "Annex II D".
    exception
        The finding on the conditions that let the battery go to professional repairers only.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(1)]
    """
    public = part.role in END_USER_LIST
    clause = f"{annex} point 1.1(1){'(c)(i)' if public else '(a)'}"
    duty = f"spare part for professional repairers{' and end users' if public else ''}"
    if part.spare is None:
        gap = (f"to whom {part.name} is offered",)
        return [part_finding(part, clause, duty, OPEN, why="the offer is not known", missing=gap)]
    if part.spare == "none":
        return [part_finding(part, clause, duty, "not met", why="no spare part is offered")]
    if part.spare == "end_user" or not public:
        offer = "end users" if part.spare == "end_user" else "professional repairers"
        return [part_finding(part, clause, duty, "met", why=f"offered to {offer}")]
    if part.role != "battery":
        return [part_finding(part, clause, duty, "not met", why="offered to professional repairers only")]
    why = f"offered to professional repairers only; conditions of the exception: {exception.why}"
    clause = f"{annex} point 1.1(1)(c)(ii)"
    return [part_finding(part, clause, duty, exception.verdict, why=why, missing=exception.missing)]


def fastener_supply(part: PartEvidence, annex: str) -> list[LegalFinding]:
    """Whether fasteners that cannot be used again come with the spare part.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(1); Annex I (7)]
    """
    clause, duty = f"{annex} point 1.1(1)", "required fasteners come with the spare part if not reusable"
    if part.spare == "none":
        return []
    if part.way_fasteners is None:
        gap = (f"the fasteners on the way to {part.name}",)
        return [part_finding(part, clause, duty, OPEN, why="the way is not known", missing=gap)]
    loose = [joint.name for joint in part.way_fasteners if not comes_along(joint)]
    if loose:
        gap = (f"whether {named(loose)} come with the spare part",)
        why = "not reusable, resupplied with another part, or not known"
        return [part_finding(part, clause, duty, OPEN, why=why, missing=gap)]
    why = "every fastener on the way is reusable, or holds the part and is resupplied"
    return [part_finding(part, clause, duty, "met", why=why)]


def comes_along(joint: Fastener) -> bool:
    """Whether nothing new is needed for a fastener, or it surely comes with the spare part.

    A resupplied fastener comes with the spare part that it is meant to fix, not with every other one.

    >>> tape = Fastener(joint="t", name="back tape", level="resupplied", own=False)
    >>> comes_along(tape), comes_along(Fastener(joint="s", name="screws", level="reusable", own=False))
    (False, True)

    References
    ----------
    [eco-2023-1670, Annex I (6)-(10)]
    """
    return joint.level == "reusable" or (joint.level == "resupplied" and joint.own)


def bundling_findings(device: DeviceEvidence, annex: str) -> list[LegalFinding]:
    """Spare parts that carry more than one listed type, one finding for each bundle.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(1)(b)]
    """
    listed = PROFESSIONAL_LIST | END_USER_LIST
    found: list[LegalFinding] = []
    seen: set[frozenset[str]] = set()
    for part in device.parts:
        ids = frozenset({part.part, *part.bundle})
        roles = {one.role for one in device.parts if one.part in ids and one.role in listed}
        if ids in seen or len(roles) < 2 or part.spare == "none":
            continue
        seen.add(ids)
        found.append(_bundle(part, frozenset(roles), annex))
    return found


def _bundle(part: PartEvidence, roles: frozenset[Role], annex: str) -> LegalFinding:
    clause, duty = f"{annex} point 1.1(1)(b)", "no spare part bundles several listed types"
    names = named(sorted(role.replace("_", " ") for role in roles))
    if roles in FREE_PAIRS:
        return part_finding(part, clause, duty, "met", why=f"{names}: an allowed pair")
    if roles == {"audio_connector", "charging_port"}:
        gap = ("whether audio connector and charging port are the same port",)
        return part_finding(part, clause, duty, OPEN, why=names, missing=gap)
    if len(roles - SMALL_PARTS) > 1:
        return part_finding(part, clause, duty, "not met", why=f"bundled: {names}")
    limits = "button and connector cycles and ingress of the assembly"
    return part_finding(
        part,
        clause,
        duty,
        OPEN,
        why=f"bundled: {names}; allowed within reliability limits",
        missing=(limits,),
    )


def serial_findings(device: DeviceEvidence, annex: str) -> list[LegalFinding]:
    """Parts paired by serial number: what the record cannot show of the access to tools.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(7)]
    """
    gap = (
        "access to the software tools within 3 working days, remote and by the owner's authorisation only",
    )
    paired = {part.part: part for part in device.parts if part.remote}
    return [
        part_finding(
            part,
            f"{annex} point 1.1(7)",
            "serialised parts: notification and authorisation only, possible remotely",
            OPEN,
            why=f"needs remote {named(part.remote)}",
            missing=gap,
        )
        for part in paired.values()
    ]
