"""The screw sheet before it is drawn: every hole at its place, its kind, length and order out; the tiles."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import msgspec

from midframe.dossier.trays import Tray, trays
from midframe.faults import BadSetting
from midframe.publish.language import language as language_of
from midframe.publish.log_moves import log_moves
from midframe.publish.paper import MARGIN_MM, Paper, paper
from midframe.record import digest
from midframe.record.model import Face, Move, Record
from midframe.record.outline import corners
from midframe.screws import Group, KindLine, groups, tally
from midframe.screws.mass import head_mm
from midframe.ways.teardown import teardown

HEAD_MM = 12.0
"""Height of the title above the plan."""

FOOT_MM = 12.0
"""Height of the calibration bar below the plan."""

SIDE_MM = 8.0
"""Room of the upright calibration bar to the right of the plan."""

OVERLAP_MM = 10.0
"""How much of the plan neighbouring tiles share."""

HOLE_RADIUS_MM = 1.0
"""Radius of the mark where the size of the head is not known."""


class Hole(msgspec.Struct, frozen=True):
    """One hole on the plan as it is seen: millimetres from the left and the top of the device.

    `order` is the number of its group in the order out, 0 where it stays in; `number` counts the holes
    of its joint in the order of the record.
    """

    joint: str
    number: int
    letter: str
    length_mm: float | None
    order: int
    x_mm: float
    y_mm: float
    radius_mm: float

    @property
    def text(self) -> str:
        """What stands beside it: order out, letter of the kind, length."""
        length = "?" if self.length_mm is None else f"{self.length_mm:g}"
        return f"{self.order}·{self.letter} {length}" if self.order else f"{self.letter} {length}"


class GroupLine(msgspec.Struct, frozen=True):
    """One group in the list beside the plan, by order out; `placed` of its screws are on this plan."""

    order: int
    group: Group
    cover: str
    placed: int
    side: Face | None


class Tile(msgspec.Struct, frozen=True):
    """One page of the plan: row and column from 0, and the window of the plan that it shows, in mm."""

    row: int
    column: int
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


class ScrewSheet(msgspec.Struct, frozen=True, kw_only=True):
    """A screw sheet for one side of a device.

    `size_mm` is width and height of the plan, `outline_mm` the device's own rectangle on it (left, top,
    width, height), None where the record has no size. `mirrored`: seen from the back, so that x runs from
    the right edge of the front view. `without_place` screws of the listed groups have no place in the
    record; `other_side` screws are worked from the other side and stand on its sheet. `language` is that
    of the sheet's own words.
    """

    device: str
    invented: bool
    digest: str
    side: Face
    mirrored: bool
    paper: Paper
    size_mm: tuple[float, float]
    outline_mm: tuple[float, float, float, float] | None
    parts_mm: tuple[tuple[tuple[float, float], ...], ...]
    tiles: tuple[Tile, ...]
    holes: tuple[Hole, ...]
    groups: tuple[GroupLine, ...]
    kinds: tuple[KindLine, ...]
    trays: tuple[Tray, ...]
    without_place: int
    other_side: int
    stay_in: int
    language: str = "en"

    @property
    def origin_mm(self) -> tuple[float, float]:
        """Where the top left corner of a tile's window lies on the page."""
        return MARGIN_MM, MARGIN_MM + HEAD_MM

    def on_page(self, tile: Tile, x_mm: float, y_mm: float) -> tuple[float, float]:
        """A point of the plan on the page of a tile, in millimetres from its top left corner."""
        left, top = self.origin_mm
        return left + x_mm - tile.left_mm, top + y_mm - tile.top_mm

    def shows(self, tile: Tile, x_mm: float, y_mm: float) -> bool:
        """Whether a point of the plan lies in the window of a tile."""
        inside = tile.left_mm <= x_mm <= tile.left_mm + tile.width_mm
        return inside and tile.top_mm <= y_mm <= tile.top_mm + tile.height_mm


def room_mm(on: Paper) -> tuple[float, float]:
    """Width and height that a page has for the plan.

    >>> room_mm(paper("A4"))
    (182.0, 253.0)
    """
    return on.width_mm - 2 * MARGIN_MM - SIDE_MM, on.height_mm - 2 * MARGIN_MM - HEAD_MM - FOOT_MM


def tiled(size_mm: tuple[float, float], on: Paper) -> tuple[Tile, ...]:
    """The pages of a plan: one where it fits, else a grid with overlaps.

    >>> len(tiled((74.8, 161.5), paper("A4"))), len(tiled((166.2, 248.6), paper("letter")))
    (1, 2)
    """
    spans = [cut(length, room) for length, room in zip(size_mm, room_mm(on), strict=True)]
    return tuple(
        Tile(row, column, left, top, wide, high)
        for row, (top, high) in enumerate(spans[1])
        for column, (left, wide) in enumerate(spans[0])
    )


def cut(length: float, room: float) -> list[tuple[float, float]]:
    """A length in pieces that fit a room: (start, length) each; all but the last are as long as the room.

    >>> cut(100.0, 182.0), cut(300.0, 182.0)
    ([(0.0, 100.0)], [(0.0, 182.0), (172.0, 128.0)])
    """
    if length <= room:
        return [(0.0, length)]
    step = room - OVERLAP_MM
    pieces = math.ceil((length - OVERLAP_MM) / step)
    return [(piece * step, min(room, length - piece * step)) for piece in range(pieces)]


def best_paper(name: str, size_mm: tuple[float, float]) -> Paper:
    """The paper upright or on its side, whichever takes fewer pages; upright where both take as many."""
    lying = [paper(name, landscape=landscape) for landscape in (False, True)]
    return min(lying, key=lambda on: len(tiled(size_mm, on)))


def sides(record: Record) -> tuple[Face, ...]:
    """The sides from which screws are worked; the back where no screw says one.

    >>> from midframe import demo
    >>> sides(demo.load("avocet-fold"))
    ('front', 'back')
    """
    said = {joint.face for joint in record.joints if joint.kind == "screw"}
    found: list[Face] = []
    if "front" in said:
        found.append("front")
    if "back" in said or not found:
        found.append("back")
    return tuple(found)


def screw_sheet(  # noqa: PLR0913 - all but two are keyword-only
    record: Record,
    side: Face = "back",
    *,
    on: str = "A4",
    landscape: bool | None = None,
    moves: Iterable[Move] | None = None,
    mirrored: bool | None = None,
    language: str = "en",
) -> ScrewSheet:
    """The sheet of one side, at true scale.

    Parameters
    ----------
    side
        The side that is up: "back" (the plan is mirrored, as one sees it) or "front". Screws that are
        worked from the other side stand on its sheet; those that say no side stand on both.
    on
        "A4" or "letter".
    landscape
        Whether the paper lies on its side; None takes what needs fewer pages.
    moves
        A way: its screws carry their order, the others stay in. None: the whole device comes apart, first as
        the bench log has it, so that trays and order are those of the job.
    mirrored
        Whether x runs from the right edge of the front view; None: for the back, as one sees it.
    language
        Code of the language of the sheet's own words.

    Raises
    ------
    BadSetting
        Where side, paper or language are not known.
    IllegalMove
        Where the moves are no legal sequence.
    """
    if side not in ("front", "back"):
        raise BadSetting(f"side: found '{side}'; it may be front or back")
    done = teardown(record, log_moves(record).moves) if moves is None else tuple(moves)
    order = order_out(record, done)
    own = own_groups(record, side)
    plan = Plan(plan_frame(record, own), side == "back" if mirrored is None else mirrored)
    lines = lines_of(record, order, own)
    holes = holes_of(lines, plan)
    chosen = best_paper(on, plan.size_mm) if landscape is None else paper(on, landscape=landscape)
    listed = {line.group.letter for line in lines}
    return ScrewSheet(
        device=record.device.name,
        invented=record.device.invented,
        digest=digest(record),
        side=side,
        mirrored=plan.mirrored,
        paper=chosen,
        size_mm=plan.size_mm,
        outline_mm=plan.outline(record),
        parts_mm=outlines(record, own, plan),
        tiles=tiled(plan.size_mm, chosen) if holes or record.device.size_mm else (),
        holes=holes,
        groups=lines,
        kinds=tuple(line for line in tally(record).kinds if line.letter in listed),
        trays=trays(record, done),
        without_place=sum(group.without_place for group in own),
        other_side=sum(group.count for group in groups(record)) - sum(group.count for group in own),
        stay_in=sum(line.group.count for line in lines if line.order == 0),
        language=language_of(language).code,
    )


def order_out(record: Record, moves: Sequence[Move]) -> dict[str, int]:
    """The number of each screw joint in the order out, from 1."""
    screws = {group.joint for group in groups(record)}
    opened = [move.open for move in moves if move.open in screws]
    return {joint: number for number, joint in enumerate(opened, start=1)}


def own_groups(record: Record, side: Face) -> tuple[Group, ...]:
    """The groups that are worked from a side, or that say none."""
    faces = {joint.id: joint.face for joint in record.joints}
    return tuple(group for group in groups(record) if faces[group.joint] not in other_sides(side))


def other_sides(side: Face) -> tuple[Face, ...]:
    """The sides whose screws do not stand on the sheet of a side; those of the edge stand on both."""
    return ("front",) if side == "back" else ("back",)


Rectangle = tuple[float, float, float, float]


class Plan(msgspec.Struct, frozen=True):
    """How the plan shows coordinates of the record: its edges (left, top, right, bottom), mirrored or not."""

    edges_mm: Rectangle
    mirrored: bool

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the plan."""
        left, top, right, bottom = self.edges_mm
        return right - left, bottom - top

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A point of the record on the plan."""
        left, top, right, _ = self.edges_mm
        return round(right - x if self.mirrored else x - left, 6), round(y - top, 6)

    def outline(self, record: Record) -> Rectangle | None:
        """The device's own rectangle on the plan (left, top, width, height); None without a size."""
        if record.device.size_mm is None:
            return None
        tall, across, _ = record.device.size_mm
        left, top = self.at(across if self.mirrored else 0.0, 0.0)
        return left, top, across, tall


def plan_frame(record: Record, own: Sequence[Group]) -> Rectangle:
    """The edges of the plan: the device's, wider where places of the record lie outside them."""
    tall, across, _ = record.device.size_mm or (0.0, 0.0, 0.0)
    left, top, right, bottom = 0.0, 0.0, across, tall
    margin = HOLE_RADIUS_MM + 0.5
    for x, y in (spot for group in own for spot in group.spots_mm):
        left, right = (
            (min(left, x - margin) if x < 0 else left),
            (max(right, x + margin) if x > across else right),
        )
        top, bottom = (
            (min(top, y - margin) if y < 0 else top),
            (max(bottom, y + margin) if y > tall else bottom),
        )
    return left, top, right, bottom


def lines_of(record: Record, order: dict[str, int], own: Sequence[Group]) -> tuple[GroupLine, ...]:
    """The groups by their order out, those that stay in last."""
    names = {part.id: part.name for part in record.parts}
    faces = {joint.id: joint.face for joint in record.joints}
    lines = [
        GroupLine(
            order.get(group.joint, 0),
            group,
            names.get(group.cover, group.cover),
            len(group.spots_mm),
            faces[group.joint],
        )
        for group in own
    ]
    return tuple(sorted(lines, key=lambda line: (line.order == 0, line.order)))


def holes_of(lines: Sequence[GroupLine], plan: Plan) -> tuple[Hole, ...]:
    """Every hole that has a place, as it is seen."""
    return tuple(
        Hole(
            line.group.joint,
            number,
            line.group.letter,
            line.group.kind.length_mm,
            line.order,
            *plan.at(x, y),
            radius_of(line.group),
        )
        for line in lines
        for number, (x, y) in enumerate(line.group.spots_mm, start=1)
    )


def radius_of(group: Group) -> float:
    """Radius of the mark: that of the head, else a usual one."""
    head = head_mm(group.kind)
    return head[0] / 2 if head else HOLE_RADIUS_MM


def outlines(record: Record, own: Sequence[Group], plan: Plan) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Outlines of the covers that the screws hold, for the eye to find the place."""
    covers = {group.cover for group in own} - {record.device.body}
    return tuple(
        tuple(plan.at(x, y) for x, y in corners(part.outline_mm))
        for part in record.parts
        if part.id in covers and len(part.outline_mm) >= 2
    )
