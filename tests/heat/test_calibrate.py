"""Own sources from readings, and the watch that follows them."""

from __future__ import annotations

import json

import msgspec
import numpy as np
import pytest

from midframe import demo
from midframe.faults import BadSetting
from midframe.heat import (
    Bench,
    Calibration,
    PlanSettings,
    Reading,
    calibrate,
    calibrations_from,
    calibrations_text,
    goal_of,
    heat_model,
    make_plan,
    settings_of,
    watch,
)
from midframe.heat.calibrate import emissivity_warnings, true_c

DRYER = settings_of("hairdryer")[3]


def readings_of(model, setting, air_c, coefficient, times):
    """What a thermometer set to the surface's own emissivity shows of a known source."""
    usual = model.figures(setting, Bench())
    figures = msgspec.structs.replace(usual, air_c=air_c, coefficient_w_m2k=coefficient)
    run = model.run(setting, max(times), figures)
    curves = model.curves(run)
    return [Reading(float(t), float(np.interp(t, curves.seconds, curves.surface))) for t in times]


@pytest.fixture(scope="module")
def glass():
    return heat_model(demo.load("tern-3"), "back-bond")


@pytest.fixture(scope="module")
def fitted(glass):
    seen = readings_of(glass, DRYER, 88.0, 62.0, (20, 60, 120, 200, 300))
    shown = [Reading(one.seconds, shown_by(one.shown_c)) for one in seen]
    return calibrate(glass, DRYER, shown)


def shown_by(truth_c, surface=0.94, thermometer=0.95):
    """What a thermometer set to 0.95 shows of glass."""
    return true_c(truth_c, thermometer, surface, 22.0)


def test_a_known_source_is_found_again(fitted):
    assert fitted.air_c[1] == pytest.approx(88.0, abs=4.0)
    assert fitted.coefficient_w_m2k[1] == pytest.approx(62.0, rel=0.15)
    assert fitted.air_c[0] < 88.0 < fitted.air_c[2]
    assert fitted.rms_k < 1.0


def test_readings_narrow_what_is_known(fitted):
    assert fitted.air_c[2] - fitted.air_c[0] < 2.0 * (DRYER.air_c.high - DRYER.air_c.low)


def test_a_calibration_goes_through_toml_and_json_and_back(fitted):
    assert calibrations_from(calibrations_text([fitted, fitted])) == (fitted, fitted)
    assert msgspec.convert(json.loads(msgspec.json.encode(fitted)), Calibration) == fitted


def test_a_calibrated_source_serves_a_plan(strip, fitted):
    plan = make_plan(strip, PlanSettings(own=(fitted.setting(),), sources=("heat-gun",)))
    assert any(one.setting.measured for one in plan.attempts)


def test_bare_metal_is_refused_and_tape_is_taken():
    with pytest.raises(BadSetting, match="metal surface"):
        emissivity_warnings(metal=True, emissivity=0.2, taped=False)
    assert emissivity_warnings(metal=True, emissivity=0.2, taped=True) == []
    assert "low emissivity" in emissivity_warnings(metal=False, emissivity=0.3, taped=False)[0]


@pytest.mark.parametrize(
    "readings",
    [
        [Reading(10, 30)],
        [Reading(10, 30), Reading(10, 31)],
        [Reading(10, 30), Reading(20, 900)],
        [Reading(float(n), 30.0) for n in range(1, 13)],
    ],
)
def test_readings_that_cannot_be_used_are_refused(glass, readings):
    with pytest.raises(BadSetting, match="readings: found"):
        calibrate(glass, DRYER, readings)


def test_text_that_is_no_calibration_is_refused_with_its_file():
    with pytest.raises(BadSetting, match=r"mine\.toml"):
        calibrations_from("[[heat_sources]]\nname = 1\n", "mine.toml")


@pytest.fixture(scope="module")
def followed(strip):
    asked = PlanSettings(sources=("hairdryer",))
    return make_plan(strip, asked).best, goal_of(strip, asked)


def test_without_readings_the_watch_asks_for_the_first(strip, followed):
    step = watch(strip, *followed)
    assert (step.step, step.reading_due_seconds) == ("heat", 20.0)


def test_readings_on_the_curve_keep_the_plan(strip, followed):
    tried, goal = followed
    on_curve = readings_of(strip, tried.setting, 47.0, tried.setting.coefficient_w_m2k.usual, (20, 60))
    step = watch(strip, tried, goal, on_curve)
    assert step.step == "heat"
    assert step.stop_seconds == pytest.approx(tried.stop_seconds, rel=0.25)
    assert 60.0 < step.reading_due_seconds <= step.stop_seconds


def test_a_reading_far_ahead_stops_the_work(strip, followed):
    step = watch(strip, *followed, [Reading(30.0, 70.0)])
    assert step.step == "stop"
    assert "ahead of the curve" in step.say


def test_after_the_stop_it_is_time_to_pry(strip, followed):
    tried, goal = followed
    late = readings_of(strip, tried.setting, 47.0, tried.setting.coefficient_w_m2k.usual, (60, 400))
    assert watch(strip, tried, goal, late).step == "work"


def test_a_reading_somewhat_ahead_asks_for_the_next_one_soon(strip, followed):
    seen = float(np.interp(10.0, followed[0].curves.seconds, followed[0].curves.surface))
    step = watch(strip, *followed, [Reading(10.0, seen + 6.0)])
    assert (step.step, step.reading_due_seconds) == ("heat", 25.0)
    assert 4.0 < step.off_k < 8.0
    assert "K ahead of the curve: measure again soon" in step.say
