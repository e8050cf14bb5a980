"""Ways in to the parts of several records side by side, and what is on the way in one of them only."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.dossier.matching import match_joints, match_parts
from midframe.record.model import Record
from midframe.upkeep import UpkeepSettings
from midframe.ways.bench import Bench
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from midframe.ways.rules import listed
from midframe.ways.solve import Planner
from midframe.ways.way import Way
from midframe.ways.wording import joint_words, part_words


class CompareOptions(msgspec.Struct, frozen=True, kw_only=True):
    """How records are compared.

    `every_part` compares the ways to parts of the role "other" too; `upkeep` None leaves maintainability out.
    """

    readings: Readings = Readings()
    bench: Bench = Bench()
    every_part: bool = False
    upkeep: UpkeepSettings | None = UpkeepSettings()


class Side(msgspec.Struct, frozen=True, kw_only=True):
    """The way in to one part in one device: of fewest steps, and the seconds of the fastest.

    `only_joints` and `only_covers` are joints opened and parts put aside on the way here and in none of the
    other devices; `fasteners` counts the joints opened, `screws` the single screws.
    """

    part: str
    steps: int | None
    seconds: float | None
    tools: tuple[str, ...] = ()
    fasteners: int = 0
    screws: int = 0
    only_joints: tuple[str, ...] = ()
    only_covers: tuple[str, ...] = ()


class PartRow(msgspec.Struct, frozen=True, kw_only=True):
    """One part across the devices, None where one has no such part; `text` says what differs."""

    name: str
    role: str
    sides: tuple[Side | None, ...]
    text: str


class Solved:
    """The ways of one record, with its ids as groups."""

    def __init__(
        self, record: Record, joints: dict[str, int], parts: dict[str, int], options: CompareOptions
    ):
        self.record, self.joints, self.parts = record, joints, parts
        steps = Planner(record, STEPS_THEN_SECONDS, options.readings, options.bench)
        fastest = Planner(record, SECONDS, options.readings, options.bench)
        wanted = [
            part.id
            for part in record.parts
            if part.id != record.device.body
            and (options.every_part or part.role != "other" or any(role != "other" for role in part.also))
        ]
        self.ways = {part: steps.way(part) for part in wanted}
        self.seconds = {part: way.seconds for part in wanted if isinstance(way := fastest.way(part), Way)}
        self.part_of = {parts[part]: part for part in wanted}

    def opened(self, part: str) -> dict[int, str]:
        """Joints opened on the way, by group."""
        way = self.ways[part]
        moves = way.moves if isinstance(way, Way) else ()
        return {self.joints[move.open]: move.open for move in moves if move.open}

    def aside(self, part: str) -> dict[int, str]:
        """Parts put aside on the way, itself and its bundle left out, by group."""
        way = self.ways[part]
        if not isinstance(way, Way):
            return {}
        lifted = [one for move in way.count.moves for one in move.aside]
        return {self.parts[one]: one for one in lifted if one not in way.bundle}


def solved_of(records: Sequence[Record], options: CompareOptions) -> tuple[Solved, ...]:
    """The ways of every record, with parts and joints matched across all."""
    parts = match_parts(records)
    joints = match_joints(records, parts)
    return tuple(
        Solved(record, ours, mine, options) for record, ours, mine in zip(records, joints, parts, strict=True)
    )


def part_rows(solved: Sequence[Solved]) -> tuple[PartRow, ...]:
    """A row for every part that one of these records has."""
    numbers = dict.fromkeys(number for one in solved for number in one.part_of)
    return tuple(_part_row(solved, number) for number in numbers)


def _part_row(solved: Sequence[Solved], number: int) -> PartRow:
    sides = tuple(_side(solved, one, number) for one in solved)
    first, record = next(
        (side, one.record) for side, one in zip(sides, solved, strict=True) if side is not None
    )
    part = next(part for part in record.parts if part.id == first.part)
    texts = [
        text
        for side, one in zip(sides, solved, strict=True)
        if side is not None and (text := _only_text(side, one.record))
    ]
    return PartRow(name=part.name, role=part.role, sides=sides, text="; ".join(texts))


def _side(solved: Sequence[Solved], here: Solved, number: int) -> Side | None:
    part = here.part_of.get(number)
    if part is None:
        return None
    way = here.ways[part]
    if not isinstance(way, Way):
        return Side(part=part, steps=None, seconds=None)
    others = [one for one in solved if one is not here and number in one.part_of]
    joints = {joint.id: joint for joint in here.record.joints}
    opened, aside = here.opened(part), here.aside(part)
    elsewhere = {group for one in others for group in one.opened(one.part_of[number])}
    covered = {group for one in others for group in one.aside(one.part_of[number])}
    screws = [joints[one] for one in opened.values() if joints[one].kind == "screw"]
    return Side(
        part=part,
        steps=way.steps,
        seconds=here.seconds.get(part),
        tools=(*way.count.tools, *way.count.consumables),
        fasteners=len(opened),
        screws=sum(joint.count or 1 for joint in screws),
        only_joints=tuple(one for group, one in opened.items() if others and group not in elsewhere),
        only_covers=tuple(one for group, one in aside.items() if others and group not in covered),
    )


def _only_text(side: Side, record: Record) -> str:
    """What is on the way here and nowhere else, in words."""
    joints = {joint.id: joint for joint in record.joints}
    words = [*part_words(record, side.only_covers), *(joint_words(joints[one]) for one in side.only_joints)]
    return f"only in {record.device.name}: {listed(words)}" if words else ""
