"""One record under every reading and with its assumed conditions kept or ignored: what a draw picks from."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, get_args, get_type_hints

import msgspec

from midframe.dossier.evidence import evidence_of
from midframe.dossier.harmless import harmless_way
from midframe.dossier.index import assumed_in, without_assumed
from midframe.dossier.upkeep import Repairs, repairs_of
from midframe.index.sheet import Entry, Gathered, Sheet, gather
from midframe.record.model import Record
from midframe.ways.bench import Bench
from midframe.ways.facts import Bits
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Values = NDArray[np.float64]

NO_VALUE = math.nan
"""Where a score is not defined or no way is known."""


class Cell(msgspec.Struct, frozen=True):
    """One record under one setting: the entries of the index, and the steps to each part."""

    gathered: Gathered
    steps: Mapping[str, int | None]


class Varied(msgspec.Struct, frozen=True):
    """One record: cells by [assumed conditions kept, ignored][reading]; repairs by the first of the two.

    Without an assumed condition there is one row of cells only.
    """

    record: Record
    cells: tuple[tuple[Cell, ...], ...]
    repairs: tuple[Repairs, ...]


def switched(readings: Readings, *, all_of_them: bool = False) -> tuple[Readings, ...]:
    """The readings given and each switch turned alone, or every combination of the switches.

    >>> len(switched(Readings())), len(switched(Readings(), all_of_them=True))
    (7, 64)
    """
    found = [readings]
    for name, hint in get_type_hints(Readings).items():
        choices = (False, True) if hint is bool else get_args(hint)
        others = [choice for choice in choices if choice != getattr(readings, name)]
        base = tuple(found) if all_of_them else (readings,)
        found += [msgspec.structs.replace(one, **{name: other}) for one in base for other in others]
    return tuple(found)


def varied(
    record: Record, settings: Sequence[Readings], bench: Bench, limit: int | None = USUAL_LIMIT
) -> Varied:
    """Work a record out under every setting, with its assumed conditions kept and, if it has any, ignored."""
    states = [record, *([without_assumed(record)] if assumed_in(record) else [])]
    return Varied(
        record=record,
        cells=tuple(tuple(_cell(state, one, bench, limit) for one in settings) for state in states),
        repairs=tuple(repairs_of(state, bench=bench) for state in states),
    )


def _cell(record: Record, readings: Readings, bench: Bench, limit: int | None) -> Cell:
    planner = Planner(record, STEPS_THEN_SECONDS, readings, bench, bits=Bits(), limit=limit)
    device = evidence_of(planner.counter, partial(harmless_way, planner)).device
    return Cell(gather(device), {part.part: part.steps for part in device.parts})


def index_values(cell: Cell, drawn: Mapping[str, Values], draws: int) -> Values:
    """R as a number for every draw; NaN where a value lies below the lowest level of its ladder.

    `drawn` holds a number from 0 to 1 for every missing value and draw: 0 gives the lowest level that it may
    have, 1 the highest. Which of two sheets counts (hinge or none) is drawn under the name "sheet".

    References
    ----------
    [lbl-2023-1669, Annex IV point 5].
    """
    import numpy as np

    if cell.gathered.undefined:
        return np.full(draws, NO_VALUE)
    gaps = sorted({gap.id for gap in cell.gathered.gaps})
    if not gaps:
        return np.full(draws, cell.gathered.sheets[0].index(_low) / 10_000)
    sheets = cell.gathered.sheets
    which = np.minimum((drawn["sheet"] * len(sheets)).astype(int), len(sheets) - 1)
    found = [_index(sheets[which[at]], {gap: float(drawn[gap][at]) for gap in gaps}) for at in range(draws)]
    return np.array(found)


def _low(entry: Entry) -> int:
    return entry.low


def _index(sheet: Sheet, levels: Mapping[str, float]) -> float:
    def pick(entry: Entry) -> int:
        rungs = entry.rungs or range(entry.low, entry.high + 1)
        at = int(levels.get(entry.gap, 0.0) * len(rungs))
        return rungs[min(at, len(rungs) - 1)]

    return sheet.index(pick) / 10_000
