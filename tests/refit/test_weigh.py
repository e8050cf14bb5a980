from __future__ import annotations

import math
from random import Random

import pytest

from midframe.faults import BadSetting
from midframe.refit.weigh import Scale, detectable_g, difference_uncertainty_g, weigh_check


def test_a_step_alone_has_the_uncertainty_of_a_rectangle():
    # [jcgm-100, F.2.2.1]: u = 0.29 δx for a reading of resolution δx.
    assert difference_uncertainty_g(Scale(0.1, 0.0)) / math.sqrt(2) == pytest.approx(0.29 * 0.1, rel=0.01)


def test_the_detection_limit_is_3_29_standard_deviations_of_the_difference():
    # [currie-1968, table of limits]: L_D = 3.29 σ for paired observations of known σ, per √2 of one.
    assert detectable_g(1.0) == pytest.approx(3.29)
    scale = Scale(1e-9, 1.0)
    assert detectable_g(difference_uncertainty_g(scale)) == pytest.approx(4.65, abs=0.005)


def test_a_tenth_of_a_gram_cannot_see_a_screw_of_two_hundredths():
    found = weigh_check(211.3, 211.3, Scale(0.1), screws_g=(("E", 0.017), ("A", 0.043)))
    assert found.sees_lightest is False
    assert found.repeatability_assumed
    assert [kind for kind, _ in found.unseen] == ["E", "A"]
    assert "0.017 g: only counting back finds it" in found.sentence


def test_a_milligram_scale_sees_it():
    found = weigh_check(211.300, 211.283, Scale(0.001, 0.001), screws_g=(("E", 0.017),))
    assert (found.verdict, found.sees_lightest, found.unseen) == ("lighter", True, ())
    assert "missing" in found.sentence


def test_what_was_changed_on_purpose_is_taken_off_and_its_doubt_is_added():
    plain = weigh_check(200.0, 203.2, Scale(0.01, 0.01))
    told = weigh_check(200.0, 203.2, Scale(0.01, 0.01), changed_g=3.2, changed_uncertainty_g=0.3)
    assert plain.verdict == "heavier"
    assert told.verdict == "no difference seen"
    assert told.detectable_g > 0.9


@pytest.mark.parametrize("spread", [0.0, 0.02, 0.08])
def test_simulated_weighings_are_missed_and_blamed_as_often_as_is_said(spread):
    random, scale, count = Random(7), Scale(0.1, spread), 4000

    def reading(mass):
        return round((mass + random.gauss(0, spread)) / 0.1) * 0.1

    def verdicts(taken):
        start = (200 + random.random() for _ in range(count))
        return [weigh_check(reading(mass), reading(mass - taken), scale).verdict for mass in start]

    limit = weigh_check(200, 200, scale).detectable_g
    blamed = verdicts(0.0).count("lighter") / count
    missed = sum(verdict != "lighter" for verdict in verdicts(limit)) / count
    assert blamed <= 0.055
    assert missed <= 0.055
    # Not bought by a limit that is far too high: with half of it gone a good part is missed.
    half = sum(verdict != "lighter" for verdict in verdicts(limit / 2)) / count
    assert half > 0.2


@pytest.mark.parametrize(
    ("first", "last", "scale", "word"),
    [
        (0, 1, Scale(0.1), "first weighing"),
        (1, -1, Scale(0.1), "last weighing"),
        (1, 1, Scale(0), "resolution"),
        (1, 1, Scale(0.1, -1), "repeatability"),
        (math.nan, 1, Scale(0.1), "first weighing"),
        (math.inf, 1, Scale(0.1), "first weighing"),
    ],
)
def test_figures_that_cannot_be_are_refused_by_name(first, last, scale, word):
    with pytest.raises(BadSetting, match=word):
        weigh_check(first, last, scale)
