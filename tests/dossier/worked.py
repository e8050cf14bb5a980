"""The two worked examples of the index as records: invented phones, own construction.

Steps, fasteners and tools per part are those of the examples; where an example gives a number of steps only,
the record has as many plates in the way.
"""

from __future__ import annotations

import msgspec

from midframe.record.model import Device
from ways.records import condition, joint, lifted, part, record, work

CROSS = "cross recess 00 driver"


def screws(name, holds, behind=(), count=2):
    return joint(name, holds, "screw", behind, drive="cross recess 00", count=count, fastener="reusable")


def by_hand_joint(name, holds, kind, behind=(), fastener="reusable"):
    return joint(name, holds, kind, behind, fastener=fastener, work=((work("release"),),))


def with_tool(name, holds, kind, tool, behind=(), fastener="reusable"):
    return joint(name, holds, kind, behind, fastener=fastener, work=((work("undo", [tool]),),))


def device(whole, name, **more):
    return msgspec.structs.replace(
        whole,
        device=Device(
            name=name,
            kind="phone",
            body="frame",
            invented=True,
            absent=("hinge",),
            **more,
        ),
    )


def hand_opened():
    """Example 8.1: back cover and battery by bare hand, the rest under an inner cover; R = 4.6575."""
    inner = ("inner-cover",)
    parts = [
        part("back-cover", role="back_cover", spare="end_user"),
        part("battery", ("back-cover",), role="battery", spare="end_user"),
        part("inner-cover", ("battery",)),
        part("port", inner, role="charging_port", also=("microphone",), spare="end_user"),
        part("rear-camera", inner, role="rear_camera", spare="end_user"),
        part("front-camera", inner, role="front_camera", spare="end_user"),
        part("speaker", inner, role="speaker", spare="end_user"),
        part("board", inner),
        part("flex", ("board",)),
        part("button", ("flex",), role="button", spare="end_user"),
        part("display", role="display", spare="end_user"),
    ]
    joints = [
        by_hand_joint("cover-clips", "back-cover frame", "clip"),
        by_hand_joint("battery-detent", "battery frame", "other", ("back-cover",)),
        screws("inner-screws", "inner-cover frame", ("battery",), count=9),
        screws("port-screws", "port frame", inner),
        by_hand_joint("port-plug", "port frame", "connector", inner),
        with_tool("rear-plug", "rear-camera frame", "connector", "spudger", inner),
        with_tool("front-plug", "front-camera frame", "connector", "spudger", inner),
        screws("speaker-screws", "speaker frame", inner),
        screws("board-screws", "board frame", inner, count=4),
        with_tool("flex-plug", "flex frame", "connector", "spudger", ("board",)),
        with_tool("button-tape", "button frame", "adhesive", "tweezers", ("flex",), "resupplied"),
        screws("display-screws", "display frame", ("rear-camera front-camera board port",), count=4),
    ]
    whole = record(parts, joints)
    return device(whole, "Worked example 1", updates_years=7, repair_information="public")


PLATES = 10
"""Plates below the shield of the second example, one under the other."""


def glued():
    """Example 8.2: glued back cover, paired battery and display, much under a stack of plates; R = 2.2050."""
    plates = [f"plate-{number}" for number in range(1, PLATES + 1)]
    above = ["shield", *plates]
    stack = [part(plate, (above[number],)) for number, plate in enumerate(plates)]
    paired = {"remote": ("authorisation",)}
    parts = [
        part("back-cover", role="back_cover", spare="end_user"),
        part("shield", ("back-cover",)),
        part("battery-flex", ("shield",)),
        part("battery", ("battery-flex",), role="battery", spare="professional", lift=None, **paired),
        *stack,
        part("speaker", ("plate-3",), role="speaker", spare="professional"),
        part("rear-camera", ("plate-4",), role="rear_camera", spare="professional"),
        part("port", ("plate-4",), role="charging_port", spare="professional"),
        part("microphone", ("plate-4",), role="microphone", spare="professional"),
        part("display", ("plate-5",), role="display", spare="end_user", **paired),
        part("front-camera", ("plate-8",), role="front_camera", spare="professional"),
        part("button", ("plate-9",), role="button", spare="professional"),
    ]
    joints = [
        joint(
            "back-glue",
            "back-cover frame",
            "adhesive",
            fastener="resupplied",
            work=(
                (
                    work("heat edge", ["heating mat"]),
                    work("pry", ["suction cup", "prying lever"]),
                ),
            ),
        ),
        screws("shield-screws", "shield frame", ("back-cover",)),
        with_tool("flex-plug", "battery-flex frame", "connector", "spudger", ("shield",)),
        with_tool("strips", "battery frame", "adhesive", "tweezers", ("battery-flex",), "resupplied"),
        *(screws(f"{plate}-screws", f"{plate} frame", (above[n],)) for n, plate in enumerate(plates)),
        screws("speaker-screws", "speaker frame", ("plate-3",)),
        with_tool("rear-plug", "rear-camera frame", "connector", "spudger", ("plate-4",)),
        screws("port-screws", "port frame", ("plate-4",)),
        with_tool("microphone-plug", "microphone frame", "connector", "spudger", ("plate-4",)),
        joint(
            "display-frame",
            "display frame",
            "adhesive",
            ("plate-5",),
            fastener="resupplied",
            work=(
                (
                    work("heat rim", ["heating mat"]),
                    work("pry", ["suction cup", "prying lever"]),
                ),
            ),
        ),
        with_tool("front-plug", "front-camera frame", "connector", "spudger", ("plate-8",)),
        with_tool("button-tape", "button frame", "adhesive", "tweezers", ("plate-9",), "removable"),
    ]
    whole = record(parts, joints)
    return device(whole, "Worked example 2", updates_years=5, repair_information="free_professional")


def unpaired(whole):
    """The record without any serial-number duty."""
    parts = tuple(msgspec.structs.replace(one, remote=()) for one in whole.parts)
    return msgspec.structs.replace(whole, parts=parts)


__all__ = ["condition", "glued", "hand_opened", "lifted", "unpaired"]
