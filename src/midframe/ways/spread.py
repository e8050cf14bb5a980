"""How far the seconds of a way may lie from their median: the sum of log-normal times in closed form."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import msgspec

from midframe.faults import BadSetting
from midframe.ways.count import Count

SIGMA_OF_LN = 0.58
"""Standard deviation of ln(step time) of hand disassembly [step-times-lf, pooled over 14 groups]."""

LOW, HIGH = 0.05, 0.95
"""The ends of the interval that nine of ten ways stay in."""


class Spread(msgspec.Struct, frozen=True):
    """Median of a sum of times and the interval that holds 90 % of them, all in seconds."""

    median_seconds: float
    low_seconds: float
    high_seconds: float
    sigma_of_ln: float
    times: int


def spread(count: Count, sigma: float = SIGMA_OF_LN) -> Spread:
    """The range of a counted way's seconds, every operation, tool change and turn a time of its own.

    The times are taken as independent; what they share (light, practice, a
    swollen cell) widens the range and is not in it.
    """
    return spread_of(times_of(count), sigma)


def times_of(count: Count) -> tuple[float, ...]:
    """All single times of a counted way above zero, in seconds and in order."""
    return tuple(
        seconds
        for move in count.moves
        for seconds in (
            move.change_seconds,
            move.flip_seconds,
            *(step.seconds or 0.0 for step in move.operations),
        )
        if seconds > 0
    )


def spread_of(medians: Sequence[float], sigma: float = SIGMA_OF_LN) -> Spread:
    """The range of a sum of independent log-normal times by one log-normal of equal mean and variance.

    M = Σ x e^(σ²/2), V = Σ x² e^(σ²) (e^(σ²) − 1), s² = ln(1 + V/M²), m = ln M − s²/2;
    median e^m, ends e^(m ± z s) with z the 95 % point of the normal distribution.

    Parameters
    ----------
    medians
        Median of each time, seconds, above zero; none gives a range of zero.
    sigma
        Standard deviation of ln(time), zero or more.

    Returns
    -------
    Spread
        In seconds. Its median lies above the sum of the medians, since long times pull more than short ones.
        Where one time makes up most of the sum, the lower end is up to a tenth too low (beside a simulation).

    Raises
    ------
    BadSetting
        For a time that is not above zero, or a sigma below zero.

    Examples
    --------
    >>> one = spread_of([60.0])
    >>> round(one.median_seconds, 6), round(one.low_seconds, 1), round(one.high_seconds, 1)
    (60.0, 23.1, 155.8)
    >>> many = spread_of([6.0] * 10)
    >>> round(many.median_seconds, 1), round(many.high_seconds / many.low_seconds, 2)
    (69.6, 1.92)

    References
    ----------
    [fenton-1960, moment matching]; the moments are textbook.
    """
    if not (math.isfinite(sigma) and sigma >= 0):
        raise BadSetting(f"sigma of ln(time): found {sigma!r}; a number of zero or more is needed")
    for number, seconds in enumerate(medians, start=1):
        if not (math.isfinite(seconds) and seconds > 0):
            raise BadSetting(f"time {number}: found {seconds!r}; seconds above zero are needed")
    if not medians:
        return Spread(0.0, 0.0, 0.0, sigma, 0)
    square = sigma**2
    mean = math.fsum(medians) * math.exp(square / 2)
    variance = math.fsum(x**2 for x in medians) * math.exp(square) * math.expm1(square)
    s = math.sqrt(math.log1p(variance / mean**2))
    m = math.log(mean) - s**2 / 2
    low, high = (math.exp(m + NormalDist().inv_cdf(share) * s) for share in (LOW, HIGH))
    return Spread(math.exp(m), low, high, sigma, len(medians))
