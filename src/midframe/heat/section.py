"""The section through a bond: rectangles of material between lines across and lines of depth."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import msgspec

from midframe.faults import RecordFault
from midframe.heat.bonds import Bond, bond_of, rim_bonds
from midframe.heat.cut import Cut, aside, box, cut_for, is_cell, joint_named, lacking, usable
from midframe.heat.materials import CONTACT_M2KW, Range, materials
from midframe.heat.regions import Region, air, bond_region, filled, part_region, rim_region
from midframe.record.findings import fault
from midframe.record.model import Joint, Part, Record
from midframe.record.outline import Span

SNAP_MM = 0.01
"""Depths closer than this are one (own construction); also the thickness that stands for a contact."""

GLASS_MM = 0.6
GLASS_SHARE = 0.4
"""Cover glass of a display: this thickness, at most this share of it (from memory)."""

PANEL_INSET_MM = 2.0
"""The picture of a display ends this far from its edge (from memory)."""

RIM_STEP_MM = 1.5
"""The rim follows a bond on the other side that is wider by less than this (own construction)."""

VOID, GAP = -1, -2


class Section(msgspec.Struct, frozen=True):
    """Rectangles of material: `cells[column][row]` is the number of a region, −1 where there is nothing.

    `across_mm` are the lines across, from the edge (0) to the middle; `depth_mm` the lines of depth from
    the front surface. `side` is the face that is heated. `rests_on` says what was assumed.
    """

    device: str
    side: str
    bond: Bond
    cut: Cut
    across_mm: tuple[float, ...]
    depth_mm: tuple[float, ...]
    cells: tuple[tuple[int, ...], ...]
    regions: tuple[Region, ...]
    gone: tuple[str, ...]
    left_out: tuple[str, ...]
    rests_on: tuple[str, ...]
    panel_from_mm: float

    def numbers(self, kind: str) -> frozenset[int]:
        """Numbers of the regions of one kind."""
        return frozenset(number for number, region in enumerate(self.regions) if region.kind == kind)

    @property
    def has_cell(self) -> bool:
        """Whether a cell lies in the section."""
        return bool(self.numbers("cell"))


def section(record: Record, joint_name: str) -> Section:
    """The section of one bond.

    Parameters
    ----------
    record
        A record free of faults.
    joint_name
        Id or name of an adhesive joint.

    Raises
    ------
    UnknownPart
        Where there is no such joint.
    RecordFault
        Where the joint is no bond, or the record lacks depths, outlines or a softening temperature.

    Examples
    --------
    >>> from midframe import demo
    >>> found = section(demo.load("tern-3"), "back-bond")
    >>> found.side, found.cut.edge, round(found.cut.length_mm, 1)
    ('back', 'left', 37.4)
    """
    joint = joint_named(record, joint_name)
    gone = aside(record, joint)
    parts = {part.id: part for part in record.parts}
    held = [parts[name] for name in joint.holds if name in parts]
    cells = [part for part in record.parts if is_cell(part) and part.id not in gone]
    if findings := lacking(record, unique(held, cells)):
        raise RecordFault(findings)
    cover, base, side = sides(joint, held)
    bond = bond_of(joint, cover, base, side)
    there = [part for part in record.parts if part.id not in gone and usable(part)]
    cut = cut_for(joint, cover, base, there)
    found = Builder(record, bond, side, cut, {p.id: p for p in there}, gone).built()
    if not found.numbers("bond"):
        what = f"{cover.id} and {base.id} beside one another, not one over the other"
        right = "a bond between parts that lie over one another: depths and outlines that meet"
        raise RecordFault([fault("joints.holds", joint.id, what, right)])
    return found


def unique(*groups: Iterable[Part]) -> list[Part]:
    """The parts of all groups, once each."""
    return list({part.id: part for group in groups for part in group}.values())


def sides(joint: Joint, held: list[Part]) -> tuple[Part, Part, str]:
    """Which part lies on the heated side, which beneath the bond, and the side."""
    front, *_, back = sorted(held, key=lambda part: sum(part.depth_mm or (0.0, 0.0)))
    if joint.face == "back":
        return back, front, "back"
    if joint.face == "front":
        return front, back, "front"
    smaller = min(held, key=area_of)
    return (front, back, "front") if smaller is front else (back, front, "back")


def area_of(part: Part) -> float:
    """Area of the box around a part's outline, mm²."""
    (x1, x2), (y1, y2) = box(part)
    return (x2 - x1) * (y2 - y1)


class Builder:
    """One section in the making: regions by name, cells by column and row."""

    def __init__(
        self,
        record: Record,
        bond: Bond,
        side: str,
        cut: Cut,
        parts: dict[str, Part],
        gone: frozenset[str],
    ) -> None:
        self.record, self.bond, self.side, self.cut = record, bond, side, cut
        self.parts, self.gone = parts, gone
        self.regions: dict[str, Region] = {}
        self.notes: dict[str, None] = {}
        self.bonds = rim_bonds(record, bond, set(parts))
        self.placed = [placed for one in self.bonds if (placed := self.place(one)) is not None]

    def place(self, bond: Bond) -> tuple[Bond, Span, Span] | None:
        """Where a bond lies in the section: span across, span of depth; `None` where the cut misses it."""
        spans, beneath = self.cut.spans.get(bond.cover), self.cut.spans.get(bond.base)
        if not spans or not beneath:
            return None
        start, end = max(spans[0][0], beneath[0][0]), min(spans[-1][1], beneath[-1][1])
        if start >= end:
            return None
        if bond.width_mm is not None:
            start = spans[0][0]
            if self.cut.begins_mm[bond.cover] < -SNAP_MM:
                return None
            end = min(end, start + bond.width_mm)
        low, high = self.depth(bond.cover)
        thick = bond.thickness_mm.usual
        inside = (low - thick, low) if bond.side == "back" else (high, high + thick)
        return bond, (start, end), inside

    def depth(self, part: str) -> Span:
        """A part's depth, in order."""
        low, high = sorted(self.parts[part].depth_mm or (0.0, 0.0))
        return low, high

    def number(self, region: Region) -> int:
        """The number of a region, new or known."""
        self.regions.setdefault(region.key, region)
        return list(self.regions).index(region.key)

    def slabs(self) -> list[tuple[Part, Span, Span, str]]:
        """Parts as rectangles, the ones that win where two overlap first; the display in glass and panel."""
        found = []
        for name, spans in self.cut.spans.items():
            part, depth = self.parts[name], self.depth(name)
            if depth[1] - depth[0] < SNAP_MM:
                continue
            pieces = [(depth, "")]
            if part.role == "display" and "folding" not in part.material:
                glass = min(GLASS_MM, GLASS_SHARE * (depth[1] - depth[0]))
                outer_low = self.facing(part) == "front"
                cut = depth[0] + glass if outer_low else depth[1] - glass
                pieces = [((depth[0], cut), "glass"), ((cut, depth[1]), "panel")]
                pieces = pieces if outer_low else [((depth[0], cut), "panel"), ((cut, depth[1]), "glass")]
            found += [(part, span, piece, what) for span in spans for piece, what in pieces]
        return sorted(found, key=self.rank)

    def facing(self, part: Part) -> str:
        """The face that a part lies nearer to."""
        thickness = max(self.depth(name)[1] for name in self.parts)
        low, high = self.depth(part.id)
        return "front" if low + high < thickness else "back"

    def rank(self, slab: tuple[Part, Span, Span, str]) -> tuple[int, float]:
        """Who wins where two parts claim the same place: cover, cell, display, then the thinner one."""
        part, _, depth, _ = slab
        first = {self.bond.cover: 0, self.bond.base: 3}.get(part.id, 1 if is_cell(part) else 4)
        return (2 if part.role in ("display", "back_cover") and first > 1 else first, depth[1] - depth[0])

    def built(self) -> Section:
        """The section with gaps, rim, bonds and contacts filled in."""
        across, depth = self.lines()
        cells = [[self.cell(mid(a), mid(d)) for d in pairs_of(depth)] for a in pairs_of(across)]
        for number, column in enumerate(cells):
            span = pairs_of(across)[number]
            self.fill_rim(column, mid(span), depth)
            self.fill_gaps(column, depth)
            self.contacts(column, depth)
        used = sorted({number for column in cells for number in column if number >= 0})
        new = {old: place for place, old in enumerate(used)} | {VOID: VOID}
        regions = list(self.regions.values())
        return Section(
            device=self.record.device.name,
            side=self.side,
            bond=self.bond,
            cut=self.cut,
            across_mm=tuple(across),
            depth_mm=tuple(depth),
            cells=tuple(tuple(new[number] for number in column) for column in cells),
            regions=tuple(regions[number] for number in used),
            gone=tuple(sorted(self.gone)),
            left_out=tuple(sorted(self.missing())),
            rests_on=tuple(dict.fromkeys([*self.bond.rests_on, *self.notes])),
            panel_from_mm=self.panel_from(),
        )

    def missing(self) -> set[str]:
        """Parts that are there and whose place is not recorded."""
        return {p.id for p in self.record.parts if not usable(p)} - self.gone

    def panel_from(self) -> float:
        """Where the picture of a display begins, from the start of the section."""
        starts = [
            self.cut.spans[name][0][0]
            for name, part in self.parts.items()
            if part.role == "display" and name in self.cut.spans
        ]
        return min(starts, default=0.0) + PANEL_INSET_MM

    def lines(self) -> tuple[list[float], list[float]]:
        """All lines across and of depth at which the material may change."""
        across = {0.0, self.cut.length_mm, *(end for _, span, _ in self.placed for end in span)}
        across |= {end for spans in self.cut.spans.values() for span in spans for end in span}
        across.add(min(self.panel_from(), self.cut.length_mm))
        depth = {end for slab in self.slabs() for end in slab[2]}
        depth |= {end for _, _, inside in self.placed for end in inside}
        thick = sorted(merged(depth, SNAP_MM))
        touching = {round(line + SNAP_MM, 4) for line in thick[1:-1]}
        return sorted(merged(across, 0.05)), sorted(merged({*thick, *touching}, SNAP_MM * 0.9))

    def cell(self, across: float, depth: float) -> int:
        """The region at a place, GAP where there is none yet."""
        for bond, span, inside in self.placed:
            if span[0] < across < span[1] and inside[0] < depth < inside[1]:
                return self.number(bond_region(bond, own=bond.joint == self.bond.joint))
        for part, span, piece, what in self.slabs():
            if span[0] < across < span[1] and piece[0] < depth < piece[1]:
                region, note = part_region(part, what)
                self.notes.update({note: None} if note else {})
                return self.number(region)
        return GAP

    def rim(self) -> tuple[float, Span] | None:
        """How wide and how deep the frame's rim is; `None` where the frame itself meets the bond."""
        own = next((p for p in self.placed if p[0].joint == self.bond.joint), None)
        if own is None or self.bond.width_mm is None:
            return None
        base = self.depth(self.bond.base)
        inner = own[2][0] if self.side == "back" else own[2][1]
        gap = inner - base[1] if self.side == "back" else base[0] - inner
        if gap <= SNAP_MM:
            return None
        across, ends, closed = own[1][1], [inner, *base], False
        for bond, span, inside in self.placed:
            if bond.side != self.side and bond.base == self.bond.base and bond.width_mm is not None:
                across = span[1] if 0.0 < span[1] - across < RIM_STEP_MM else across
                ends.append(inside[1] if bond.side == "front" else inside[0])
                closed = True
        if not closed and self.bond.base == self.record.device.body:
            ends += self.outer_face(own[1], base)
        return across, (min(ends), max(ends))

    def outer_face(self, span: Span, base: Span) -> list[float]:
        """Inner face of what closes the other side of the body, where no bond of the record says it."""
        beyond = []
        for name, spans in self.cut.spans.items():
            low, high = self.depth(name)
            if self.parts[name].role in ("display", "back_cover") and overlapping(spans, span):
                if self.side == "front" and low >= base[1]:
                    beyond.append(low)
                if self.side == "back" and high <= base[0]:
                    beyond.append(high)
        return beyond[:1]

    def fill_rim(self, column: list[int], across: float, depth: list[float]) -> None:
        """Frame material where the frame's rim carries the bond; the record gives the plate only."""
        found = self.rim()
        base_spans = self.cut.spans.get(self.bond.base, ())
        if found is None or across > found[0] or not any(a < across < b for a, b in base_spans):
            return
        region, note = rim_region(self.parts[self.bond.base], found)
        self.notes[note] = None
        for row, place in enumerate(pairs_of(depth)):
            if column[row] == GAP and found[1][0] < mid(place) < found[1][1]:
                column[row] = self.number(region)

    def fill_gaps(self, column: list[int], depth: list[float]) -> None:
        """What lies between parts: recorded layers and bonds over their share of the area, air elsewhere."""
        solid = [row for row, number in enumerate(column) if number >= 0]
        for row, number in enumerate(column):
            if number != GAP:
                continue
            if not solid or row < solid[0] or row > solid[-1]:
                column[row] = VOID
                continue
            above = max(r for r in solid if r < row)
            below = min(r for r in solid if r > row)
            first, second = self.owner(column[above]), self.owner(column[below])
            thick = depth[below] - depth[above + 1]
            region = filled(self.record, self.parts, (first, second), thick) or air(thick)
            column[row] = self.number(region)

    def owner(self, number: int) -> str:
        """The part that a region belongs to; empty for bonds."""
        return list(self.regions.values())[number].part

    def contacts(self, column: list[int], depth: list[float]) -> None:
        """A thin row of resistance where two parts touch without a bond."""
        kinds = list(self.regions.values())
        before = list(column)
        for row in range(1, len(column)):
            upper, lower = before[row - 1], before[row]
            thin = depth[row + 1] - depth[row] <= 1.5 * SNAP_MM
            if upper < 0 or lower < 0 or upper == lower or not thin:
                continue
            if {kinds[upper].part, kinds[lower].part} & {""} or kinds[upper].part == kinds[lower].part:
                continue
            if kinds[upper].key.startswith("air") or kinds[lower].key.startswith("air"):
                continue
            column[row] = self.number(contact_region(depth[row + 1] - depth[row]))


def contact_region(thickness_mm: float) -> Region:
    """A row that stands for the contact of two dry parts."""
    low, usual, high = CONTACT_M2KW
    through = Range(*(thickness_mm / 1000.0 / value for value in (high, usual, low)))
    row = materials()["silicone"]
    return Region(
        "contact",
        "contact",
        "",
        "contact",
        through,
        through,
        Range.around(1e5, 0.5),
        Range.of(row.emissivity),
    )


def overlapping(spans: tuple[Span, ...], other: Span) -> bool:
    """Whether one of the spans meets the other."""
    return any(low < other[1] and other[0] < high for low, high in spans)


def pairs_of(lines: list[float]) -> list[Span]:
    """Neighbouring lines as spans."""
    return list(pairwise(lines))


def mid(span: Span) -> float:
    """The middle of a span."""
    return (span[0] + span[1]) / 2.0


def merged(lines: Iterable[float], least: float) -> list[float]:
    """Lines in order; those closer than `least` to the one before are dropped.

    >>> merged([0.0, 0.004, 1.0], 0.01)
    [0.0, 1.0]
    """
    kept: list[float] = []
    for line in sorted(round(line, 4) for line in lines):
        if not kept or line - kept[-1] >= least - 1e-9:
            kept.append(line)
    return kept
