"""Regions of a section: what each rectangle is made of, with ranges, and what that rests on."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from midframe.heat.bonds import Bond
from midframe.heat.cut import area, box, is_cell, meeting
from midframe.heat.materials import (
    AIR_CAPACITY_J_M3K,
    AIR_CONDUCTIVITY_W_MK,
    GAP_RADIATION_W_M2K,
    Range,
    materials,
    named,
    of_part,
)
from midframe.record.model import Layer, Part, Record
from midframe.record.outline import Span

LEAST_FILL = 0.3
"""A rim is at least this full of its material, whatever the frame's mass says (own construction)."""

SOLID_LAYERS = ("pad", "paste", "putty", "gap")
SHEETS = ("graphite", "copper")


class Region(msgspec.Struct, frozen=True):
    """One material in one place.

    `kind` is cell, display, glass, bond, other-bond, rim, gap, contact or part; `part` the part it
    belongs to, empty where it belongs to none. Conductivity in W/(m·K), capacity in J/(m³·K).
    """

    key: str
    kind: str
    part: str
    material: str
    through_w_mk: Range
    plane_w_mk: Range
    capacity_j_m3k: Range
    emissivity: Range
    rests_on: str = ""
    metal: bool = False


def part_region(part: Part, what: str) -> tuple[Region, str]:
    """The region of a part (of a display: of its glass or panel), and a note on what was assumed."""
    row, mark = of_part(part)
    kind = "cell" if is_cell(part) else "display" if part.role == "display" else "part"
    if what == "glass":
        row, kind = materials()["aluminosilicate_glass"], "glass"
    capacity = row.capacity_j_m3k
    rests = row.rests_on
    weighed = density_of(part)
    if weighed is not None and what == "" and within(weighed, Range.of(row.density)):
        capacity = Range.around(weighed * Range.of(row.capacity).usual, 0.1)
        rests = f"mass of the record; {row.rests_on}"
    region = Region(
        part.id + (f":{what}" if what else ""),
        kind,
        part.id,
        row.key,
        row.through_w_mk,
        row.plane_w_mk,
        capacity,
        Range.of(row.emissivity),
        rests,
        row.metal,
    )
    return region, "" if mark == "recorded" else f"{part.id}: {mark}"


def density_of(part: Part) -> float | None:
    """Density from mass, outline and depth, kg/m³; `None` where one of them is not recorded.

    >>> box_of_water = Part(id="w", name="W", mass_g=1.0, depth_mm=(0, 1), outline_mm=((0, 0), (10, 100)))
    >>> density_of(box_of_water)
    1000.0
    """
    if part.mass_g is None or part.depth_mm is None or len(part.outline_mm) != 2:
        return None
    (x1, x2), (y1, y2) = box(part)
    volume = (x2 - x1) * (y2 - y1) * abs(part.depth_mm[1] - part.depth_mm[0])
    return part.mass_g / volume * 1e6 if volume > 0 else None


def within(value: float, usual: Range) -> bool:
    """Whether a density from a mass can be that of this material, some of it hollow."""
    return 0.6 * usual.low <= value <= 1.25 * usual.high


def bond_region(bond: Bond, *, own: bool) -> Region:
    """The adhesive of a bond."""
    row = bond.row
    return Region(
        f"bond:{bond.joint}",
        "bond" if own else "other-bond",
        "",
        row.key,
        row.through_w_mk,
        row.plane_w_mk,
        row.capacity_j_m3k,
        Range.of(row.emissivity),
        row.rests_on,
    )


def rim_region(base: Part, found: tuple[float, Span]) -> tuple[Region, str]:
    """The rim of a frame whose plate alone is recorded: its material, as full as the frame's mass says."""
    row, _ = of_part(base)
    fill = fill_of(base, found, Range.of(row.density).usual)
    region = Region(
        f"{base.id}:rim",
        "rim",
        base.id,
        row.key,
        row.through_w_mk.times(fill),
        row.plane_w_mk.times(fill),
        Range.around(row.capacity_j_m3k.usual * fill, 0.3),
        Range.of(row.emissivity),
        row.rests_on,
        row.metal,
    )
    note = f"assumed: the rim of {base.id} is {found[0]:.1f} mm wide, {found[1][1] - found[1][0]:.1f} mm high"
    return region, f"{note} and {fill:.0%} {row.key.replace('_', ' ')}"


def fill_of(base: Part, found: tuple[float, Span], density: float) -> float:
    """Share of a rim that is solid: what the frame weighs beyond its plate over the rim's volume.

    >>> plate = Part(id="f", name="F", mass_g=21.0, depth_mm=(0, 1), outline_mm=((0, 0), (50, 100)))
    >>> round(fill_of(plate, (2.0, (0.0, 6.0)), 2700.0), 2)
    0.93
    """
    if base.mass_g is None or base.depth_mm is None or len(base.outline_mm) < 2:
        return 1.0
    (x1, x2), (y1, y2) = box(base)
    plate = (x2 - x1) * (y2 - y1) * abs(base.depth_mm[1] - base.depth_mm[0])
    high = found[1][1] - found[1][0] - abs(base.depth_mm[1] - base.depth_mm[0])
    rim = 2.0 * (x2 - x1 + y2 - y1) * found[0] * max(high, 0.1)
    return min(1.0, max(LEAST_FILL, (base.mass_g / density * 1e6 - plate) / rim))


def air(thickness_mm: float) -> Region:
    """Still air in a gap, radiation across it included."""
    radiation = GAP_RADIATION_W_M2K * thickness_mm / 1000.0
    through = Range(*(value + radiation for value in AIR_CONDUCTIVITY_W_MK))
    return Region(
        f"air:{thickness_mm:.2f}",
        "gap",
        "",
        "air",
        through,
        Range(*AIR_CONDUCTIVITY_W_MK),
        Range(*AIR_CAPACITY_J_M3K),
        Range(0.8, 0.85, 0.95),
        "[bench-physics-calc, still air gap]",
    )


def filled(
    record: Record, parts: Mapping[str, Part], between: tuple[str, str], thickness_mm: float
) -> Region | None:
    """What fills a gap between two parts beside air: bonds and thermal layers, by their share of the area."""
    first, second = between
    if not first or not second or first == second:
        return None
    common = area(meeting([parts[first], parts[second]]))
    still = air(thickness_mm)
    through, plane, capacity = still.through_w_mk, still.plane_w_mk, still.capacity_j_m3k
    names = []
    for joint in record.joints:
        if joint.kind == "adhesive" and {first, second} <= set(joint.holds) and common:
            row = named(joint.material) or materials()["acrylic"]
            share = min(1.0, (joint.area_mm2 or common) / common)
            through, plane = mixed(through, row.through_w_mk, share), mixed(plane, row.plane_w_mk, share)
            capacity = mixed(capacity, row.capacity_j_m3k, share)
            names.append(joint.id)
    for layer in record.layers:
        if {first, second} == set(layer.between) and common:
            through, plane = with_layer(layer, (through, plane), common, thickness_mm)
            names.append(layer.id)
    if not names:
        return None
    return Region(
        f"gap:{first}:{second}:{thickness_mm:.2f}",
        "gap",
        "",
        " and ".join(names),
        through,
        plane,
        capacity,
        still.emissivity,
        "layers and bonds of the record over their share of the area",
    )


def with_layer(
    layer: Layer, conductivity: tuple[Range, Range], common_mm2: float, thickness_mm: float
) -> tuple[Range, Range]:
    """Conductivity of a gap through and in plane, with one thermal layer in it."""
    through, plane = conductivity
    share = min(1.0, (layer.area_mm2 or common_mm2) / common_mm2)
    value = layer.conductivity_w_mk
    if value is None:
        return through, plane
    if layer.kind in SHEETS:
        part = share * min(1.0, (layer.thickness_mm or 0.05) / max(thickness_mm, 0.01))
        return through, mixed(plane, Range.around(float(value), 0.3), part)
    return mixed(through, Range.around(float(value), 0.3), share), mixed(
        plane, Range.around(float(value), 0.3), share
    )


def mixed(air_there: Range, solid: Range, share: float) -> Range:
    """Two side by side, the second over a share of the area.

    >>> mixed(Range(0, 0, 0), Range(1, 2, 3), 0.5)
    Range(low=0.5, usual=1.0, high=1.5)
    """
    return Range(
        air_there.low * (1 - share) + solid.low * share,
        air_there.usual * (1 - share) + solid.usual * share,
        air_there.high * (1 - share) + solid.high * share,
    )
