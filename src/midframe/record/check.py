"""All that can be said about a record before anything is computed from it."""

from __future__ import annotations

import msgspec

from midframe.faults import RecordFault
from midframe.record import completeness, layers, plausible, references, seating, shapes
from midframe.record.findings import Finding, faults
from midframe.record.model import Record
from midframe.record.reader import faults_of
from midframe.record.writer import plain

CHECKS = (
    references.double_ids,
    references.unknown_ids,
    seating.body_faults,
    seating.seat_faults,
    seating.cover_faults,
    shapes.device_faults,
    shapes.part_faults,
    shapes.joint_faults,
    shapes.move_faults,
    shapes.seal_faults,
    layers.layer_faults,
    completeness.role_notes,
    completeness.gap_notes,
    plausible.device_notes,
    plausible.mass_notes,
    plausible.battery_notes,
    plausible.joint_notes,
    plausible.place_notes,
    layers.layer_notes,
)


def check(record: Record, file: str = "") -> tuple[Finding, ...]:
    """Every fault and note about a record, faults first, each in the order of the checks.

    A record with values that the reader would refuse (it was built in code)
    gives those faults only. Parts that cannot be reached are found by
    `midframe.ways.reach`, which knows the rules of the moves.
    """
    broken = faults_of(plain(record), file)
    if broken:
        return broken
    found = [msgspec.structs.replace(finding, file=file) for one in CHECKS for finding in one(record)]
    return tuple(sorted(dict.fromkeys(found), key=lambda finding: finding.level))


def sound(record: Record, file: str = "") -> Record:
    """The record itself if its check finds no fault; else raises `RecordFault` with all of them."""
    found = faults(check(record, file))
    if found:
        raise RecordFault(found)
    return record
