"""The log-normal repair time: its figures, its fit to measured times, and the sum of many.

All formulas are those of maintainability practice [mil-hdbk-338b, 5.6.2.1].
Times may be in any unit; results come in the same unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

import msgspec

from midframe.faults import BadSetting

SIGMA_OF_LN = 0.58
"""Standard deviation of ln(step time) of hand disassembly [step-times-lf, pooled over 14 groups]."""


class LogNormal(msgspec.Struct, frozen=True):
    """A log-normal time: `m` is the mean and `s` the standard deviation of ln(time).

    Examples
    --------
    >>> time = LogNormal(m=math.log(10.0), s=SIGMA_OF_LN)
    >>> round(time.mean / time.median, 3), round(time.percentile(0.95) / time.median, 2)
    (1.183, 2.6)

    References
    ----------
    [mil-hdbk-338b, 5.6.2.1].
    """

    m: float
    s: float

    @property
    def median(self) -> float:
        """Median time, e^m."""
        return math.exp(self.m)

    @property
    def mean(self) -> float:
        """Mean time (mean time to repair), e^(m + s²/2)."""
        return math.exp(self.m + self.s**2 / 2)

    @property
    def mode(self) -> float:
        """Most frequent time, e^(m − s²)."""
        return math.exp(self.m - self.s**2)

    @property
    def standard_deviation(self) -> float:
        """Standard deviation of the time, mean · sqrt(e^(s²) − 1)."""
        return self.mean * math.sqrt(math.expm1(self.s**2))

    def percentile(self, p: float) -> float:
        """Time within which the share `p` (0 < p < 1) is done, e^(m + z_p s); p = 0.95 is M_max.

        >>> round(LogNormal(m=0.0, s=1.0).percentile(0.95), 3)
        5.18
        """
        if not 0.0 < p < 1.0:
            raise BadSetting(f"percentile: found {p!r}; a share between 0 and 1, such as 0.95, is needed")
        return math.exp(self.m + self.s * NormalDist().inv_cdf(p))

    def done_by(self, time: float) -> float:
        """Maintainability function M(t) = Φ((ln t − m)/s): share of jobs done within `time`.

        >>> LogNormal(m=0.0, s=1.0).done_by(1.0)
        0.5
        """
        if not math.isfinite(time) or time < 0:
            raise BadSetting(f"time: found {time!r}; a time of zero or more is needed")
        if time == 0:
            return 0.0
        if self.s == 0:
            return 1.0 if math.log(time) >= self.m else 0.0
        return NormalDist().cdf((math.log(time) - self.m) / self.s)


def fit(times: Sequence[float]) -> LogNormal:
    """Log-normal that fits measured times: m = Σ ln t / n, s² = Σ (ln t − m)² / (n − 1).

    Parameters
    ----------
    times
        At least two, each above zero, all in one unit.

    Returns
    -------
    LogNormal
        In the unit of the times.

    Raises
    ------
    BadSetting
        Names the first time that is not above zero.

    Examples
    --------
    >>> fitted = fit([10.0, 20.0, 40.0])
    >>> round(fitted.median, 6), round(fitted.s, 6) == round(math.log(2.0), 6)
    (20.0, True)

    References
    ----------
    [mil-hdbk-338b, 5.6.2.1].
    """
    if len(times) < 2:
        raise BadSetting(f"times: found {len(times)}; a spread needs at least two measured times")
    for number, time in enumerate(times):
        if not math.isfinite(time) or time <= 0:
            raise BadSetting(f"times[{number}]: found {time!r}; a measured time is above zero")
    logs = [math.log(time) for time in times]
    m = math.fsum(logs) / len(logs)
    s = math.sqrt(math.fsum((value - m) ** 2 for value in logs) / (len(logs) - 1))
    return LogNormal(m=m, s=s)


def sum_moments(medians: Sequence[float], sigma: float) -> tuple[float, float]:
    """Exact mean and variance of a sum of independent log-normal times.

    mean = Σ x_i e^(σ²/2), variance = Σ x_i² e^(σ²) (e^(σ²) − 1), with x_i the medians.

    Parameters
    ----------
    medians
        Median of each time, all in one unit.
    sigma
        Standard deviation of ln(time).

    Returns
    -------
    tuple[float, float]
        Mean (that unit) and variance (that unit squared).

    Examples
    --------
    >>> mean, variance = sum_moments([1.0] * 20, 0.58)
    >>> round(mean, 2), round(math.sqrt(variance) / mean, 3)
    (23.66, 0.141)

    References
    ----------
    Textbook moments of the log-normal [mil-hdbk-338b, 5.6.2.1].
    """
    square = sigma**2
    mean = math.fsum(medians) * math.exp(square / 2)
    variance = math.fsum(x**2 for x in medians) * math.exp(square) * math.expm1(square)
    return mean, variance


def fenton_wilkinson(medians: Sequence[float], sigma: float) -> LogNormal:
    """One log-normal with the mean M and variance V of the sum: s² = ln(1 + V/M²), m = ln M − s²/2.

    A closed form for the cross-check of a simulated sum; exact for a single time, good where many
    times of like size add up, rough in the lower tail where few differ much.

    Parameters
    ----------
    medians
        Median of each time, all in one unit, at least one above zero.
    sigma
        Standard deviation of ln(time).

    Returns
    -------
    LogNormal
        In the unit of the medians.

    Examples
    --------
    >>> one = fenton_wilkinson([12.0], 0.58)
    >>> round(one.median, 9), round(one.s, 9)
    (12.0, 0.58)

    References
    ----------
    [fenton-1960, moment matching]; re-derived, the paper was not at hand.
    """
    mean, variance = sum_moments(medians, sigma)
    if mean <= 0:
        raise BadSetting(f"medians: found a sum of {mean!r}; at least one time above zero is needed")
    square = math.log1p(variance / mean**2)
    return LogNormal(m=math.log(mean) - square / 2, s=math.sqrt(square))
