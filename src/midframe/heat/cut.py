"""Where the section lies: which parts are still there, across which edge, through which line."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.faults import RecordFault, UnknownPart
from midframe.record.findings import Finding, fault
from midframe.record.model import Joint, Part, Record
from midframe.record.outline import Span, crossings
from midframe.record.structure import riders

REACH_MM = 8.0
"""The section reaches this far beyond what is heated where the device goes on (own construction)."""

SEEN_MM = 0.05
NARROWEST_MM = 1.5
"""Parts that a section meets on less than this are left out of it (own construction)."""

EDGES = ("left", "right", "top", "bottom")


class Cut(msgspec.Struct, frozen=True):
    """A line across a device: the edge it starts at, where it runs, from the edge to the middle.

    `line_mm` is the coordinate of the line along the edge, `start_mm` and `end_mm` the coordinates of
    its ends across; `spans` are the parts that the line meets, as spans of the distance from the start;
    `begins_mm` says where a part really begins, below 0 where that lies outside the section.
    """

    edge: str
    line_mm: float
    start_mm: float
    end_mm: float
    spans: dict[str, tuple[Span, ...]]
    begins_mm: dict[str, float]

    @property
    def length_mm(self) -> float:
        """Length of the section."""
        return abs(self.end_mm - self.start_mm)


def joint_named(record: Record, name: str) -> Joint:
    """The adhesive joint of this id or name.

    Raises
    ------
    UnknownPart
        Where the record has no such joint.
    RecordFault
        Where the joint is no bond.
    """
    joints = {joint.id: joint for joint in record.joints}
    bonds = ", ".join(joint.id for joint in record.joints if joint.kind == "adhesive") or "none"
    same = [j for j in record.joints if j.name and j.name.casefold() == name.casefold()]
    joint = joints.get(name) or (same[0] if len(same) == 1 else None)
    if joint is None:
        raise UnknownPart(f"no joint '{name}' in the record; its adhesive joints: {bonds}")
    if joint.kind != "adhesive":
        raise RecordFault(
            [
                fault(
                    "joints.kind",
                    joint.id,
                    f"a {joint.kind}",
                    f"an adhesive joint, which heat can soften: {bonds}",
                )
            ]
        )
    return joint


def aside(record: Record, joint: Joint) -> frozenset[str]:
    """Parts that have left before the joint is reached, by the first alternative of each condition."""
    parts = {part.id: part for part in record.parts}
    along = riders(record)
    gone: set[str] = set()
    waiting = [name for group in joint.behind[:1] for name in group]
    while waiting:
        name = waiting.pop()
        if name in gone or name not in parts or name in joint.holds or name == record.device.body:
            continue
        gone.add(name)
        waiting += along[name]
        waiting += [other for group in parts[name].under[:1] for other in group]
        for other in record.joints:
            if name in other.holds:
                waiting += [part for group in other.behind[:1] for part in group]
    return frozenset(gone)


def box(part: Part) -> tuple[Span, Span]:
    """The outline's extent in x and y."""
    xs, ys = [x for x, _ in part.outline_mm], [y for _, y in part.outline_mm]
    return (min(xs), max(xs)), (min(ys), max(ys))


def usable(part: Part) -> bool:
    """Whether a part says where it lies."""
    return part.depth_mm is not None and len(part.outline_mm) >= 2


def lacking(record: Record, needed: Iterable[Part]) -> list[Finding]:
    """What a section needs and the record does not say, one finding each."""
    found = []
    for part in needed:
        number = record.parts.index(part)
        if part.depth_mm is None:
            found.append(
                fault(
                    f"parts[{number}].depth_mm",
                    part.id,
                    "no depth",
                    "from where to where the part lies, in mm from the front surface",
                )
            )
        if len(part.outline_mm) < 2:
            found.append(
                fault(
                    f"parts[{number}].outline_mm",
                    part.id,
                    "no outline",
                    "two opposite corners or a polygon, in mm on the plan seen from the front",
                )
            )
    return found


def meeting(parts: Iterable[Part]) -> tuple[Span, Span]:
    """The box in which all these parts lie over one another; may be empty (low above high)."""
    boxes = [box(part) for part in parts]
    return tuple(  # type: ignore[return-value]
        (max(b[axis][0] for b in boxes), min(b[axis][1] for b in boxes)) for axis in (0, 1)
    )


def edge_cut(edge: str, line: float, cover: Part, base: Part, rim: bool) -> tuple[float, float] | None:
    """Start and end of the section from one edge of the cover to its middle, if the base reaches there."""
    axis = 1 if edge in ("left", "right") else 0
    spans = crossings(cover.outline_mm, line, axis)
    beneath = crossings(base.outline_mm, line, axis)
    if not spans or not beneath:
        return None
    (low, high), (base_low, base_high) = (spans[0][0], spans[-1][1]), (beneath[0][0], beneath[-1][1])
    middle = (low + high) / 2.0 if rim else (max(low, base_low) + min(high, base_high)) / 2.0
    if edge in ("left", "top"):
        if rim and base_low > low + REACH_MM:
            return None
        return max(min(base_low, low), low - REACH_MM), middle
    if rim and base_high < high - REACH_MM:
        return None
    return min(max(base_high, high), high + REACH_MM), middle


def cut_for(joint: Joint, cover: Part, base: Part, present: Iterable[Part]) -> Cut:
    """The section of a bond: across the edge where a cell lies nearest to it, through that cell's middle.

    Raises
    ------
    RecordFault
        Where cover and base do not lie over one another.
    """
    there = list(present)
    cells = [part for part in there if is_cell(part) and overlap(meeting([cover, part]))]
    cells.sort(key=lambda part: -area(meeting([cover, part])))
    choices = []
    for edge in EDGES:
        axis = 1 if edge in ("left", "right") else 0
        over = [cover, base, *cells[:1]]
        span = meeting(over)[axis]
        if span[0] >= span[1]:
            span = meeting([cover, base])[axis]
        if span[0] >= span[1]:
            continue
        line = (span[0] + span[1]) / 2.0
        ends = edge_cut(edge, line, cover, base, joint.width_mm is not None)
        if ends is not None:
            spans, begins = spans_on(there, (cover.id, base.id), axis, line, ends)
            cut = Cut(edge, line, *ends, spans, begins)
            near = min((s[0] for c in cells for s in cut.spans.get(c.id, ())), default=1e6)
            choices.append((round(near, 3), EDGES.index(edge), cut))
    if not choices:
        raise RecordFault(
            [
                fault(
                    "joints.holds",
                    joint.id,
                    f"{cover.id} and {base.id}, whose outlines have no place in common",
                    "outlines in one coordinate system: x from the left, y from the top, seen from the front",
                )
            ]
        )
    return min(choices, key=lambda choice: choice[:2])[2]


def spans_on(
    parts: Iterable[Part], kept: tuple[str, str], axis: int, line: float, ends: tuple[float, float]
) -> tuple[dict[str, tuple[Span, ...]], dict[str, float]]:
    """The parts that a section meets, as spans of the distance from its start, and where each begins."""
    found: dict[str, tuple[Span, ...]] = {}
    begins: dict[str, float] = {}
    start, end = ends
    length, sign = abs(end - start), 1.0 if end > start else -1.0
    for part in parts:
        spans = []
        for low, high in crossings(part.outline_mm, line, axis):
            near, far = sorted((sign * (low - start), sign * (high - start)))
            begins[part.id] = min(near, begins.get(part.id, near))
            near, far = max(0.0, near), min(length, far)
            if far - near >= (SEEN_MM if part.id in kept else min(NARROWEST_MM, length)):
                spans.append((round(near, 3), round(far, 3)))
        if spans:
            found[part.id] = tuple(sorted(spans))
    return found, begins


def is_cell(part: Part) -> bool:
    """Whether a part is a battery, by its role or one of its further roles."""
    return part.role == "battery" or "battery" in part.also


def overlap(meeting_box: tuple[Span, Span]) -> bool:
    """Whether a box is not empty."""
    return all(low < high for low, high in meeting_box)


def area(meeting_box: tuple[Span, Span]) -> float:
    """Area of a box, mm²; 0 for an empty one."""
    (x1, x2), (y1, y2) = meeting_box
    return max(0.0, x2 - x1) * max(0.0, y2 - y1)
