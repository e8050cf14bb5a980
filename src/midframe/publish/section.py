"""The section through the stack: parts as slabs at their depth, the way in as the slabs that rise."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

import msgspec

from midframe.faults import UnknownPart
from midframe.publish.icons import adhesive, icon
from midframe.publish.labels import LINE, drawn, place
from midframe.publish.language import language
from midframe.publish.names import title_of
from midframe.publish.places import Places, Slab, hull, joint_at, places
from midframe.publish.svg import cut, drawing, element, linked, path, titled, width_of, words
from midframe.record.model import Face, Joint, Record
from midframe.ways.bench import lift_face
from midframe.ways.way import Way

WIDTH = 360.0
MARGIN = 8.0
STACK = 96.0
"""Height of the closed device in the drawing, units; depths are stretched to it."""

RISE = 26.0
"""Space between a raised slab and what is below it, units: room for its name."""

THINNEST = 2.0
NAMED_JOINTS = 4
"""No more marked joints than this are named; beyond, the drawing shows the marks only."""


class Frame(msgspec.Struct, frozen=True):
    """How millimetres become drawing units: `top` is where the upper side of the closed device lies.

    `links` are the addresses that slabs lead to, by part; `code` is the language of the words.
    """

    found: Places
    up: Face
    top: float
    links: Mapping[str, str] = msgspec.field(default_factory=dict)
    code: str = "en"

    def say(self, key: str, /, **values: str | int) -> str:
        """A message in the language of the drawing."""
        return language(self.code).say(key, **values)

    @property
    def along_scale(self) -> float:
        """Units per millimetre along the device."""
        low, high = self.found.along
        return (WIDTH - 2 * MARGIN) / (high - low)

    @property
    def depth_scale(self) -> float:
        """Units per millimetre of depth."""
        low, high = self.found.depth
        return STACK / (high - low)

    def x(self, along: float) -> float:
        """The abscissa of a place along the device."""
        return MARGIN + (along - self.found.along[0]) * self.along_scale

    def y(self, depth: float) -> float:
        """The ordinate of a depth; the side worked from is up."""
        low, high = self.found.depth
        from_top = depth - low if self.up == "front" else high - depth
        return self.top + from_top * self.depth_scale

    def rectangle(
        self, span: tuple[float, float], depth: tuple[float, float]
    ) -> tuple[float, float, float, float]:
        """Left, top, width, height of a slab; never thinner than can be seen."""
        top, bottom = sorted((self.y(depth[0]), self.y(depth[1])))
        left, right = self.x(span[0]), self.x(span[1])
        return left, top, max(right - left, THINNEST), max(bottom - top, THINNEST)


def stack_drawing(  # noqa: PLR0913 - the last is keyword-only
    record: Record,
    raised: Sequence[Sequence[str]] = (),
    gone: Collection[str] = (),
    marked_joints: Sequence[str] = (),
    target: str = "",
    up: Face = "back",
    *,
    links: Mapping[str, str] | None = None,
    code: str = "en",
) -> str:
    """The section as SVG text, 360 units wide, cut through the middle of the target.

    Parameters
    ----------
    raised
        Groups of parts that rise, in the order in which they leave: the first rises highest. The
        first part of a group gives its name.
    gone
        Parts that left before: their places stay as dotted outlines.
    marked_joints
        Joints shown with the mark of their kind; up to four are named.
    target
        The part the work is for: hatched and named, and the section is cut through it.
    up
        The side that is worked from. Parts taken out at the edge are shown in their place.
    links
        Addresses by part id: these slabs are links, with their name inside where there is room.
    code
        The language of what the drawing says.

    Raises
    ------
    UnknownPart
        Where an id is not one of the record's.
    """
    known(
        record, [*gone, *(part for group in raised for part in group), *filter(None, [target])], marked_joints
    )
    found = places(record, target)
    rising = [group for group in raised if group and not at_edge(record, group)]
    sideways = {part for group in raised if group and at_edge(record, group) for part in group}
    flat = [part for group in rising for part in group]
    heights = [group_height(found, group) for group in rising]
    frame = Frame(found, up, MARGIN + sum(height + RISE for height in heights), links or {}, code)
    missing = (set(gone) - sideways) | set(flat)
    marks = [joint for joint in record.joints if joint.id in set(marked_joints)]
    held = {part for joint in marks for part in joint.holds}
    layers = [
        *(
            slab_drawn(record, frame, slab, target, shown=held | sideways | {target}, raised=sideways)
            for slab in standing(record, found, missing, {target} | sideways)
        ),
        *(ghost(frame, found.slabs[part]) for part in found.slabs if part in missing),
        *risen(record, frame, rising, heights, target),
        *(mark(frame, joint) for joint in marks),
    ]
    named = [part for part in (target, *sideways) if part and part not in flat]
    labels = place(anchors(record, frame, marks, named, sideways), frame.top + STACK + 8, WIDTH)
    foot = frame.top + STACK + 8 + LINE * (1 + max((label.row for label in labels), default=-1))
    side = words(WIDTH - MARGIN, foot + 10, frame.say("section-up", face=up), "d-text d-small", "end")
    name = frame.say("section-name", device=record.device.name)
    told = told_in_words(record, frame, rising, marks, target)
    content = [*layers, drawn(labels), side]
    return drawing(WIDTH, foot + 16, name, told, content, role="group" if links else "img")


def way_drawing(record: Record, way: Way) -> str:
    """The section with all that a way lifts, what leaves first highest, the target hatched."""
    lifted = [
        (*move.move.lift, *(part for part in move.group if part not in move.move.lift))
        for move in way.count.moves
        if move.move.lift
    ]
    faces = [move.face for move in way.count.moves]
    up: Face = "front" if faces.count("front") > faces.count("back") else "back"
    return stack_drawing(record, lifted, target=way.target, up=up)


def known(record: Record, parts: Iterable[str], joints: Iterable[str]) -> None:
    """Raises `UnknownPart` with every id that the record does not hold."""
    lacking = sorted(set(parts) - {part.id for part in record.parts})
    lacking += sorted(set(joints) - {joint.id for joint in record.joints})
    if lacking:
        raise UnknownPart(
            f"the section cannot show {', '.join(lacking)}: no such part or joint in the record"
        )


def standing(record: Record, found: Places, missing: set[str], over: set[str]) -> list[Slab]:
    """The slabs in their place: the body first, as others reach through it; what it is about last."""
    slabs = [slab for part, slab in found.slabs.items() if part not in missing]
    return sorted(slabs, key=lambda slab: (slab.part in over, not slab.cut, slab.part != record.device.body))


def group_height(found: Places, group: Sequence[str]) -> float:
    """Height of a group of slabs in the drawing."""
    low, high = hull(found.slabs[part].depth for part in group)
    whole = found.depth[1] - found.depth[0]
    return max(THINNEST, (high - low) / whole * STACK)


def at_edge(record: Record, group: Sequence[str]) -> bool:
    """Whether a group leaves through the edge: it does not rise."""
    return any(part.id == group[0] and lift_face(part, record.joints) == "edge" for part in record.parts)


def slab_drawn(
    record: Record, frame: Frame, slab: Slab, target: str, *, shown: set[str], raised: set[str]
) -> str:
    """One slab in its place; what the plane misses is left out unless it matters here."""
    if not slab.cut and slab.part not in shown:
        return ""
    kind = "d-slab" if slab.cut else "d-beside"
    if slab.part == record.device.body:
        kind = "d-body"
    if slab.part in raised:
        kind += " d-raised"
    return solid(record, frame, slab, f"{kind} d-target" if slab.part == target else kind, 0.0)


def solid(record: Record, frame: Frame, slab: Slab, class_: str, shift: float) -> str:
    """A slab as rectangles, moved up by `shift`, hatched where it is the target."""
    shapes = []
    for span in slab.spans:
        left, top, wide, high = frame.rectangle(span, slab.depth)
        shapes.append(element("rect", x=left, y=top - shift, width=wide, height=high, class_=class_))
        if "d-target" in class_:
            shapes.append(hatch(left, top - shift, wide, high))
    shape = titled("".join(shapes), name_of(record, slab.part))
    if slab.part not in frame.links:
        return shape
    name = name_of(record, slab.part)
    return linked(shape + inside(frame, slab, name, shift), frame.links[slab.part], name)


def inside(frame: Frame, slab: Slab, name: str, shift: float) -> str:
    """The name of a slab inside its widest piece, where there is room for it."""
    left, top, wide, high = max(
        (frame.rectangle(span, slab.depth) for span in slab.spans), key=lambda b: b[2]
    )
    if high < LINE or width_of(name) > wide:
        return ""
    return words(left + wide / 2, top - shift + high / 2 + 4, name, "d-text d-inside", "middle")


def hatch(left: float, top: float, wide: float, high: float) -> str:
    """Lines at 45 degrees inside a rectangle: the target is known without colour."""
    lines = []
    offset = 6.0
    while offset < wide + high:
        start = (left + min(offset, wide), top + max(0.0, offset - wide))
        end = (left + max(0.0, offset - high), top + min(offset, high))
        lines.append(path([start, end], "d-hatch"))
        offset += 6.0
    return "".join(lines)


def ghost(frame: Frame, slab: Slab) -> str:
    """The dotted place of a part that has left."""
    if not slab.cut:
        return ""
    boxes = (frame.rectangle(span, slab.depth) for span in slab.spans)
    return "".join(element("rect", x=x, y=y, width=w, height=h, class_="d-ghost") for x, y, w, h in boxes)


def risen(
    record: Record, frame: Frame, rising: Sequence[Sequence[str]], heights: Sequence[float], target: str
) -> Iterator[str]:
    """Every raised group over its place, with hairlines down to it and its name above it."""
    base = MARGIN
    for group, height in zip(rising, heights, strict=True):
        base += RISE
        slabs = [frame.found.slabs[part] for part in group]
        boxes = [frame.rectangle(slab.along, slab.depth) for slab in slabs]
        home = min(top for _, top, _, _ in boxes)
        shift = home - base
        lead = boxes[0]
        for x in (lead[0], lead[0] + lead[2]):
            yield element("line", x1=x, y1=lead[1] - shift + lead[3], x2=x, y2=lead[1], class_="d-leader")
        for slab in sorted(slabs, key=lambda slab: slab.cut):
            kind = "d-slab d-raised" if slab.cut else "d-beside d-raised"
            yield solid(record, frame, slab, f"{kind} d-target" if slab.part == target else kind, shift)
        name = name_of(record, group[0])
        if len(group) > 1:
            name = frame.say("section-group", part=name, more=len(group) - 1)
        name = cut(name, 44)
        left = max(MARGIN, min(lead[0], WIDTH - MARGIN - width_of(name, strong=target in group)))
        yield words(left, base - 5, name, "d-text d-strong" if target in group else "d-text")
        base += height


def mark(frame: Frame, joint: Joint) -> str:
    """The marks of one joint at its places; a bond runs along all of the meeting surface."""
    spots, depth, meeting = joint_at(joint, frame.found)
    y = frame.y(depth)
    if joint.kind == "adhesive":
        left, right = frame.x(meeting[0]), frame.x(meeting[1])
        return titled(adhesive((left + right) / 2, y, "d-mark", max(12.0, right - left)), title_of(joint))
    shapes, last = [], -100.0
    for spot in spots:
        x = frame.x(spot)
        if x - last >= 9:
            shapes.append(icon(joint.kind, x, y))
            last = x
    return titled("".join(shapes), title_of(joint))


def anchors(
    record: Record, frame: Frame, marks: Sequence[Joint], named: Sequence[str], sideways: set[str]
) -> Iterator[tuple[float, float, str]]:
    """The points that get a name below the drawing: parts in their place, and a few marked joints."""
    for part in dict.fromkeys(named):
        slab = frame.found.slabs[part]
        left, top, wide, high = frame.rectangle(slab.spans[-1], slab.depth)
        name = name_of(record, part)
        text = frame.say("section-edge", part=name) if part in sideways else name
        yield left + wide * 0.75, top + high, text
    if len(marks) <= NAMED_JOINTS:
        for joint in marks:
            spots, depth, _ = joint_at(joint, frame.found)
            yield frame.x(spots[0]), frame.y(depth) + 10, title_of(joint)


def name_of(record: Record, part: str) -> str:
    """The name of a part."""
    return next((found.name for found in record.parts if found.id == part), part)


def told_in_words(
    record: Record, frame: Frame, rising: Sequence[Sequence[str]], marks: Sequence[Joint], target: str
) -> str:
    """What the drawing shows, for those who do not see it."""
    said = [frame.say("section-told", face=frame.up, device=record.device.name)]
    for group in rising:
        said.append(frame.say("section-raised", parts=", ".join(name_of(record, part) for part in group)))
    if marks:
        said.append(frame.say("section-marked", joints=", ".join(title_of(joint) for joint in marks)))
    if target:
        said.append(frame.say("section-hatched", part=name_of(record, target)))
    return " ".join(said)


def stretch(record: Record, target: str = "") -> float | None:
    """How many times larger depth is drawn than length; nothing where only the order is drawn."""
    found = places(record, target)
    frame = Frame(found, "back", 0.0)
    return frame.depth_scale / frame.along_scale if found.true else None
