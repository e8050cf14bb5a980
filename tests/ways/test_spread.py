"""The range of a way's seconds beside a reference library's log-normal and beside a simulated sum."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import lognorm

from midframe.faults import BadSetting
from midframe.ways.solve import solve
from midframe.ways.spread import SIGMA_OF_LN, spread, spread_of, times_of
from ways.records import VECTOR_BENCH, vector_phone


def test_a_single_time_has_the_quantiles_of_the_log_normal_of_scipy():
    one = spread_of([42.0])
    law = lognorm(s=SIGMA_OF_LN, scale=42.0)
    found = (one.low_seconds, one.median_seconds, one.high_seconds)
    assert found == pytest.approx(law.ppf([0.05, 0.5, 0.95]))


@pytest.mark.parametrize("medians", [[6.0] * 12, [120.0, 30.0, 4.0, 4.0, 3.0, 16.0, 3.0, 4.0]])
def test_a_sum_agrees_with_a_simulation(medians):
    drawn = np.random.default_rng(7).normal(np.log(medians), SIGMA_OF_LN, size=(200_000, len(medians)))
    low, median, high = np.quantile(np.exp(drawn).sum(axis=1), [0.05, 0.5, 0.95])
    closed = spread_of(medians)
    # The closed form matches mean and variance; where one time leads its lower end lies some 9 % too low.
    assert closed.median_seconds == pytest.approx(median, rel=0.02)
    assert closed.low_seconds == pytest.approx(low, rel=0.10)
    assert closed.high_seconds == pytest.approx(high, rel=0.03)


def test_a_way_is_the_sum_of_all_its_times():
    way = solve(vector_phone(), "battery", bench=VECTOR_BENCH)
    times = times_of(way.count)
    assert math.fsum(times) == pytest.approx(way.seconds)
    found = spread(way.count)
    assert found.times == len(times)
    assert found.low_seconds < way.seconds < found.median_seconds < found.high_seconds


def test_without_spread_the_range_is_the_sum():
    exact = spread_of([10.0, 20.0], sigma=0.0)
    assert (exact.low_seconds, exact.median_seconds, exact.high_seconds) == pytest.approx((30.0, 30.0, 30.0))


def test_no_time_at_all_is_a_range_of_zero():
    assert spread_of([]).high_seconds == 0.0


@pytest.mark.parametrize(
    ("medians", "sigma"), [([0.0], 0.5), ([-1.0], 0.5), ([math.nan], 0.5), ([1.0], -0.1)]
)
def test_times_and_sigma_outside_their_range_are_refused(medians, sigma):
    with pytest.raises(BadSetting, match="found"):
        spread_of(medians, sigma)
