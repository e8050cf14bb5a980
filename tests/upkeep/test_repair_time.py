"""Simulated repair times against exact moments, closed form and integration; the mean over a mix."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import integrate, stats

from midframe.faults import BadSetting
from midframe.upkeep import SIGMA_OF_LN, OtherTasks, fenton_wilkinson, mean_time_to_repair, sum_moments
from midframe.upkeep.repair_time import draw_repair_seconds, mixture_percentiles, repair_time
from midframe.upkeep.tables import step_spread

RATES = st.lists(st.tuples(st.floats(0.0, 1e3), st.floats(0.1, 1e4)), min_size=1, max_size=12)


def test_the_small_exact_vector_gives_20_minutes():
    # (4·10 + 2·20 + 1·60) / 7 = 20 [mil-hdbk-472, procedure II]; the vector is our own.
    assert mean_time_to_repair([4, 2, 1], [10, 20, 60]) == 20.0


@given(RATES, st.floats(1e-3, 1e3))
def test_the_mean_does_not_change_when_all_rates_are_scaled(pairs, factor):
    rates, times = zip(*pairs, strict=True)
    assume(sum(rates) > 1e-6)
    scaled = [rate * factor for rate in rates]
    assert mean_time_to_repair(scaled, times) == pytest.approx(mean_time_to_repair(rates, times), rel=1e-9)


@given(RATES)
def test_the_mean_lies_between_the_shortest_and_the_longest_time(pairs):
    rates, times = zip(*pairs, strict=True)
    assume(sum(rates) > 1e-6)
    counted = [time for rate, time in pairs if rate > 0]
    mean = mean_time_to_repair(rates, times)
    assert min(counted) * (1 - 1e-9) <= mean <= max(counted) * (1 + 1e-9)


@given(RATES, st.integers(0, 11), st.floats(1.0, 100.0))
def test_a_longer_time_never_shortens_the_mean(pairs, which, more):
    rates, times = zip(*pairs, strict=True)
    assume(sum(rates) > 1e-6)
    longer = list(times)
    longer[which % len(times)] += more
    assert mean_time_to_repair(rates, longer) >= mean_time_to_repair(rates, times) * (1 - 1e-12)


@pytest.mark.parametrize(
    "medians", [[60.0] * 20, [5.0] * 40 + [300.0, 90.0], [10.0], list(range(5, 60, 3))], ids=len
)
def test_simulated_mean_and_spread_are_the_exact_moments(medians):
    draws = 40_000
    drawn = draw_repair_seconds(medians, draws=draws, name="any")
    mean, variance = sum_moments(medians, SIGMA_OF_LN)
    assert drawn.mean() == pytest.approx(mean, abs=4 * math.sqrt(variance / draws))
    assert drawn.std(ddof=1) == pytest.approx(math.sqrt(variance), rel=0.05)


@pytest.mark.parametrize(
    ("medians", "within"), [([60.0] * 20, 0.01), (list(range(5, 60, 3)), 0.015), ([10.0], 0.02)]
)
def test_simulation_and_closed_form_agree_on_median_and_95th_percentile(medians, within):
    drawn = draw_repair_seconds(medians, draws=40_000, name="any")
    closed = fenton_wilkinson(medians, SIGMA_OF_LN)  # [fenton-1960, moment matching]
    median, p95 = np.quantile(drawn, [0.5, 0.95])
    assert median == pytest.approx(closed.median, rel=within)
    assert p95 == pytest.approx(closed.percentile(0.95), rel=within)


@pytest.mark.parametrize("share", [0.05, 0.5, 0.95])
def test_a_sum_of_two_is_drawn_as_numerical_integration_says(share):
    one, other = stats.lognorm(SIGMA_OF_LN, scale=40.0), stats.lognorm(SIGMA_OF_LN, scale=90.0)
    time = np.quantile(draw_repair_seconds([40.0, 90.0], draws=60_000, name="two"), share)
    done = integrate.quad(lambda x: one.pdf(x) * other.cdf(time - x), 0.0, time, limit=200)[0]
    assert done == pytest.approx(share, abs=0.006)


def test_the_90_percent_interval_of_a_20_step_plan_covers_85_percent_of_runs():
    # Runs spread as the logged groups did (0.36 to 0.78), the plan with 0.58 [step-times-lf, README].
    rng = np.random.default_rng(11)
    sigmas = [row.sigma_of_ln for row in step_spread()]
    covered = []
    for plan in range(30):
        medians = rng.uniform(5.0, 120.0, size=20).tolist()
        interval = repair_time(medians, draw_repair_seconds(medians, draws=4000, seed=plan))
        true = rng.choice(sigmas, size=20)
        runs = np.exp(rng.normal(np.log(medians), true, size=(1000, 20))).sum(axis=1)
        covered.append(np.mean((runs >= interval.p05_seconds) & (runs <= interval.p95_seconds)))
    assert np.mean(covered) >= 0.85
    assert np.mean(covered) < 0.97  # an interval that covers everything says nothing


def test_a_plan_without_spread_would_fail_the_coverage():
    medians = [30.0] * 20
    narrow = repair_time(medians, draw_repair_seconds(medians, sigma=0.2, draws=4000), sigma=0.2)
    runs = draw_repair_seconds(medians, draws=4000, seed=9)
    assert np.mean((runs >= narrow.p05_seconds) & (runs <= narrow.p95_seconds)) < 0.85


def test_waits_held_by_a_clock_shift_the_time_without_spreading_it():
    plain = draw_repair_seconds([30.0] * 5, draws=2000, name="a")
    waiting = draw_repair_seconds([30.0] * 5, fixed_seconds=600.0, draws=2000, name="a")
    assert waiting == pytest.approx(plain + 600.0)


def test_without_spread_the_time_is_the_sum_of_the_medians():
    time = repair_time(
        [10.0, 20.0, 0.0], draw_repair_seconds([10.0, 20.0, 0.0], sigma=0.0, draws=1000), sigma=0.0
    )
    figures = (time.mean_seconds, time.median_seconds, time.p05_seconds, time.closed_form_p95_seconds)
    assert figures == pytest.approx((30.0,) * 4)


def test_draws_depend_on_seed_and_name_only():
    one = draw_repair_seconds([30.0] * 5, draws=1000, seed=3, name="battery")
    assert (one == draw_repair_seconds([30.0] * 5, draws=1000, seed=3, name="battery")).all()
    assert not (one == draw_repair_seconds([30.0] * 5, draws=1000, seed=3, name="display")).any()
    assert not (one == draw_repair_seconds([30.0] * 5, draws=1000, seed=4, name="battery")).any()


def test_percentiles_over_a_mix_are_those_of_the_mixture_of_log_normals():
    shares, medians = [0.7, 0.3], [100.0, 400.0]
    drawn = [draw_repair_seconds([m], draws=60_000, name=str(m)) for m in medians]
    singles = [stats.lognorm(SIGMA_OF_LN, scale=m) for m in medians]
    for point, time in zip(
        (0.1, 0.5, 0.95), mixture_percentiles(shares, drawn, (0.1, 0.5, 0.95)), strict=True
    ):
        done = sum(share * single.cdf(time) for share, single in zip(shares, singles, strict=True))
        assert done == pytest.approx(point, abs=0.005)


def test_the_five_other_tasks_stand_in_the_order_of_work():
    assert OtherTasks(1.0, 2.0, 3.0, 4.0, 5.0).seconds == (1.0, 2.0, 3.0, 4.0, 5.0)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: mean_time_to_repair([1.0], [2.0, 3.0]), "found 1 rates and 2 times"),
        (lambda: mean_time_to_repair([0.0, 0.0], [2.0, 3.0]), "rates: found a sum of 0.0"),
        (lambda: mean_time_to_repair([-1.0, 2.0], [2.0, 3.0]), r"rates\[0\]: found -1.0"),
        (lambda: mean_time_to_repair([1.0, 2.0], [2.0, math.nan]), r"times\[1\]: found nan"),
        (lambda: draw_repair_seconds([5.0, "8"]), r"medians\[1\]: found '8'; a number of zero or more"),
    ],
)
def test_bad_numbers_are_refused_with_place_and_value(call, message):
    with pytest.raises(BadSetting, match=message):
        call()
