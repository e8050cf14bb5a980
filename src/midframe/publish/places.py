"""Where every part and joint lies in the section: from the record's figures, else from who sits on whom.

Coordinates in millimetres: `along` the longer side of the device from its
top, `depth` from the front surface towards the back.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.record.model import Condition, Joint, Part, Record
from midframe.record.outline import crossings
from midframe.record.structure import seats

Span = tuple[float, float]

ROW_MM = 1.0
"""Thickness of a row where the record knows no depths and only the order is drawn (own construction)."""

THIN_MM = 0.4
"""Thickness of a part whose own depth is unknown among parts whose depth is known (own construction)."""


class Slab(msgspec.Struct, frozen=True):
    """One part in the section: where it is cut or, if the plane misses it, where it lies beside the cut."""

    part: str
    spans: tuple[Span, ...]
    depth: Span
    cut: bool

    @property
    def along(self) -> Span:
        """From its first to its last end, along the device."""
        return self.spans[0][0], self.spans[-1][1]


class Places(msgspec.Struct, frozen=True):
    """Every slab by part id; `true` says whether depths are the record's own."""

    slabs: dict[str, Slab]
    along: Span
    depth: Span
    plane: float | None
    true: bool


def places(record: Record, through: str = "") -> Places:
    """The slabs of a record, cut through the middle of the part `through`, else of the device."""
    known = [part for part in record.parts if part.depth_mm is not None and part.outline_mm]
    if len(known) * 2 < len(record.parts):
        return by_order(record)
    plane = plane_of(record, through)
    slabs = {part.id: measured(part, plane) for part in known}
    for part in record.parts:
        if part.id not in slabs:
            slabs[part.id] = guessed(record, part, slabs)
    along = hull(slab.along for slab in slabs.values())
    return Places(slabs, along, hull(slab.depth for slab in slabs.values()), plane, True)


def hull(spans: Iterable[Span]) -> Span:
    """The least span that holds all of them."""
    ends = list(spans)
    return min(low for low, _ in ends), max(high for _, high in ends)


def plane_of(record: Record, through: str) -> float | None:
    """Distance of the cutting plane from the left edge: through the middle of a part, else of the device."""
    for part in record.parts:
        if part.id == (through or record.device.body) and part.outline_mm:
            low, high = hull((x, x) for x, _ in part.outline_mm)
            return (low + high) / 2
    return None


def measured(part: Part, plane: float | None) -> Slab:
    """The slab of a part that gives its depth and outline."""
    low, high = sorted(part.depth_mm or (0.0, 0.0))
    whole = hull((y, y) for _, y in part.outline_mm)
    spans = (whole,) if plane is None else crossings(part.outline_mm, plane)
    return Slab(part.id, spans or (whole,), (low, high), bool(spans))


def guessed(record: Record, part: Part, slabs: dict[str, Slab]) -> Slab:
    """A part without figures among measured ones: a thin slab on its seat, as wide as the seat."""
    seat = slabs.get(seats(record)[part.id] or "") or next(iter(slabs.values()))
    low, high = part.depth_mm or (
        (seat.depth[1], seat.depth[1] + THIN_MM)
        if part.face != "front"
        else (seat.depth[0] - THIN_MM, seat.depth[0])
    )
    spans = (hull((y, y) for _, y in part.outline_mm),) if part.outline_mm else seat.spans
    return Slab(part.id, spans, (min(low, high), max(low, high)), seat.cut)


def by_order(record: Record) -> Places:
    """Places from the order alone: each part one row above what it covers, rows shared side by side."""
    rows: dict[int, list[str]] = {}
    for part, row in levels(record).items():
        rows.setdefault(row, []).append(part)
    slabs = {}
    for row, parts in rows.items():
        wide = 100.0 / len(parts)
        for index, part in enumerate(parts):
            span = (index * wide + (1.0 if index else 0.0), (index + 1) * wide)
            slabs[part] = Slab(part, (span,), (row * ROW_MM, (row + 0.8) * ROW_MM), True)
    return Places(slabs, (0.0, 100.0), hull(slab.depth for slab in slabs.values()), None, False)


def levels(record: Record) -> dict[str, int]:
    """The row of every part: the body 0, back parts above, front parts below; covers lie further out."""
    covers: dict[str, set[str]] = {part.id: set() for part in record.parts}
    faces = {part.id: side_of(part, record.joints) for part in record.parts}
    over: list[tuple[Condition, tuple[str, ...]]] = [(part.under, (part.id,)) for part in record.parts]
    over += [(joint.behind, joint.holds) for joint in record.joints]
    for condition, beneath in over:
        for cover in condition[0] if condition else ():
            covers.get(cover, set()).update(part for part in beneath if part != cover)
    height = dict.fromkeys(covers, 1)
    for _ in covers:
        before = dict(height)
        for name, inside in covers.items():
            inner = [height[p] for p in inside if p != record.device.body and faces[p] == faces[name]]
            height[name] = min(len(covers), 1 + max(inner, default=0))
        if height == before:
            break
    body = record.device.body
    return {name: 0 if name == body else faces[name] * height[name] for name in covers}


def side_of(part: Part, joints: tuple[Joint, ...]) -> int:
    """1 for a part that is reached from the back, -1 from the front; the back where nothing says."""
    said = part.face or next((joint.face for joint in joints if part.id in joint.holds and joint.face), None)
    return -1 if said == "front" else 1


def joint_at(joint: Joint, found: Places) -> tuple[tuple[float, ...], float, Span]:
    """Where a joint is marked: places along, depth, and the span along which its parts meet."""
    slabs = [found.slabs[part] for part in joint.holds if part in found.slabs]
    meeting = overlap([slab.along for slab in slabs])
    depth = (
        joint.depth_mm
        if joint.depth_mm is not None and found.true
        else between([slab.depth for slab in slabs])
    )
    if joint.spots_mm and found.true:
        return tuple(sorted(y for _, y in joint.spots_mm)), depth, meeting
    if joint.kind == "clip":
        return meeting, depth, meeting
    return (sum(meeting) / 2,), depth, meeting


def overlap(spans: list[Span]) -> Span:
    """Where the spans meet; where they do not, the gap between them."""
    low, high = max(low for low, _ in spans), min(high for _, high in spans)
    return (low, high) if low <= high else (high, low)


def between(depths: list[Span]) -> float:
    """The depth of the surface where parts meet."""
    low, high = overlap(depths)
    return (low + high) / 2
