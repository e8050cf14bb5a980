"""Draws: the fast model against the full one, sampling, what matters."""

from __future__ import annotations

import numpy as np
import pytest

from midframe.faults import BadSetting
from midframe.heat import PlanSettings, confidence, goal_of, make_plan
from midframe.heat.draws import Unknowns, first_at, triangular, what_matters
from midframe.heat.materials import Range

ASKED = PlanSettings(sources=("hairdryer",))


@pytest.fixture(scope="module")
def sure(strip):
    return confidence(strip, make_plan(strip, ASKED).best, goal_of(strip, ASKED), draws=1000, seed=3)


def test_the_fast_model_is_within_half_a_kelvin_of_the_full_one(sure):
    assert 0.0 < sure.largest_difference_k < 0.5


def test_the_chance_at_the_best_stop_is_not_below_that_at_the_plan(sure):
    assert 0.5 < sure.chance <= sure.best_chance + 0.02
    assert sure.holds == (sure.best_chance >= 0.95)


def test_the_same_seed_gives_the_same_answer(strip, sure):
    again = confidence(strip, make_plan(strip, ASKED).best, goal_of(strip, ASKED), draws=1000, seed=3)
    assert again == sure


def test_the_softening_temperature_and_the_source_matter_most(sure):
    assert {one.name for one in sure.matters[:2]} <= {
        "softening temperature",
        "source temperature",
        "source coefficient",
        "room",
    }
    assert all(0.0 <= one.share <= 1.0 for one in sure.matters)


def test_a_bag_that_cools_is_drawn_too(strip):
    asked = PlanSettings(sources=("heat-bag",))
    best = make_plan(strip, asked).best
    assert confidence(strip, best, goal_of(strip, asked), draws=200).largest_difference_k < 0.5


def test_too_few_draws_are_refused(strip):
    with pytest.raises(BadSetting, match="draws: found 3"):
        confidence(strip, make_plan(strip, ASKED).best, goal_of(strip, ASKED), draws=3)


def test_the_triangle_has_its_textbook_mean_and_spread():
    share = (np.arange(20_000) + 0.5) / 20_000
    drawn = triangular(share, Range(1.0, 2.0, 6.0))
    assert drawn.mean() == pytest.approx(9.0 / 3.0, rel=1e-4)
    assert drawn.var() == pytest.approx((1 + 4 + 36 - 2 - 6 - 12) / 18.0, rel=1e-3)


def test_shares_of_a_sum_are_those_of_its_parts():
    generator = np.random.default_rng(1)
    values = generator.random((20_000, 3))
    found = {
        one.name: one.share
        for one in what_matters(Unknowns(("a", "b", "c"), values), 2 * values[:, 0] + values[:, 1])
    }
    assert found["a"] == pytest.approx(0.8, abs=0.03)
    assert found["b"] == pytest.approx(0.2, abs=0.03)
    assert "c" not in found


def test_the_first_time_is_found_between_points_and_never_is_endless():
    curves = np.array([[0.0, 10.0, 20.0], [0.0, 1.0, 2.0]])
    assert first_at(np.array([0.0, 1.0, 2.0]), curves, np.array([15.0, 15.0])).tolist() == [1.5, np.inf]
