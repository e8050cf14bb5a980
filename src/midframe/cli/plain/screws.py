"""Screws as plain data."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.record import Record
from midframe.screws import mistaken, tally, torque, wrong_holes


def screws_data(record: Record) -> dict[str, Any]:
    """Tally, pairs, hazards and torques as the library gives them."""
    found = msgspec.to_builtins(tally(record))
    joints = [joint for joint in record.joints if joint.kind == "screw"]
    tight = [(joint.id, torque(record, joint)) for joint in joints]
    return {
        **found,
        "mistaken": msgspec.to_builtins(mistaken(record)),
        "wrong_holes": msgspec.to_builtins(wrong_holes(record)),
        "torques": [{"joint": name, **msgspec.to_builtins(one)} for name, one in tight if one is not None],
    }
