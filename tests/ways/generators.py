"""Seeded records for proofs and benchmark: small ones with every feature, phone-like ones of any size.

Equal seeds give equal records. All are invented.
"""

from __future__ import annotations

from random import Random

import msgspec

from midframe.record import check, faults
from midframe.record.model import Device, Joint, Lift, Operation, Part, Record, Renewal
from midframe.record.structure import seats

TOOLS = (
    "spudger",
    "tweezers",
    "opening pick",
    "hexalobular 4 driver",
    "hexalobular 3 driver",
    "prying lever",
)
HARD_KINDS = ("screw", "clip", "adhesive", "solder", "other")
FACES = ("front", "back", "front", "back", "edge", None)


def small(seed, parts=(3, 5), joints=7):
    """A sound record of few parts and at most so many joints, with features drawn at random."""
    for attempt in range(1000):
        made = Small(Random(f"small {seed} {attempt}"), parts, joints).record()
        if not faults(check(made)):
            return made
    raise AssertionError(f"no sound record for seed {seed}")


class Small:
    """One small record in the making; how often a feature occurs is drawn first, so that records differ."""

    def __init__(self, random, parts, joints):
        self.random, self.most = random, joints
        self.names = [f"p{number}" for number in range(1, random.randint(*parts) + 1)]
        self.tools = random.sample(TOOLS, random.randint(1, 4))
        self.faces = random.choice([("front",), (None,), ("front", "back"), FACES])
        self.riding = random.choice([0.0, 0.3, 0.6])
        self.linking = random.choice([0, 0, 1, 2])
        self.hanging = random.choice([0.0, 0.2, 0.5])
        self.covering = random.choice([0.2, 0.4, 0.6])
        self.heating = random.choice([0.0, 0.0, 0.25])
        self.seat = dict(zip(self.names, map(self.seat_for, range(len(self.names))), strict=True))
        self.joints: list[Joint] = []

    def chance(self, share):
        return self.random.random() < share

    def seat_for(self, number):
        return self.random.choice(self.names[:number]) if number and self.chance(self.riding) else "frame"

    def record(self):
        """All parts and joints drawn."""
        for name in self.names:
            for _ in range(self.random.choice([0, 1, 1, 1, 2])):
                self.add([name, self.seat[name]], self.random.choice(HARD_KINDS))
        for _ in range(self.linking):
            self.add(self.random.sample(self.names, 2), self.random.choice(HARD_KINDS))
        for name in self.names:
            if self.chance(self.hanging):
                other = self.random.choice(["frame", *(one for one in self.names if one != name)])
                self.add([name, other], "connector", tether=True)
        self.random.shuffle(self.joints)
        self.joints = [
            msgspec.structs.replace(joint, id=f"j{number}")
            for number, joint in enumerate(self.joints[: self.most], 1)
        ]
        parts = (Part(id="frame", name="Frame"), *map(self.part, self.names))
        device = Device(name="Generated", kind="phone", body="frame", invented=True)
        drawn = Record(format=1, device=device, parts=parts, joints=tuple(self.joints))
        return self.with_seats(drawn)

    def with_seats(self, drawn):
        """Seats said where they do not follow from the joints, and now and then where they do."""
        default = seats(drawn)
        parts = tuple(
            part
            if part.id == "frame" or (default[part.id] == self.seat[part.id] and self.chance(0.6))
            else msgspec.structs.replace(part, seat=self.seat[part.id])
            for part in drawn.parts
        )
        return msgspec.structs.replace(drawn, parts=parts)

    def add(self, holds, kind, *, tether=False):
        """One more joint; now and then it holds a third part."""
        if not tether and self.chance(0.08):
            holds = [*holds, self.random.choice(self.names)]
        behind = self.condition(holds)
        if tether and self.chance(0.5):
            behind = ((holds[0],), *behind[:1])
        joint = Joint(
            id=f"j{len(self.joints)}x",
            kind=kind,
            holds=tuple(dict.fromkeys(holds)),
            tether=tether,
            face=self.random.choice(self.faces),
            behind=behind,
            work=self.work(),
            ruins=(self.random.choice(self.names),) if self.chance(0.1) else (),
            drive="hexalobular 4" if kind == "screw" and self.chance(0.5) else "",
            renew=Renewal(item="tape", price=self.random.choice([0.5, 2.0])) if self.chance(0.15) else None,
        )
        self.joints.append(joint)

    def condition(self, own):
        """Mostly parts drawn earlier, sometimes with alternatives, sometimes none."""
        others = [one for one in self.names if one not in own]
        if not others or not self.chance(self.covering):
            return ()
        first = own[0]
        before = [one for one in others if first in self.names and one < first]
        among = before if before and self.chance(0.8) else others
        alternatives = []
        for _ in range(self.random.choice([1, 1, 1, 2, 3])):
            alternatives.append(
                tuple(self.random.sample(among, min(len(among), self.random.choice([1, 1, 2]))))
            )
        return tuple(dict.fromkeys(alternatives))

    def work(self):
        """None (the bench's default), one way of opening, or several."""
        ways = self.random.choice([0, 1, 1, 1, 2])
        return tuple(
            tuple(self.operation() for _ in range(self.random.choice([1, 1, 1, 2]))) for _ in range(ways)
        )

    def operation(self):
        """One operation: by hand, with a tool, with two at once; heating and cleaning now and then."""
        risky = self.chance(0.2)
        return Operation(
            do=self.random.choice(["heat", "clean"]) if self.chance(self.heating) else "undo",
            tools=self.held(),
            seconds=self.random.choice([None, 1.0, 4.0, 10.0, 12.5, 30.0]),
            risk=self.random.choice([0.02, 0.25]) if risky else 0.0,
            harms=(self.random.choice(self.names),) if risky and self.chance(0.7) else (),
            ruins=(self.random.choice(self.names),) if self.chance(0.08) else (),
        )

    def held(self):
        """The tools of one operation."""
        draw = self.random.random()
        if draw < 0.15:
            return ()
        if draw < 0.25:
            return tuple(self.random.sample([*self.tools, "isopropanol", "suction cup"], 2))
        return (self.random.choice(self.tools),)

    def part(self, name):
        """One part, with what it lies under and how it is lifted."""
        others = [one for one in self.names if one != name]
        lift = None
        if self.chance(0.25):
            tools = (self.random.choice(self.tools),) if self.chance(0.7) else ()
            lift = Lift(
                tools=tools, seconds=self.random.choice([None, 2.0, 5.0]), risk=self.random.choice([0.0, 0.1])
            )
        return Part(
            id=name,
            name=name,
            price=self.random.choice([None, 1.0, 20.0, 150.0]),
            bundle=tuple(self.random.sample(others, 1)) if self.chance(0.15) else (),
            face=self.random.choice(self.faces) if self.chance(0.3) else None,
            lift=lift,
            under=self.condition([name]),
        )


def plain(seed, parts=(3, 6), joints=8):
    """A small record in which nothing leaves as a bundle and every way of opening is one operation."""
    for attempt in range(1000):
        made = flattened(small(f"plain {seed} {attempt}", parts, joints))
        if not faults(check(made)):
            return made
    raise AssertionError(f"no plain record for seed {seed}")


def flattened(whole):
    """The record with every part on the frame, every rigid joint held by it, and one operation a way."""
    parts = (msgspec.structs.replace(part, seat="frame", bundle=()) for part in whole.parts[1:])
    joints = (
        msgspec.structs.replace(
            joint,
            holds=joint.holds if joint.tether or "frame" in joint.holds else (*joint.holds, "frame"),
            work=tuple((msgspec.structs.replace(way[0], do="undo"),) for way in joint.work),
        )
        for joint in whole.joints
    )
    return msgspec.structs.replace(whole, parts=(whole.parts[0], *parts), joints=tuple(joints))


PHONE_TOOLS = (
    "spudger",
    "opening pick",
    "cross recess 000 driver",
    "hexalobular 4 driver",
    "hexalobular 3 driver",
    "five-lobe 0.8 driver",
    "tweezers",
    "prying lever",
)


def phone_like(seed, joints, *, linked=False):
    """A two-sided phone of so many joints in which every part can be reached.

    Plates lie under the back cover and cover boards, connectors and modules;
    4 to 8 tools; 5 to 15 % of the conditions have an alternative. With `linked`
    some connectors hold module and board rigidly and shields ride on boards, so
    that groups can leave whole; without, every lift is a single part.
    """
    made = Phone(Random(f"phone {seed} {joints} {linked}"), joints, linked).record()
    found = faults(check(made))
    assert not found, found
    return made


class Phone:
    """One phone-like record in the making: parts from the outside in, each with joints and what covers it."""

    def __init__(self, random, joints, linked):
        self.random, self.size, self.linked = random, joints, linked
        self.tools = random.sample(PHONE_TOOLS, random.randint(4, 8))
        self.share = random.uniform(0.05, 0.15)
        self.parts: list[Part] = []
        self.joints: list[Joint] = []
        self.outer = {"back": ["back-cover"], "front": ["display"]}
        self.inner: dict[str, list[str]] = {"back": [], "front": []}
        self.boards: list[str] = []

    def record(self):
        """Covers first, then plates, boards and modules until the joints are used up."""
        self.add("back-cover", "back", (), [("adhesive", 120.0)])
        self.add("display", "front", (), [("adhesive", 150.0), ("screw", 12.0)][: self.random.randint(1, 2)])
        number = 0
        while len(self.joints) < self.size:
            number += 1
            self.one_more(number)
        device = Device(name=f"Generated {self.size}", kind="phone", body="frame", invented=True)
        parts = (Part(id="frame", name="Frame"), *self.parts)
        return Record(format=1, device=device, parts=parts, joints=tuple(self.joints[: self.size]))

    def one_more(self, number):
        """A plate, a board or a module, on the side drawn."""
        face = "back" if self.random.random() < 0.75 else "front"
        cover = self.cover(face)
        draw = self.random.random()
        if draw < 0.2:
            name = f"plate-{number}"
            self.add(name, face, cover, [("screw", 6.0 * self.random.randint(1, 6))])
            self.outer[face].append(name)
        elif draw < 0.3 or not self.boards:
            name = f"board-{number}"
            count = self.random.randint(1, 3)
            self.add(name, face, cover, [("screw", 8.0 * self.random.randint(1, 3)) for _ in range(count)])
            self.boards.append(name)
            if self.linked and self.random.random() < 0.7:
                self.add(f"shield-{number}", face, cover, [("clip", 15.0)], seat=name)
        else:
            self.module(f"module-{number}", face, cover)

    def module(self, name, face, cover):
        """A camera, speaker, button and the like: held to the frame and plugged into a board."""
        holding = self.random.choice(
            [
                [],
                [("adhesive", 20.0)],
                [("screw", 12.0)],
                [("clip", 8.0)],
                [("screw", 12.0), ("adhesive", 40.0)],
            ]
        )
        under = ()
        if self.inner[face] and self.random.random() < 0.2:
            under = self.either((self.random.choice(self.inner[face]),))
        self.add(name, face, cover, holding, under=under)
        self.inner[face].append(name)
        for _ in range(self.random.choice([1, 1, 2])):
            board = self.random.choice(self.boards)
            rigid = self.linked and self.random.random() < 0.3
            self.hold((name, board), "connector", face, self.cover(face), 4.0, tether=not rigid)

    def cover(self, face):
        """A plate or cover of the side, now and then with an alternative."""
        outer = self.outer[face]
        chosen = outer[0] if self.random.random() < 0.35 else self.random.choice(outer)
        return self.either((chosen,))

    def either(self, condition):
        """The condition, and in the share drawn an alternative from all parts there are."""
        if self.random.random() < self.share:
            other = self.random.choice([part.id for part in self.parts if part.id not in condition])
            return (condition, (other,))
        return (condition,)

    def add(self, name, face, cover, holding, *, under=(), seat="frame"):
        """A part and the joints that hold it to its seat."""
        self.parts.append(Part(id=name, name=name, face=face, seat=seat, under=under or cover))
        for kind, seconds in holding:
            self.hold((name, seat), kind, face, cover, seconds)

    def hold(self, holds, kind, face, behind, seconds, *, tether=False):
        """One joint with one operation; the tool goes with the kind."""
        place = ("screw", "clip", "adhesive", "connector").index(kind) + self.random.choice([0, 0, 1, 4])
        tool = self.tools[place % len(self.tools)]
        joint = Joint(
            id=f"j{len(self.joints) + 1}",
            kind=kind,
            holds=holds,
            tether=tether,
            face=face if self.random.random() < 0.9 else None,
            behind=tuple(one for one in behind if holds[0] not in one),
            work=((Operation(do="undo", tools=(tool,), seconds=seconds),),),
        )
        self.joints.append(joint)
