"""Draws behind a ranking: which reading, condition, level, mix and time each draw takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from midframe.dossier.varied import NO_VALUE, Varied, index_values
from midframe.upkeep import UpkeepSettings, draw_mean_seconds
from midframe.upkeep.lognormal import SIGMA_OF_LN
from midframe.upkeep.mix import generator
from midframe.upkeep.repair_time import draw_repair_seconds

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Values = NDArray[np.float64]

MIDWAY = 0.5
"""Where a missing value stands while it is not varied: the level in the middle."""


class Drawn:
    """What each draw takes, and the figures that follow, shape (draws, devices)."""

    def __init__(
        self,
        known: Sequence[Varied],
        sources: Sequence[str],
        settings: UpkeepSettings,
        reading: NDArray[np.intp],
        state: Sequence[NDArray[np.intp]],
        level: Sequence[Mapping[str, Values]],
    ):
        self.known, self.sources, self.settings = known, sources, settings
        self.reading, self.state, self.level = reading, state, level

    def index(self) -> Values:
        """R of each device [lbl-2023-1669, Annex IV point 5]."""
        import numpy as np

        columns = []
        for number, one in enumerate(self.known):
            column = np.full(self.settings.draws, NO_VALUE)
            for state, row in enumerate(one.cells):
                for reading, cell in enumerate(row):
                    here = (self.state[number] == state) & (self.reading == reading)
                    level = {gap: values[here] for gap, values in self.level[number].items()}
                    column[here] = index_values(cell, level, int(here.sum()))
            columns.append(column)
        return np.column_stack(columns)

    def steps(self, parts: Sequence[str]) -> Values:
        """Steps to one part of each device, as the index counts them; NaN without a way."""
        import numpy as np

        columns = []
        for number, (one, part) in enumerate(zip(self.known, parts, strict=True)):
            counted = [[cell.steps.get(part) for cell in row] for row in one.cells]
            table = np.array([[NO_VALUE if n is None else n for n in row] for row in counted], dtype=float)
            columns.append(table[self.state[number], self.reading])
        return np.column_stack(columns)

    def seconds(self, parts: Sequence[str]) -> Values:
        """Seconds of the fastest way in to one part of each device; NaN without a way."""
        import numpy as np

        columns = []
        for number, part in enumerate(parts):
            drawn = [self._way_seconds(number, state, part) for state in self._states(number)]
            columns.append(self._by_state(number, drawn))
        return np.column_stack(columns)

    def repair(self) -> Values:
        """Mean seconds to repair each device over the drawn mix, every repair timed once."""
        import numpy as np

        columns = []
        for number, one in enumerate(self.known):
            drawn = [
                draw_mean_seconds(
                    one.record.device.kind,
                    repairs.parts,
                    self.settings,
                    vary=self.sources,
                    name=f"device {number}",
                )
                for repairs in one.repairs
            ]
            columns.append(self._by_state(number, drawn))
        return np.column_stack(columns)

    def _states(self, number: int) -> range:
        return range(len(self.known[number].repairs))

    def _by_state(self, number: int, drawn: Sequence[Values]) -> Values:
        import numpy as np

        return np.asarray(np.choose(self.state[number], drawn))

    def _way_seconds(self, number: int, state: int, part: str) -> Values:
        import numpy as np

        times = {one.id: times for one, times in self.known[number].repairs[state].times}.get(part)
        draws = self.settings.draws
        if times is None:
            return np.full(draws, NO_VALUE)
        if "times" not in self.sources:
            return np.full(draws, sum(times.way_in) + times.waited)
        return draw_repair_seconds(
            times.way_in,
            fixed_seconds=times.waited,
            sigma=SIGMA_OF_LN,
            draws=draws,
            seed=self.settings.seed,
            name=f"way in to {part} of device {number}",
        )


def draw(known: Sequence[Varied], sources: Sequence[str], draws: int, seed: int) -> Drawn:
    """Draw what varies; what does not stands at its first reading, kept, midway, at its median or mean.

    Parameters
    ----------
    known
        The records worked out under every setting.
    sources
        What varies: readings, assumed conditions, missing data, times, failure mix.
    draws, seed
        Size and seed of the simulation.
    """
    import numpy as np

    many = len(known[0].cells[0])
    nothing = np.zeros(draws, dtype=np.intp)
    reading = generator(seed, "reading").integers(many, size=draws) if "readings" in sources else nothing
    state, level = [], []
    for number, one in enumerate(known):
        rng = generator(seed, f"conditions of device {number}")
        both = "assumed conditions" in sources and len(one.cells) > 1
        state.append(rng.integers(2, size=draws) if both else nothing)
        gaps = sorted({gap.id for row in one.cells for cell in row for gap in cell.gathered.gaps})
        missing = generator(seed, f"missing data of device {number}")
        level.append(
            {
                gap: missing.random(draws) if "missing data" in sources else np.full(draws, MIDWAY)
                for gap in ("sheet", *gaps)
            }
        )
    return Drawn(known, sources, UpkeepSettings(draws=draws, seed=seed), reading, state, level)
