"""Records the tests of the ways share: a short builder, and the invented phones of the test vectors."""

from __future__ import annotations

import msgspec

from midframe.record.model import Device, Joint, Lift, Move, Operation, Part, Record
from midframe.ways.bench import Bench

VECTOR_BENCH = Bench(change_seconds=4.0, flip_seconds=3.0, lift_seconds=3.0)


def record(parts, joints, name="Invented", body="frame"):
    """A record of a body and the given parts and joints."""
    return Record(
        format=1,
        device=Device(name=name, kind="phone", body=body, invented=True),
        parts=(Part(id=body, name="Frame"), *parts),
        joints=tuple(joints),
    )


def condition(*alternatives):
    """`condition("a", "b c")`: a aside, or b and c aside."""
    return tuple(tuple(alternative.split()) for alternative in alternatives)


def part(name, under=(), **more):
    """A part; `under` as alternatives of ids in one text."""
    return Part(id=name, name=name, under=condition(*under), **more)


def joint(name, holds, kind="other", behind=(), **more):
    """A joint of the parts named in one text; `behind` as alternatives of ids in one text."""
    return Joint(id=name, kind=kind, holds=tuple(holds.split()), behind=condition(*behind), **more)


def work(do, tools=(), seconds=1.0, **more):
    """One operation with the tools named in a list."""
    return Operation(do=do, tools=tuple(tools), seconds=seconds, **more)


def by_hand(seconds):
    """A lift by bare hand that takes this long."""
    return Lift(seconds=seconds)


def opened(name, by=1):
    """The move that opens a joint."""
    return Move(open=name, by=by)


def lifted(*names):
    """The move that lifts parts."""
    return Move(lift=names)


def without_joint(whole, name):
    """The record without one joint."""
    return msgspec.structs.replace(whole, joints=tuple(j for j in whole.joints if j.id != name))


def with_joint(whole, name, **changes):
    """The record with one joint changed."""
    joints = tuple(msgspec.structs.replace(j, **changes) if j.id == name else j for j in whole.joints)
    return msgspec.structs.replace(whole, joints=joints)


def with_part(whole, name, **changes):
    """The record with one part changed."""
    parts = tuple(msgspec.structs.replace(p, **changes) if p.id == name else p for p in whole.parts)
    return msgspec.structs.replace(whole, parts=parts)


PICK, DRIVER, SPUDGER, SOLVENT = "opening pick", "cross recess driver", "spudger", "solvent dispenser"

VECTOR_JOINTS = (
    ("glue-back-cover", "back-cover", "adhesive", PICK, "back", 120, 0.03, ()),
    ("glue-display", "display", "adhesive", PICK, "front", 150, 0.06, ()),
    ("screws-upper-bracket", "upper-bracket", "screw", DRIVER, "back", 30, 0.0, ("back-cover",)),
    ("screws-lower-bracket", "lower-bracket", "screw", DRIVER, "back", 36, 0.0, ("back-cover",)),
    ("plug-battery", "battery main-board", "connector", SPUDGER, "back", 4, 0.0, ("upper-bracket",)),
    ("plug-link-flex-top", "main-board", "connector", SPUDGER, "back", 4, 0.0, ("upper-bracket",)),
    ("plug-rear-camera", "rear-camera main-board", "connector", SPUDGER, "back", 4, 0.0, ("upper-bracket",)),
    (
        "plug-front-camera",
        "front-camera main-board",
        "connector",
        SPUDGER,
        "back",
        4,
        0.0,
        ("upper-bracket",),
    ),
    ("screws-main-board", "main-board", "screw", DRIVER, "back", 16, 0.0, ("upper-bracket",)),
    ("glue-battery", "battery", "adhesive", SOLVENT, "back", 60, 0.08, ("upper-bracket",)),
    ("screws-sub-board", "sub-board", "screw", DRIVER, "back", 12, 0.0, ("speaker",)),
    ("plug-link-flex-bottom", "sub-board", "connector", SPUDGER, "back", 4, 0.0, ("lower-bracket",)),
    ("plug-antenna-cable", "sub-board", "connector", SPUDGER, "back", 4, 0.0, ("lower-bracket",)),
    ("glue-vibration-motor", "vibration-motor", "adhesive", SPUDGER, "back", 8, 0.0, ("lower-bracket",)),
    ("plug-display", "display", "connector", SPUDGER, None, 4, 0.0, ()),
    ("glue-earpiece", "earpiece", "adhesive", PICK, None, 15, 0.0, ("display", "main-board")),
)

VECTOR_PARTS = (
    ("back-cover", "back", ()),
    ("upper-bracket", "back", ()),
    ("lower-bracket", "back", ()),
    ("display", "front", ()),
    ("rear-camera", "back", ()),
    ("main-board", "back", ()),
    ("front-camera", None, ("main-board", "display")),
    ("battery", "back", ()),
    ("speaker", "back", ("lower-bracket",)),
    ("sub-board", "back", ()),
    ("earpiece", None, ()),
    ("vibration-motor", "back", ()),
)
"""Parts, the side they are lifted from, what they lie under."""

VECTOR_ORDER = {
    "glue-battery": (("plug-battery",),),
    "plug-display": (("glue-display",), ("main-board",)),
}
"""What a record cannot say: joints that wait for another joint. It matters to the earpiece only."""


def vector_phone():
    """The invented two-sided phone: parts, moves, seconds and risks of the test vector (own construction).

    Every joint also holds the frame, so that a part is free only when all its
    joints are open and nothing leaves as a bundle. The front camera's friction
    fit costs nothing; it lets the camera be lifted from any side.
    """
    joints = [
        Joint(
            id=name,
            kind=kind,
            holds=(*holds.split(), "frame"),
            face=face,
            behind=condition(*behind),
            work=((Operation(do="undo", tools=(tool,), seconds=float(seconds), risk=risk),),),
        )
        for name, holds, kind, tool, face, seconds, risk, behind in VECTOR_JOINTS
    ]
    fit = Joint(
        id="fit-front-camera",
        kind="other",
        holds=("front-camera", "frame"),
        behind=condition("main-board", "display"),
        work=((Operation(do="free", seconds=0.0),),),
    )
    parts = [
        Part(id=name, name=name, face=face, under=condition(*under), seat="frame")
        for name, face, under in VECTOR_PARTS
    ]
    return record(parts, [*joints, fit], name="Vector 1")


def vector_phone_joined():
    """The same phone with the display's bond and plug as one joint: the earpiece's values of the vector.

    A record cannot let a joint wait for another; with the plug free from the
    start the earpiece would be four seconds cheaper than in the vector.
    """
    whole = without_joint(vector_phone(), "plug-display")
    both = (
        Operation(do="undo", tools=(PICK,), seconds=150.0, risk=0.06),
        Operation(do="unplug", tools=(SPUDGER,), seconds=4.0),
    )
    return with_joint(whole, "glue-display", work=(both,))
