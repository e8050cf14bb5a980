"""What goes into a maintainability estimate and what comes out of it: plain values, unit in every name."""

from __future__ import annotations

import msgspec

from midframe.upkeep.chances import Chance
from midframe.upkeep.lognormal import SIGMA_OF_LN
from midframe.upkeep.mix import FailureMix
from midframe.upkeep.repair_time import OtherTasks, RepairTime


class PartTimes(msgspec.Struct, frozen=True, kw_only=True):
    """Times to exchange one part, in seconds.

    `role` is a role of the record; `way_in_seconds` and `refit_seconds` hold the median of every
    single move, tool change and flip, not their sum: the spread of a sum depends on its terms.
    An empty refit is taken to be as long as the way in. `fixed_seconds` are waits that a clock
    holds (a soak, a cure), without spread. `tasks` replaces the tasks of the settings for this part.
    """

    role: str
    name: str
    way_in_seconds: tuple[float, ...]
    refit_seconds: tuple[float, ...] = ()
    fixed_seconds: float = 0.0
    tasks: OtherTasks | None = None


class UpkeepSettings(msgspec.Struct, frozen=True, kw_only=True):
    """Settings of the estimate; a result repeats them.

    `sigma` is the standard deviation of ln(time) of a single move or task; `credible_level` the
    share of the belief inside the intervals of the mix and of the mean; `draws` and `seed` of the
    simulation.
    """

    tasks: OtherTasks = OtherTasks()
    sigma: float = SIGMA_OF_LN
    credible_level: float = 0.90
    draws: int = 20_000
    seed: int = 1


class PartRow(msgspec.Struct, frozen=True, kw_only=True):
    """One part of the estimate.

    `share` of the repairs that exchange a part of this device, with credible interval; the shares of
    all rows add up to 1. `fault_known` is false where no figure says how often the part fails: it
    then has share 0 and no part in the mean. `chance` is `None` where the open data has no such records.
    """

    key: str
    role: str
    name: str
    fault: str
    fault_known: bool
    share: float
    share_low: float
    share_high: float
    time: RepairTime
    chance: Chance | None


class LeftOut(msgspec.Struct, frozen=True):
    """A fault left out of the mean: its share of all faults (mean of the belief) and why."""

    fault: str
    share: float
    reason: str


class Upkeep(msgspec.Struct, frozen=True, kw_only=True):
    """Mean time to repair of one device over a failure mix, and what it rests on. All times in seconds.

    `mean_seconds` with `mean_low_seconds`…`mean_high_seconds`: how well the mean is known, given the
    medians (the mix is uncertain). `median_seconds`, `p05_seconds`, `p95_seconds` (M_max): the time
    of the next repair (mix and spread of times together). `maintainability` holds points
    (seconds, share of repairs done within them). `left_out_share` of all faults, with interval, is
    answered by no part of this device; `left_out` lists them. `closed_form_gap` is the largest
    relative difference between simulated and closed-form median or 95th percentile of a part.
    """

    kind: str
    mix: FailureMix
    mix_used: str
    parts: tuple[PartRow, ...]
    mean_seconds: float
    mean_low_seconds: float
    mean_high_seconds: float
    median_seconds: float
    p05_seconds: float
    p95_seconds: float
    maintainability: tuple[tuple[float, float], ...]
    left_out_share: float
    left_out_low: float
    left_out_high: float
    left_out: tuple[LeftOut, ...]
    closed_form_gap: float
    settings: UpkeepSettings
    draws: int
    seed: int
    rests_on_defaults: tuple[str, ...]
    note: str
    sources: tuple[str, ...]
