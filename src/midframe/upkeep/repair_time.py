"""Repair time of one part, and the mean time to repair over a failure mix."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import msgspec

from midframe.faults import BadSetting
from midframe.upkeep.lognormal import SIGMA_OF_LN, fenton_wilkinson, sum_moments
from midframe.upkeep.mix import generator

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

BLOCK = 2_000
"""Times drawn at once; bounds the memory of a part with many moves."""


class OtherTasks(msgspec.Struct, frozen=True):
    """Median seconds of the tasks of a repair beside the way in and the refit.

    Localisation, isolation, interchange, alignment and checkout are tasks of the handbook's repair
    time [mil-hdbk-472, procedure II; names from memory]; disassembly is the way in, reassembly the
    refit. The seconds are common practice, no source: put the shop's own in their place.
    """

    localisation_seconds: float = 120.0
    isolation_seconds: float = 180.0
    interchange_seconds: float = 60.0
    alignment_seconds: float = 30.0
    checkout_seconds: float = 180.0

    @property
    def seconds(self) -> tuple[float, ...]:
        """All five medians in seconds, in the order of work."""
        return (
            self.localisation_seconds,
            self.isolation_seconds,
            self.interchange_seconds,
            self.alignment_seconds,
            self.checkout_seconds,
        )


class RepairTime(msgspec.Struct, frozen=True):
    """Repair time of one part in seconds: exact mean, simulated percentiles, closed form beside them."""

    mean_seconds: float
    median_seconds: float
    p05_seconds: float
    p95_seconds: float
    closed_form_median_seconds: float
    closed_form_p95_seconds: float


def draw_repair_seconds(
    medians: Sequence[float],
    *,
    fixed_seconds: float = 0.0,
    sigma: float = SIGMA_OF_LN,
    draws: int = 20_000,
    seed: int = 1,
    name: str = "",
) -> NDArray[np.float64]:
    """Simulated repair times: the sum of independent log-normal times plus what a clock holds fixed.

    Parameters
    ----------
    medians
        Seconds of every single move and task.
    fixed_seconds
        Waits without spread (a soak, a cure).
    sigma
        Standard deviation of ln(time).
    draws, seed
        Size and seed of the simulation.
    name
        Of the part; each name has draws of its own.

    Returns
    -------
    NDArray[np.float64]
        Array of `draws` times in seconds, unsorted.

    Examples
    --------
    >>> times = draw_repair_seconds([60.0] * 20, draws=2000)
    >>> 1380 < float(times.mean()) < 1460
    True

    References
    ----------
    [step-times-lf, sigma of ln(time)] for the shape and the spread.
    """
    import numpy as np

    check_medians("medians", medians)
    rng = generator(seed, f"time of {name}")
    logs = np.log([x for x in medians if x > 0])
    times = np.full(draws, float(fixed_seconds))
    for start in range(0, draws, BLOCK):
        block = times[start : start + BLOCK]
        block += np.exp(rng.normal(logs, sigma, size=(len(block), len(logs)))).sum(axis=1)
    return times


def repair_time(
    medians: Sequence[float],
    drawn: NDArray[np.float64],
    *,
    fixed_seconds: float = 0.0,
    sigma: float = SIGMA_OF_LN,
) -> RepairTime:
    """Figures of one part's repair time from its medians and its drawn times.

    Mean: exact, Σ x_i e^(σ²/2) + fixed. Median, 5th and 95th percentile: from the drawn times.
    Closed form: Fenton–Wilkinson on the same medians.

    Parameters
    ----------
    medians, fixed_seconds, sigma
        As given to `draw_repair_seconds`.
    drawn
        What that returned, seconds.

    Returns
    -------
    RepairTime
        All in seconds.

    Examples
    --------
    >>> alone = [100.0]
    >>> time = repair_time(alone, draw_repair_seconds(alone, draws=5000))
    >>> round(time.mean_seconds, 1), round(time.closed_form_p95_seconds, 1)
    (118.3, 259.6)

    References
    ----------
    [mil-hdbk-338b, 5.6.2.1], [fenton-1960, moment matching].
    """
    import numpy as np

    p05, median, p95 = np.quantile(drawn, [0.05, 0.5, 0.95])
    mean, _ = sum_moments(medians, sigma)
    closed = fenton_wilkinson(medians, sigma) if math.fsum(medians) > 0 else None
    return RepairTime(
        mean_seconds=mean + fixed_seconds,
        median_seconds=float(median),
        p05_seconds=float(p05),
        p95_seconds=float(p95),
        closed_form_median_seconds=(closed.median if closed else 0.0) + fixed_seconds,
        closed_form_p95_seconds=(closed.percentile(0.95) if closed else 0.0) + fixed_seconds,
    )


def mean_time_to_repair(rates: Sequence[float], times: Sequence[float]) -> float:
    """Mean corrective time of a device, MTTR = Σ(λ_i R_i) / Σ λ_i.

    Parameters
    ----------
    rates
        Failure rates λ_i, or shares of a failure mix, at least one above zero (the result does not change
        when all are scaled by one factor).
    times
        Mean repair times R_i, one a rate.

    Returns
    -------
    float
        Mean time to repair, in the unit of `times`.

    Raises
    ------
    BadSetting
        Where lengths differ, a value is negative, or all rates are zero.

    Examples
    --------
    >>> mean_time_to_repair([4, 2, 1], [10, 20, 60])
    20.0

    References
    ----------
    [mil-hdbk-472, procedure II].
    """
    if len(rates) != len(times):
        raise BadSetting(
            f"rates, times: found {len(rates)} rates and {len(times)} times; one time a rate is needed"
        )
    for word, values in (("rates", rates), ("times", times)):
        check_medians(word, values)
    total = math.fsum(rates)
    if total <= 0:
        raise BadSetting(f"rates: found a sum of {total!r}; at least one rate above zero is needed")
    return math.fsum(rate * time for rate, time in zip(rates, times, strict=True)) / total


def mixture_percentiles(
    shares: Sequence[float], drawn: Sequence[NDArray[np.float64]], points: Sequence[float]
) -> tuple[float, ...]:
    """Percentiles of the time of the next repair: each part's drawn times, weighted by its share.

    Parameters
    ----------
    shares
        Share of each part, on any scale.
    drawn
        Drawn times of each part, all in one unit.
    points
        Shares of repairs done, between 0 and 1.

    Returns
    -------
    tuple[float, ...]
        For each point the time within which that share of repairs is done, M(t) = point.

    Examples
    --------
    >>> import numpy as np
    >>> mixture_percentiles([3, 1], [np.array([10.0]), np.array([50.0])], [0.5, 0.9])
    (10.0, 50.0)

    References
    ----------
    [mil-hdbk-338b, 5.6.2.1] for M(t) and M_max.
    """
    import numpy as np

    times = np.concatenate(drawn)
    weights = np.concatenate(
        [np.full(len(d), share / len(d)) for share, d in zip(shares, drawn, strict=True)]
    )
    order = np.argsort(times)
    done = np.cumsum(weights[order])
    at = np.searchsorted(done, np.asarray(points) * done[-1])
    return tuple(float(times[order][min(index, len(times) - 1)]) for index in at)


def check_medians(word: str, values: Sequence[object]) -> None:
    """Refuse times or rates that are not finite numbers of zero or more."""
    wrong = [
        f"{word}[{number}]: found {value!r}; a number of zero or more is needed"
        for number, value in enumerate(values)
        if isinstance(value, bool)
        or not isinstance(value, (int, float))
        or not math.isfinite(value)
        or value < 0
    ]
    if wrong:
        raise BadSetting("\n".join(wrong))
