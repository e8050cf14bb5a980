"""Small invented records of screws: a plate over a board, a display below."""

from __future__ import annotations

from midframe.record.model import Device, Joint, Part, Record

FRAME = Part(
    id="frame", name="Frame", material="aluminium alloy", depth_mm=(2.0, 2.4), outline_mm=((0, 0), (70, 150))
)
PLATE = Part(id="plate", name="Plate", depth_mm=(5.5, 6.0), outline_mm=((0, 0), (70, 60)))
BOARD = Part(
    id="board",
    name="Board",
    role="main_board",
    under=(("plate",),),
    depth_mm=(3.0, 4.0),
    outline_mm=((0, 0), (40, 60)),
)
DISPLAY = Part(
    id="display",
    name="Display",
    role="display",
    face="front",
    depth_mm=(0, 1.5),
    outline_mm=((0, 0), (70, 150)),
)
PARTS = (FRAME, PLATE, BOARD, DISPLAY)


def screws(name, length_mm=3.0, **rest):
    """A joint of two like screws that hold the plate."""
    said = {
        "drive": "hexalobular 4",
        "thread": "M1.4",
        "head": "pan",
        "count": 2,
        "face": "back",
        "depth_mm": 6.0,
    }
    said |= {"holds": ("plate", "frame"), "length_mm": length_mm} | rest
    return Joint(id=name, kind="screw", **said)


def record(*joints, parts=PARTS, **device):
    """A record of these joints."""
    said = {
        "name": "Screw sample",
        "kind": "phone",
        "body": "frame",
        "invented": True,
        "size_mm": (150, 70, 8),
    }
    return Record(format=1, device=Device(**(said | device)), parts=parts, joints=joints)
