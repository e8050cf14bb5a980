"""Bonds of a record as the heat model sees them: where, how thick, when soft."""

from __future__ import annotations

from collections.abc import Collection

import msgspec

from midframe.faults import RecordFault
from midframe.heat.materials import Material, Range, materials, named
from midframe.record.findings import fault
from midframe.record.model import Joint, Part, Record

SOFT_CLASSES: tuple[tuple[tuple[str, ...], float, str], ...] = (
    (("stretch",), 30.0, "stretch-release strip"),
    (("polyurethane", "hot melt", "pur"), 85.0, "polyurethane hot melt"),
    (("silicone",), float("nan"), ""),
    (("foam",), 75.0, "foam acrylic tape"),
    (("acrylic", "tape", "adhesive"), 65.0, "thin acrylic tape"),
)
"""Softening temperature at the bond line by the words of a material (common practice, no source)."""

SOFT_SPREAD_K = 5.0
"""How far the softening temperature of a class may be off, both ways (own construction)."""

THICKNESS_MM: tuple[tuple[str, float], ...] = (("foam", 0.25), ("", 0.10))
"""Thickness where none is recorded, by a word of the material (from memory)."""


class Bond(msgspec.Struct, frozen=True):
    """One bond: between which parts, on which side, its size, its softening temperature and material."""

    joint: str
    name: str
    cover: str
    base: str
    side: str
    width_mm: float | None
    thickness_mm: Range
    soft_c: Range
    soft_mark: str
    material: str
    covered: float
    rests_on: tuple[str, ...]

    @property
    def row(self) -> Material:
        """Its row in the table of materials."""
        return materials()[self.material]


def softening(joint: Joint) -> tuple[Range, str]:
    """Softening temperature and what it rests on.

    Raises
    ------
    RecordFault
        Where it is not recorded and the material is no class with a usual one.

    >>> softening(Joint(id="a", kind="adhesive", holds=("x", "y"), material="acrylic foam tape"))
    (Range(low=70.0, usual=75.0, high=80.0), 'common practice: foam acrylic tape')
    """
    if joint.soft_c is not None:
        value = float(joint.soft_c)
        return Range(value - SOFT_SPREAD_K, value, value + SOFT_SPREAD_K), "recorded"
    lower = joint.material.casefold()
    for words, value, name in SOFT_CLASSES:
        if value == value and any(word in lower for word in words):
            return Range(value - SOFT_SPREAD_K, value, value + SOFT_SPREAD_K), f"common practice: {name}"
        if any(word in lower for word in words):
            break
    what = f"'{joint.material}' and no soft_c" if joint.material else "no soft_c and no material"
    right = "soft_c, in °C at the bond line, or a material such as acrylic foam tape or stretch-release strip"
    raise RecordFault([fault("joints.soft_c", joint.id, what, right)])


def thickness(joint: Joint) -> tuple[Range, str]:
    """Thickness with its range, and what it rests on where it is assumed."""
    if joint.thickness_mm is not None:
        return Range.around(float(joint.thickness_mm), 0.15), ""
    value = next(value for word, value in THICKNESS_MM if word in joint.material.casefold())
    note = f"assumed: {joint.id} is {value:g} mm thick (from memory)"
    return Range(value * 0.5, value, value * 1.8), note


def bond_of(joint: Joint, cover: Part, base: Part, side: str) -> Bond:
    """The bond of a joint; raises `RecordFault` where its softening temperature is not known."""
    soft, mark = softening(joint)
    thick, note = thickness(joint)
    row = named(joint.material) or materials()["acrylic"]
    notes = [note] if note else []
    if mark != "recorded":
        notes.append(f"{mark}: {joint.id} is soft at {soft.usual:g} °C")
    if not joint.material:
        notes.append(f"assumed: {joint.id} is thin acrylic tape")
    wide = joint.width_mm
    if wide is None:
        notes.append(f"assumed: {joint.id} covers the whole of {cover.id}, as it has no width_mm")
    return Bond(
        joint=joint.id,
        name=joint.name or joint.id.replace("-", " ").capitalize(),
        cover=cover.id,
        base=base.id,
        side=side,
        width_mm=None if wide is None else float(wide),
        thickness_mm=thick,
        soft_c=soft,
        soft_mark=mark,
        material=row.key,
        covered=1.0,
        rests_on=tuple(notes),
    )


def rim_bonds(record: Record, own: Bond, present: Collection[str]) -> list[Bond]:
    """The bond itself and every other one round a rim whose parts are there, the bond itself first."""
    found = [own]
    parts = {part.id: part for part in record.parts}
    for joint in record.joints:
        if joint.id == own.joint or joint.kind != "adhesive" or joint.width_mm is None:
            continue
        held = [parts[name] for name in joint.holds if name in present and parts[name].depth_mm]
        if len(held) != len(joint.holds) or len(held) < 2 or joint.face not in ("front", "back"):
            continue
        held.sort(key=lambda part: sum(part.depth_mm or (0.0, 0.0)))
        cover, base = (held[-1], held[0]) if joint.face == "back" else (held[0], held[-1])
        thick, _ = thickness(joint)
        row = named(joint.material) or materials()["acrylic"]
        found.append(
            Bond(
                joint.id,
                joint.name or joint.id,
                cover.id,
                base.id,
                joint.face,
                float(joint.width_mm),
                thick,
                Range(0.0, 0.0, 0.0),
                "",
                row.key,
                1.0,
                (),
            )
        )
    return found
