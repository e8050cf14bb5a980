"""How firm a ranking of records is: the share of draws in which each comes first, by each figure."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Literal, TypeAlias

import msgspec

from midframe.dossier.firmness_draws import Drawn, draw
from midframe.dossier.matching import match_parts
from midframe.dossier.varied import Varied, switched, varied
from midframe.faults import BadSetting
from midframe.record.model import Record
from midframe.upkeep.mix import check_draws
from midframe.ways.bench import Bench
from midframe.ways.readings import Readings

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Values = NDArray[np.float64]

Source: TypeAlias = Literal["readings", "assumed conditions", "missing data", "times", "failure mix"]

FIRM = 0.95
"""From this share of draws on a first place is called firm: house choice."""

LOW, HIGH = 0.05, 0.95
"""Ends of the range given for each device: the middle 90 % of draws."""


class FirmnessOptions(msgspec.Struct, frozen=True, kw_only=True):
    """How firmness is worked out.

    `readings` are those in force; each draw takes them or one with a switch turned, all equally likely;
    `every_reading` takes all combinations of the switches, which is slower. `every_part` looks at parts
    without a role too.
    """

    readings: Readings = Readings()
    bench: Bench = Bench()
    every_reading: bool = False
    draws: int = 10_000
    seed: int = 1


class Alone(msgspec.Struct, frozen=True):
    """Share of draws in which each device comes first while only one source of doubt varies."""

    source: Source
    first: tuple[float, ...]


class Standing(msgspec.Struct, frozen=True, kw_only=True):
    """One figure: how often each device comes first alone, is level with the best, or none has a value.

    The shares of `first`, with `level` and `none`, add up to 1. `low`, `median` and `high` are the middle
    90 % of each device's draws, in `unit`; None where a device has no value in most draws.
    """

    name: str
    unit: Literal["of 5", "steps", "seconds"]
    better: Literal["more", "less"]
    first: tuple[float, ...]
    level: float
    none: float
    low: tuple[float | None, ...]
    median: tuple[float | None, ...]
    high: tuple[float | None, ...]
    alone: tuple[Alone, ...]
    text: str

    @property
    def leader(self) -> int | None:
        """Number of the device that comes first most often; None where none ever does."""
        best = max(self.first)
        return self.first.index(best) if best > 0 else None

    @property
    def firm(self) -> bool:
        """Whether one device comes first in so many draws that its place is called firm."""
        return max(self.first) >= FIRM


class Firmness(msgspec.Struct, frozen=True, kw_only=True):
    """Every figure's standing, and what was varied, in words."""

    devices: tuple[str, ...]
    standings: tuple[Standing, ...]
    varied: tuple[str, ...]
    draws: int
    seed: int


def firmness(records: Sequence[Record], options: FirmnessOptions | None = None) -> Firmness:
    """How firm the ranking of two or more records is.

    In each draw one reading of the step count holds for all records; the assumed conditions of each record
    are all kept or all ignored; each missing value of the index takes one of its levels; the mix of failures
    is one draw of the belief about it, the same for devices of one kind; every repair is timed once.

    Parameters
    ----------
    records
        Two or more sound records.
    options
        Readings, defaults of the bench, number of draws and their seed.

    Returns
    -------
    Firmness
        Index, mean time to repair, and steps and seconds of the way in to each part that all have.

    Raises
    ------
    BadSetting
        For fewer than two records, or settings that cannot be run.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = firmness([load("tern-2"), load("heron-tab")], FirmnessOptions(draws=1000))
    >>> found.standings[0].name, found.standings[0].first
    ('repairability index', (1.0, 0.0))

    References
    ----------
    [lbl-2023-1669, Annex IV point 5] for what the readings leave open, [step-times-lf, sigma of ln(time)] and
    [open-repair-data, phone_shop_prior.csv] for the spread of times and of the mix.
    """
    if len(records) < 2:
        raise BadSetting(f"records: found {len(records)}; a ranking needs two or more")
    chosen = options or FirmnessOptions()
    check_draws(HIGH - LOW, chosen.draws, chosen.seed)
    settings = switched(chosen.readings, all_of_them=chosen.every_reading)
    known = tuple(varied(record, settings, chosen.bench) for record in records)
    figures = Figures(known, chosen)
    return Firmness(
        devices=tuple(record.device.name for record in records),
        standings=figures.standings(),
        varied=_what_varied(known, len(settings)),
        draws=chosen.draws,
        seed=chosen.seed,
    )


def shares_of(values: Values, better: Literal["more", "less"]) -> tuple[tuple[float, ...], float, float]:
    """Shares of draws in which each column is best alone, several are best, and none has a value.

    Parameters
    ----------
    values
        Shape (draws, devices); NaN where a device has no value and so comes behind the others.

    Examples
    --------
    >>> import numpy as np
    >>> shares_of(np.array([[1.0, 2.0], [2.0, 2.0], [np.nan, 3.0], [np.nan, np.nan]]), "less")
    ((0.25, 0.25), 0.25, 0.25)
    """
    import numpy as np

    ranked = np.where(np.isnan(values), -np.inf, values if better == "more" else -values)
    best = ranked.max(axis=1)
    there = best > -np.inf
    at_best = (ranked == best[:, None]) & there[:, None]
    alone = at_best.sum(axis=1) == 1
    first = tuple(float(share) for share in (at_best & alone[:, None]).mean(axis=0))
    return first, float((there & ~alone).mean()), float((~there).mean())


class Figures:
    """Every figure of the records, drawn with all sources of doubt and with each alone."""

    def __init__(self, known: Sequence[Varied], options: FirmnessOptions):
        self.known, self.options = known, options
        self.names = [one.record.device.name for one in known]
        sources: list[Source] = ["readings"] if len(known[0].cells[0]) > 1 else []
        if any(len(one.cells) > 1 for one in known):
            sources.append("assumed conditions")
        if any(cell.gathered.gaps for one in known for row in one.cells for cell in row):
            sources.append("missing data")
        self.sources: tuple[Source, ...] = (*sources, "times", "failure mix")
        self.drawn = self._draw(self.sources)
        self.alone = {source: self._draw((source,)) for source in self.sources}

    def _draw(self, sources: Sequence[str]) -> Drawn:
        return draw(self.known, sources, self.options.draws, self.options.seed)

    def standings(self) -> tuple[Standing, ...]:
        """Index and time to repair first, then every part that all records have."""
        index: tuple[Source, ...] = ("readings", "assumed conditions", "missing data")
        repair: tuple[Source, ...] = ("assumed conditions", "times", "failure mix")
        found = [self._standing("repairability index", "of 5", Drawn.index, index)]
        if all(repairs.parts for one in self.known for repairs in one.repairs):
            found.append(self._standing("mean time to repair", "seconds", Drawn.repair, repair))
        for name, parts in self._common():
            if any(part in one.cells[0][0].steps for one, part in zip(self.known, parts, strict=True)):
                steps = partial(Drawn.steps, parts=parts)
                found.append(self._standing(f"{name}, steps", "steps", steps, index[:2]))
            seconds = partial(Drawn.seconds, parts=parts)
            found.append(self._standing(f"{name}, time", "seconds", seconds, repair[:2]))
        return tuple(found)

    def _common(self) -> list[tuple[str, tuple[str, ...]]]:
        """Name and ids of the parts with a role that every record has."""
        groups = match_parts([one.record for one in self.known])
        by_group = [{group: part for part, group in one.items()} for one in groups]
        first = self.known[0].record
        found = []
        for part in first.parts:
            group = groups[0][part.id]
            timed = part.role != "other" and part.id != first.device.body
            if timed and all(group in one for one in by_group):
                found.append((part.name, tuple(one[group] for one in by_group)))
        return found

    def _standing(
        self,
        name: str,
        unit: Literal["of 5", "steps", "seconds"],
        of: Callable[[Drawn], Values],
        sources: Sequence[Source],
    ) -> Standing:
        better: Literal["more", "less"] = "more" if unit == "of 5" else "less"
        values = of(self.drawn)
        first, level, none = shares_of(values, better)
        alone = tuple(
            Alone(source, shares_of(of(self.alone[source]), better)[0])
            for source in sources
            if source in self.sources
        )
        ranges = [_range(values[:, column]) for column in range(values.shape[1])]
        return Standing(
            name=name,
            unit=unit,
            better=better,
            first=first,
            level=level,
            none=none,
            low=tuple(one[0] for one in ranges),
            median=tuple(one[1] for one in ranges),
            high=tuple(one[2] for one in ranges),
            alone=alone,
            text=_words(self.names, first, level, none, alone),
        )


def _range(values: Values) -> tuple[float | None, float | None, float | None]:
    import numpy as np

    there = values[~np.isnan(values)]
    if len(there) * 2 < len(values):
        return None, None, None
    low, median, high = np.quantile(there, [LOW, 0.5, HIGH])
    return float(low), float(median), float(high)


def _words(
    names: Sequence[str], first: Sequence[float], level: float, none: float, alone: Sequence[Alone]
) -> str:
    """The standing in a sentence, with the source of doubt that alone moves it most.

    >>> _words(["A", "B"], (0.6, 0.4), 0.0, 0.0, [Alone("readings", (1.0, 0.0)), Alone("times", (0.6, 0.4))])
    'A first in 60 % of draws, not firm; times alone leave it at 60 %'
    """
    best = max(first)
    if none == 1.0:
        return "no device has a value"
    if level >= best:
        return f"level in {share_words(level)} of draws"
    at = list(first).index(best)
    said = f"{names[at]} first in {share_words(best)} of draws, {'firm' if best >= FIRM else 'not firm'}"
    least = min((one for one in alone if any(one.first)), key=lambda one: one.first[at], default=None)
    if best >= FIRM or least is None or least.first[at] >= FIRM:
        return said
    verb = "leave" if least.source != "failure mix" else "leaves"
    return f"{said}; {least.source} alone {verb} it at {share_words(least.first[at])}"


def share_words(share: float) -> str:
    """A share in whole percent; what is not quite all or nothing is not called so.

    >>> share_words(1.0), share_words(0.9996), share_words(0.5)
    ('100 %', 'over 99 %', '50 %')
    """
    if 0.995 <= share < 1.0:
        return "over 99 %"
    if 0.0 < share < 0.005:
        return "under 1 %"
    return f"{100 * share:.0f} %"


def _what_varied(known: Sequence[Varied], settings: int) -> tuple[str, ...]:
    missing = sum(len({gap.id for gap in one.cells[0][0].gathered.gaps}) for one in known)
    assumed = [one.record.device.name for one in known if len(one.cells) > 1]
    return (
        f"readings of the step count: {settings} equally likely, one for all devices",
        f"assumed conditions: all kept or all ignored in {', '.join(assumed)}"
        if assumed
        else "nothing assumed",
        f"missing data of the index: {missing}, each level equally likely" if missing else "no data missing",
        "times: every move drawn once from its log-normal spread",
        "failure mix: drawn from the belief about it, the same for devices of one kind",
    )
