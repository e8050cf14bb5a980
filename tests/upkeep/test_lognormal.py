"""The log-normal repair time against the published set, the step-time figures and scipy."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from midframe.faults import BadSetting
from midframe.upkeep import SIGMA_OF_LN, LogNormal, fenton_wilkinson, fit, sum_moments

# 46 repair times of an airborne transceiver, hours [chhikara-folks-1977, after Von Alven 1964].
HOURS = [
    *(0.2, 0.3, 0.5, 0.5, 0.5, 0.5, 0.6, 0.6, 0.7, 0.7, 0.7, 0.8, 0.8, 1.0, 1.0, 1.0, 1.0, 1.1, 1.3),
    *(1.5, 1.5, 1.5, 1.5, 2.0, 2.0, 2.2, 2.5, 2.7, 3.0, 3.0, 3.3, 3.3, 4.0, 4.0, 4.5, 4.7, 5.0, 5.4, 5.4),
    *(7.0, 7.5, 8.8, 9.0, 10.3, 22.0, 24.5),
]
TIMES = st.lists(st.floats(0.01, 1e4), min_size=1, max_size=25)


def test_the_published_set_has_46_times_with_the_arithmetic_mean_of_3_607_hours():
    assert len(HOURS) == 46
    assert np.mean(HOURS) == pytest.approx(3.607, abs=5e-4)


@pytest.mark.parametrize(
    ("figure", "expected", "within"),
    [
        (lambda t: t.m, 0.65839, 5e-6),
        (lambda t: t.s, 1.11397, 5e-6),
        (lambda t: t.median, 1.932, 5e-4),
        (lambda t: t.mean, 3.5925, 5e-5),
        (lambda t: t.mode, 0.558, 5e-4),
        (lambda t: t.percentile(0.90), 8.05, 5e-3),
        (lambda t: t.percentile(0.95), 12.07, 5e-3),
        (lambda t: t.done_by(1.0), 0.277, 5e-4),
        (lambda t: t.done_by(2.0), 0.512, 5e-4),
        (lambda t: t.done_by(4.0), 0.743, 5e-4),
        (lambda t: t.done_by(8.0), 0.899, 5e-4),
    ],
)
def test_the_published_set_gives_the_figures_of_the_log_normal_method(figure, expected, within):
    # Formulas [mil-hdbk-338b, 5.6.2.1]; data [chhikara-folks-1977]. Figures recomputed from both.
    assert figure(fit(HOURS)) == pytest.approx(expected, abs=within)


def test_the_mean_of_the_published_set_agrees_with_the_printed_3_595_hours_within_a_thousandth():
    # 3.595 h as printed in the handbook, from memory; it works with rounded logarithms.
    assert fit(HOURS).mean == pytest.approx(3.595, rel=1e-3)


def test_a_fit_agrees_with_the_log_normal_of_scipy():
    fitted = fit(HOURS)
    shape, _, scale = stats.lognorm.fit(HOURS, floc=0)
    assert fitted.median == pytest.approx(scale)
    assert fitted.s == pytest.approx(shape * math.sqrt(46 / 45))
    reference = stats.lognorm(fitted.s, scale=fitted.median)
    assert fitted.mean == pytest.approx(reference.mean())
    assert fitted.standard_deviation == pytest.approx(reference.std())
    for share in (0.01, 0.5, 0.9, 0.95, 0.99):
        assert fitted.percentile(share) == pytest.approx(reference.ppf(share))
        assert fitted.done_by(fitted.percentile(share)) == pytest.approx(share)


def test_the_step_spread_gives_the_published_ratios_to_the_median():
    # [step-times-lf, README]: mean 1.183, P90 2.10, P95 2.60 times the median, variation 0.632.
    step = LogNormal(m=0.0, s=SIGMA_OF_LN)
    assert step.mean == pytest.approx(1.183, abs=5e-4)
    assert step.percentile(0.90) == pytest.approx(2.10, abs=5e-3)
    assert step.percentile(0.95) == pytest.approx(2.60, abs=5e-3)
    assert step.standard_deviation / step.mean == pytest.approx(0.632, abs=5e-4)


def test_twenty_equal_steps_have_the_coefficient_of_variation_0_141():
    mean, variance = sum_moments([7.0] * 20, SIGMA_OF_LN)  # [step-times-lf, README]
    assert math.sqrt(variance) / mean == pytest.approx(0.141, abs=5e-4)


@given(TIMES, st.floats(0.05, 1.2))
def test_the_closed_form_keeps_mean_and_variance_of_the_sum(medians, sigma):
    mean, variance = sum_moments(medians, sigma)
    closed = fenton_wilkinson(medians, sigma)
    assert closed.mean == pytest.approx(mean)
    assert closed.standard_deviation == pytest.approx(math.sqrt(variance), rel=1e-6)


@given(TIMES, st.floats(0.05, 1.2))
def test_the_moments_of_a_sum_are_the_sums_of_scipys_moments(medians, sigma):
    mean, variance = sum_moments(medians, sigma)
    singles = [stats.lognorm(sigma, scale=x) for x in medians]
    assert mean == pytest.approx(sum(x.mean() for x in singles))
    assert variance == pytest.approx(sum(x.var() for x in singles))


@given(st.lists(st.floats(0.1, 1e3), min_size=2, max_size=30), st.floats(0.01, 100.0))
def test_a_change_of_unit_scales_the_times_and_leaves_the_spread(times, factor):
    one, other = fit(times), fit([time * factor for time in times])
    assert other.median == pytest.approx(one.median * factor)
    assert other.s == pytest.approx(one.s, abs=1e-6)


def test_without_spread_everything_is_done_at_the_median():
    sure = LogNormal(m=math.log(10.0), s=0.0)
    assert (sure.done_by(9.9), sure.done_by(10.1)) == (0.0, 1.0)
    assert sure.done_by(0.0) == 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: fit([3.0]), "times: found 1; a spread needs at least two"),
        (lambda: fit([3.0, 0.0]), r"times\[1\]: found 0.0; a measured time is above zero"),
        (lambda: fit([math.nan, 1.0]), r"times\[0\]: found nan"),
        (lambda: LogNormal(0.0, 1.0).percentile(1.0), "percentile: found 1.0"),
        (lambda: LogNormal(0.0, 1.0).done_by(-1.0), "time: found -1.0"),
        (lambda: fenton_wilkinson([], 0.5), "at least one time above zero"),
    ],
)
def test_bad_times_are_refused_with_what_was_found(call, message):
    with pytest.raises(BadSetting, match=message):
        call()
