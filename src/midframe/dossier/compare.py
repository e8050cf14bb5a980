"""Records side by side: ways, screws, index, upkeep, and which joints and covers make the difference."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from midframe.battery import BatteryFigure, battery_figures
from midframe.dossier.compare_changes import Figure, PairChanges, heritage, pair_changes, pairs
from midframe.dossier.compare_ways import CompareOptions, PartRow, Side, part_rows, solved_of
from midframe.dossier.index import DeviceIndex, device_index
from midframe.dossier.summary import DeviceLine, device_line, index_line
from midframe.dossier.upkeep import device_upkeep
from midframe.faults import BadSetting
from midframe.index.results import RepairabilityIndex
from midframe.record.model import Record

__all__ = ["CompareOptions", "Comparison", "PartRow", "ScoreRow", "ScrewRow", "Side", "UpkeepRow", "compare"]


class ScrewRow(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of screw, and how many of it each device has."""

    drive: str
    thread: str
    head: str
    length_mm: float | None
    counts: tuple[int, ...]


class ScoreRow(msgspec.Struct, frozen=True, kw_only=True):
    """R or one of its scores in each device, as shown, and both ends in ten-thousandths or hundredths."""

    symbol: str
    name: str
    shown: tuple[str, ...]
    low: tuple[int | None, ...]
    high: tuple[int | None, ...]


class UpkeepRow(msgspec.Struct, frozen=True, kw_only=True):
    """One figure of maintainability in each device, seconds."""

    name: str
    seconds: tuple[float, ...]


class Comparison(msgspec.Struct, frozen=True, kw_only=True):
    """Records side by side, in the order given.

    `heritage` names which of them is said to be the predecessor of which; `index_lines` is R and class in
    words; `upkeep` is empty where it was not asked for. `changes` holds what got better and worse from each
    predecessor to its successor, or, where no record names another, from the first to each other.
    `batteries` are figures of the labels, those of several batteries of one device added up.
    """

    devices: tuple[DeviceLine, ...]
    heritage: tuple[str, ...]
    parts: tuple[PartRow, ...]
    screws: tuple[ScrewRow, ...]
    index_lines: tuple[str, ...]
    scores: tuple[ScoreRow, ...]
    upkeep: tuple[UpkeepRow, ...]
    changes: tuple[PairChanges, ...]
    batteries: tuple[BatteryFigure, ...]


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
    solved = solved_of(records, chosen)
    indices = [device_index(record, chosen.readings, chosen.bench) for record in records]
    scores, upkeep = score_rows(indices), _upkeep_rows(records, chosen)
    lines = tuple(map(device_line, records))
    figures = compared_figures(scores, upkeep)
    return Comparison(
        devices=lines,
        heritage=heritage(records),
        parts=part_rows(solved),
        screws=screw_rows(records),
        index_lines=tuple(index_line(one.index) for one in indices),
        scores=scores,
        upkeep=upkeep,
        changes=tuple(
            pair_changes(pair, part_rows([solved[number] for number in pair]), figures, indices)
            for pair in pairs(records)
        ),
        batteries=battery_figures(records),
    )


def compared_figures(scores: Sequence[ScoreRow], upkeep: Sequence[UpkeepRow]) -> list[Figure]:
    """Index and scores where known as one, and times to repair: what is compared besides ways and screws."""
    found: list[Figure] = []
    for row in scores:
        scale = 10_000 if row.symbol == "R" else 100
        name = f"{row.symbol}, {row.name}"
        ends = zip(row.low, row.high, strict=True)
        known = [None if low is None or low != high else low / scale for low, high in ends]
        found.append((name, "of 5", known))
    return found + [(time.name, "seconds", time.seconds) for time in upkeep]


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
                high=tuple(one.high if one.defined else None for one in here),
            )
        )
    return tuple(found)


def _index_row(indices: Sequence[RepairabilityIndex]) -> ScoreRow:
    lows = [index.value or index.lowest for index in indices]
    highs = [index.value or index.highest for index in indices]
    return ScoreRow(
        symbol="R",
        name="repairability index",
        shown=tuple(_shown(index) for index in indices),
        low=tuple(None if low is None else low.ten_thousandths for low in lows),
        high=tuple(None if high is None else high.ten_thousandths for high in highs),
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
