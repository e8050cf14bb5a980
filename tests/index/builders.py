"""Evidence for the tests: parts that score given points, and whole devices from them."""

from __future__ import annotations

from typing import Any

from midframe.index import PRIORITY_ROLES, DeviceEvidence, Fastener, PartEvidence, ToolUse

LEVEL = {5: "reusable", 3: "resupplied", 1: "removable"}
GROUP = {5: "none", 4: "basic", 3: "spare_set", 2: "product_set", 1: "commercial"}
STEPS = {5: 2, 4: 5, 3: 10, 2: 15, 1: 16}


def fastener(points: int | None, joint: str = "joint") -> Fastener:
    return Fastener(joint=joint, name=joint, level=None if points is None else LEVEL[points])


def tool(points: int, name: str = "tool") -> ToolUse:
    return ToolUse(name=name, group=GROUP[points])


def part(role: str, steps: int | None, f: int, t: int, **more: Any) -> PartEvidence:
    """A part with its steps and the points of its worst fastener and tool."""
    return PartEvidence(
        **{
            "part": role,
            "name": role,
            "role": role,
            "steps": steps,
            "fasteners": (fastener(f, f"{role}-joint"),),
            "tools": (tool(t, f"{role}-tool"),),
            "spare": "end_user",
            **more,
        }
    )


def device(parts: list[PartEvidence], **more: Any) -> DeviceEvidence:
    """A phone without hinge, updated for 7 years, with public repair information."""
    return DeviceEvidence(
        **{
            "name": "Tern 3",
            "kind": "phone",
            "parts": tuple(parts),
            "updates_years": 7,
            "repair_information": "public",
            **more,
        }
    )


def offered(parts: list[PartEvidence], rung: int) -> list[PartEvidence]:
    """The same parts, their spares offered just as the rung of SSP asks."""
    from msgspec.structs import replace

    public = {
        1: {"display"},
        2: {"display", "battery"},
        3: {"display", "battery", "back_cover"},
        4: {"display", "battery", "back_cover", "front_camera", "rear_camera"},
        5: set(PRIORITY_ROLES),
    }[rung]
    return [replace(one, spare="end_user" if one.role in public else "professional") for one in parts]


def all_parts(depth: int = 5, f: int = 5, t: int = 5) -> list[PartEvidence]:
    """The nine parts of an ordinary device, alike in their points."""
    return [part(role, STEPS[depth], f, t) for role in PRIORITY_ROLES if role != "hinge"]
