"""Records side by side: ways, screws, index, upkeep, and which joints and covers make the difference."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.dossier.index import DeviceIndex, device_index
from midframe.dossier.matching import Groups, match_joints, match_parts
from midframe.dossier.summary import DeviceLine, device_line, index_line
from midframe.dossier.upkeep import device_upkeep
from midframe.faults import BadSetting
from midframe.index.results import RepairabilityIndex
from midframe.record.model import Record
from midframe.upkeep import UpkeepSettings
from midframe.ways.bench import Bench
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from midframe.ways.rules import listed
from midframe.ways.solve import Planner
from midframe.ways.way import Way
from midframe.ways.wording import joint_words, part_words


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


class ScrewRow(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of screw, and how many of it each device has."""

    drive: str
    thread: str
    head: str
    length_mm: float | None
    counts: tuple[int, ...]


class ScoreRow(msgspec.Struct, frozen=True, kw_only=True):
    """R or one of its scores in each device, as shown, and in ten-thousandths or hundredths (lower end)."""

    symbol: str
    name: str
    shown: tuple[str, ...]
    low: tuple[int | None, ...]


class UpkeepRow(msgspec.Struct, frozen=True, kw_only=True):
    """One figure of maintainability in each device, seconds."""

    name: str
    seconds: tuple[float, ...]


class Comparison(msgspec.Struct, frozen=True, kw_only=True):
    """Records side by side, in the order given.

    `heritage` names which of them is said to be the predecessor of which; `index_lines` is R and class in
    words; `upkeep` is empty where it was not asked for.
    """

    devices: tuple[DeviceLine, ...]
    heritage: tuple[str, ...]
    parts: tuple[PartRow, ...]
    screws: tuple[ScrewRow, ...]
    index_lines: tuple[str, ...]
    scores: tuple[ScoreRow, ...]
    upkeep: tuple[UpkeepRow, ...]


class CompareOptions(msgspec.Struct, frozen=True, kw_only=True):
    """How records are compared.

    `every_part` compares the ways to parts of the role "other" too; `upkeep` None leaves maintainability out.
    """

    readings: Readings = Readings()
    bench: Bench = Bench()
    every_part: bool = False
    upkeep: UpkeepSettings | None = UpkeepSettings()


def compare(records: Sequence[Record], options: CompareOptions | None = None) -> Comparison:
    """Set records side by side, part by part.

    Parameters
    ----------
    records
        Two or more sound records.
    options
        Readings, bench, how much to compare.

    Returns
    -------
    Comparison
        Times in seconds.

    Raises
    ------
    BadSetting
        For fewer than two records.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = compare([load("tern-2"), load("heron-tab")], CompareOptions(upkeep=None))
    >>> found.scores[0].shown
    ('2.86', '2.72')
    """
    if len(records) < 2:
        raise BadSetting(f"records: found {len(records)}; a comparison needs two or more")
    chosen = options or CompareOptions()
    parts = match_parts(records)
    indices = [device_index(record, chosen.readings, chosen.bench) for record in records]
    return Comparison(
        devices=tuple(map(device_line, records)),
        heritage=heritage(records),
        parts=_part_rows(records, parts, chosen),
        screws=screw_rows(records),
        index_lines=tuple(index_line(one.index) for one in indices),
        scores=score_rows(indices),
        upkeep=_upkeep_rows(records, chosen),
    )


def heritage(records: Sequence[Record]) -> tuple[str, ...]:
    """Sentences on which of the records says that another is its predecessor.

    >>> from midframe.demo import load
    >>> heritage([load("tern-2"), load("tern-3")])
    ('Tern 2 is the predecessor of Tern 3',)
    """
    found = []
    for record in records:
        for other in records:
            said = record.device.predecessor.removesuffix(".device.toml").casefold()
            if (
                other is not record
                and said in (_slug(other.device.name), other.device.name.casefold())
                and said
            ):
                found.append(f"{other.device.name} is the predecessor of {record.device.name}")
    return tuple(found)


def _slug(name: str) -> str:
    return name.casefold().replace(" ", "-")


class _Solved:
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


def _part_rows(records: Sequence[Record], parts: Groups, options: CompareOptions) -> tuple[PartRow, ...]:
    joints = match_joints(records, parts)
    solved = [
        _Solved(record, ours, mine, options)
        for record, ours, mine in zip(records, joints, parts, strict=True)
    ]
    numbers = dict.fromkeys(number for one in solved for number in one.part_of)
    return tuple(_part_row(solved, number) for number in numbers)


def _part_row(solved: list[_Solved], number: int) -> PartRow:
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


def _side(solved: list[_Solved], here: _Solved, number: int) -> Side | None:
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


def screw_rows(records: Sequence[Record]) -> tuple[ScrewRow, ...]:
    """Every kind of screw with its number in each device, the most frequent first."""
    counts: dict[tuple[str, str, str, float | None], list[int]] = {}
    for at, record in enumerate(records):
        for joint in record.joints:
            if joint.kind == "screw":
                key = (joint.drive, joint.thread, joint.head, joint.length_mm)
                counts.setdefault(key, [0] * len(records))[at] += joint.count or 1
    rows = [
        ScrewRow(drive=drive, thread=thread, head=head, length_mm=length, counts=tuple(numbers))
        for (drive, thread, head, length), numbers in counts.items()
    ]
    return tuple(
        sorted(rows, key=lambda row: (-sum(row.counts), row.drive, row.thread, row.length_mm or 0.0))
    )


def score_rows(indices: Sequence[DeviceIndex]) -> tuple[ScoreRow, ...]:
    """R and its six scores in each device [lbl-2023-1669, Annex IV point 5]."""
    found = [_index_row([one.index for one in indices])]
    for number, score in enumerate(indices[0].index.scores):
        here = [one.index.scores[number] for one in indices]
        found.append(
            ScoreRow(
                symbol=score.symbol,
                name=score.name,
                shown=tuple(one.shown for one in here),
                low=tuple(one.low if one.defined else None for one in here),
            )
        )
    return tuple(found)


def _index_row(indices: Sequence[RepairabilityIndex]) -> ScoreRow:
    lows = [index.value or index.lowest for index in indices]
    return ScoreRow(
        symbol="R",
        name="repairability index",
        shown=tuple(_shown(index) for index in indices),
        low=tuple(None if low is None else low.ten_thousandths for low in lows),
    )


def _shown(index: RepairabilityIndex) -> str:
    if index.value is not None:
        return index.value.shown
    if index.lowest is None or index.highest is None:
        return "no score defined"
    return f"{index.lowest.shown} to {index.highest.shown}"


def _upkeep_rows(records: Sequence[Record], options: CompareOptions) -> tuple[UpkeepRow, ...]:
    if options.upkeep is None:
        return ()
    found = [
        device_upkeep(record, settings=options.upkeep, readings=options.readings, bench=options.bench).upkeep
        for record in records
    ]
    return (
        UpkeepRow(name="mean time to repair", seconds=tuple(one.mean_seconds for one in found)),
        UpkeepRow(name="median", seconds=tuple(one.median_seconds for one in found)),
        UpkeepRow(name="95th percentile", seconds=tuple(one.p95_seconds for one in found)),
    )
