"""Notes on what a record leaves open for the index: roles, fastener levels, spares."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.record.findings import Finding, note
from midframe.record.model import PRIORITY_ROLES, Record, Role


def role_notes(record: Record) -> Iterator[Finding]:
    """Priority roles that several parts carry, or that nothing is said about.

    References
    ----------
    Priority parts and the worse of several instances: [lbl-2023-1669, Annex IV point 5].
    """
    for role in PRIORITY_ROLES:
        carriers = [part.id for part in record.parts if role == part.role or role in part.also]
        if len(carriers) > 1:
            found = f"{len(carriers)} parts carry the role {role}: {', '.join(carriers)}"
            yield note(
                "parts",
                carriers[0],
                found,
                "as it is, if all are in the device; the index takes the worse of each score",
            )
        if not carriers and role not in record.device.absent and not unhinged(record, role):
            right = (
                f'a part with role = "{role}", or "{role}" in `absent`; until then the index calls it unknown'
            )
            yield note(
                "device.absent",
                "",
                f"no part with the role {role}, and nothing that says it is absent",
                right,
            )


def unhinged(record: Record, role: Role) -> bool:
    """Whether this is the hinge of a device that does not fold."""
    return role == "hinge" and not record.device.foldable


def gap_notes(record: Record) -> Iterator[Finding]:
    """Joints without a fastener level, priority parts without a word on their spare."""
    joints = [joint.id for joint in record.joints if joint.fastener is None]
    if joints:
        found = f"no fastener level on {len(joints)} of {len(record.joints)} joints: {', '.join(joints)}"
        yield note("joints", joints[0], found, "fastener = reusable, resupplied, removable or none on each")
    parts = [
        part.id
        for part in record.parts
        if {part.role, *part.also} & set(PRIORITY_ROLES) and part.spare is None
    ]
    if parts:
        found = f"nothing on the spare of {len(parts)} priority parts: {', '.join(parts)}"
        yield note("parts", parts[0], found, "spare = end_user, professional or none on each")
