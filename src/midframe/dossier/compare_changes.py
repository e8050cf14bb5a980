"""What got better and what worse from one device to another, and which joint or cover did it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias

import msgspec

from midframe.dossier.compare_ways import PartRow
from midframe.dossier.index import DeviceIndex
from midframe.index.results import PartRow as IndexRow
from midframe.index.results import RepairabilityIndex
from midframe.record.model import Record

Unit: TypeAlias = Literal["of 5", "steps", "seconds"]

Figure: TypeAlias = tuple[str, Unit, Sequence[float | None]]
"""Name and unit of a figure, and its value in each device; None where there is none."""

NOTABLE = 1.1
"""A time has changed if it is longer or shorter by this factor: house choice."""


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """One figure before and after; `because` says what is on the way in the slower of the two only."""

    name: str
    unit: Unit
    before: float
    after: float
    better: bool
    because: str = ""

    @property
    def ratio(self) -> float:
        """How far it moved, as a factor of one or more; from nothing it counts as tenfold."""
        low, high = sorted((self.before, self.after))
        return high / low if low > 0 else 10.0


class PairChanges(msgspec.Struct, frozen=True, kw_only=True):
    """Numbers of two devices, before and after, and what changed: figures of the device, then ways in.

    The ways stand by how far they moved, the farthest first. `undecided` names figures that one of the two
    does not have as one value.
    """

    before: int
    after: int
    better: tuple[Change, ...]
    worse: tuple[Change, ...]
    undecided: tuple[str, ...]


def heritage(records: Sequence[Record]) -> tuple[str, ...]:
    """Sentences on which of the records says that another is its predecessor.

    >>> from midframe.demo import load
    >>> heritage([load("tern-2"), load("tern-3")])
    ('Tern 2 is the predecessor of Tern 3',)
    """
    names = [record.device.name for record in records]
    return tuple(f"{names[before]} is the predecessor of {names[after]}" for before, after in heirs(records))


def heirs(records: Sequence[Record]) -> tuple[tuple[int, int], ...]:
    """Numbers of predecessor and successor among the records, where one names the other.

    >>> from midframe.demo import load
    >>> heirs([load("tern-3"), load("tern-2")])
    ((1, 0),)
    """
    found = []
    for after, record in enumerate(records):
        said = record.device.predecessor.removesuffix(".device.toml").casefold()
        for before, other in enumerate(records):
            name = other.device.name.casefold()
            if before != after and said and said in (name, name.replace(" ", "-")):
                found.append((before, after))
    return tuple(found)


def pairs(records: Sequence[Record]) -> tuple[tuple[int, int], ...]:
    """Which devices are held against each other: predecessor and successor, else the first and each other."""
    return heirs(records) or tuple((0, other) for other in range(1, len(records)))


def pair_changes(
    pair: tuple[int, int], rows: Sequence[PartRow], figures: Sequence[Figure], indices: Sequence[DeviceIndex]
) -> PairChanges:
    """What changed between two devices.

    Parameters
    ----------
    pair
        Numbers of the devices before and after.
    rows
        The ways in of these two alone, in this order.
    figures, indices
        All other figures that are compared, and the index, of every device.
    """
    old, new = (indices[number].index for number in pair)
    found = [
        Change(name=name, unit=unit, before=before, after=after, better=(after > before) == (unit == "of 5"))
        for name, unit, values in figures
        if (before := values[pair[0]]) is not None and (after := values[pair[1]]) is not None
    ]
    found = [msgspec.structs.replace(one, because=score_causes(old, new, one)) for one in found]
    ways = [change for row in rows for change in _row_changes(row)]
    told = [*found, *sorted(ways, key=lambda one: -one.ratio)]
    changed = [
        one for one in told if one.before != one.after and (one.unit != "seconds" or one.ratio >= NOTABLE)
    ]
    return PairChanges(
        before=pair[0],
        after=pair[1],
        better=tuple(one for one in changed if one.better),
        worse=tuple(one for one in changed if not one.better),
        undecided=tuple(name for name, _, values in figures if None in (values[pair[0]], values[pair[1]])),
    )


def _row_changes(row: PartRow) -> Iterator[Change]:
    before, after = row.sides
    if before is None or after is None or before.steps is None or after.steps is None:
        return
    steps: tuple[Unit, float, float] = ("steps", before.steps, after.steps)
    seconds: tuple[Unit, float, float] = ("seconds", before.seconds or 0.0, after.seconds or 0.0)
    for unit, old, new in (steps, seconds):
        name = f"{row.name}, {'steps' if unit == 'steps' else 'time'}"
        because = row.text if unit == "steps" or before.steps == after.steps else ""
        yield Change(name=name, unit=unit, before=old, after=new, better=new < old, because=because)


def score_causes(before: RepairabilityIndex, after: RepairabilityIndex, change: Change) -> str:
    """Which parts moved a score with the change, and the steps, fastener or tool that decides in the worse.

    References
    ----------
    [lbl-2023-1669, Annex IV point 5].
    """
    symbol = change.name.partition(",")[0]
    old, new = ({row.role: row for row in index.rows if row.state == "present"} for index in (before, after))
    found = []
    for role, row in new.items():
        if role not in old:
            continue
        was, now = (points_in(one, symbol) for one in (old[role], row))
        if was is not None and now is not None and was != now and (now > was) == change.better:
            found.append(f"{row.name}: {decided(old[role], row, symbol, better=change.better)}")
    return "; ".join(found)


def points_in(row: IndexRow, symbol: str) -> int | None:
    """Points of a part in a score of parts; None in the others, or where they are not known."""
    points = {"SDD": row.depth, "SF": row.fastener, "ST": row.tool}.get(symbol)
    return points.known if points is not None else None


def decided(old: IndexRow, new: IndexRow, symbol: str, *, better: bool) -> str:
    """What decides the points of a part in the worse of the two."""
    if symbol == "SDD":
        return f"{old.n} before and {new.n} now, counted for depth"
    worse = old if better else new
    decider = worse.deciding_fastener if symbol == "SF" else worse.deciding_tool
    return f"{decider.name} {'no longer decides' if better else 'decides now'}" if decider else "no decider"
