"""One source looked at closely, the state of the cells, the watch between readings, cycles given up."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest

from midframe import demo
from midframe.faults import BadSetting
from midframe.heat import (
    NO_CURVES,
    Cycles,
    PlanSettings,
    cell_state,
    goal_of,
    later,
    make_plan,
    settings_of,
    study,
    turn_at,
    watch,
)
from midframe.heat.attempts import settled
from midframe.heat.model import Curves
from midframe.heat.windows import until

DRYER = settings_of("hairdryer")[0]


@pytest.fixture(scope="module")
def found(strip):
    return study(strip, DRYER, draws=200)


def test_a_study_is_the_plan_of_that_source_alone(strip, found):
    plan = make_plan(strip, PlanSettings(sources=("hairdryer",)))
    assert found.shown.setting == plan.best.setting
    assert found.shown.window == plan.best.window
    assert found.shown.reheat == plan.best.reheat
    assert found.sure.draws == 200
    assert found.after.press_seconds is not None


def test_a_study_of_a_source_that_fails_has_no_cooling_and_says_why(back_bond):
    found = study(back_bond, settings_of("heat-bag")[0], draws=0)
    assert not found.shown.works
    assert found.shown.advice.startswith("too weak")
    assert (found.sure, found.after, found.plan.best) == (None, None, None)


@pytest.mark.parametrize("state", ["swollen", "damaged"])
def test_a_cell_that_is_not_sound_gets_no_study(strip, state):
    with pytest.raises(BadSetting, match=f"the cell is {state}"):
        study(strip, DRYER, PlanSettings(cell=state))


def with_cell(state):
    record = demo.load("tern-3")
    parts = tuple(
        msgspec.structs.replace(one, condition=state) if one.role == "battery" else one
        for one in record.parts
    )
    return msgspec.structs.replace(record, parts=parts)


@pytest.mark.parametrize(
    ("record", "said", "state"),
    [
        (None, "not said", "not said"),
        (None, "sound", "sound"),
        ("sound", "swollen", "swollen"),
        ("swollen", "sound", "swollen"),
        ("damaged", "swollen", "swollen"),
        ("damaged", "not said", "damaged"),
    ],
)
def test_the_worse_of_record_and_eye_counts(record, said, state):
    assert cell_state(with_cell(record), said) == state


def test_only_own_sources_are_tried_where_they_alone_are_at_hand(strip):
    own = msgspec.structs.replace(DRYER, source="own-1", name="Mine", measured=True)
    plan = make_plan(strip, PlanSettings(own=(own,), sources=("own",)))
    assert [one.setting.name for one in plan.attempts] == ["Mine"]


def test_between_readings_the_step_follows_the_clock_and_a_stop_stays(strip, found):
    known = watch(strip, found.shown, goal_of(strip, PlanSettings()))
    assert later(known, 1.0).reading_due_seconds == 20.0
    soft = later(known, known.soft_seconds + 1.0)
    assert (soft.step, soft.reading_due_seconds) == ("work", None)
    assert later(known, known.stop_seconds + 1.0).say.startswith("Source off and pry")
    stopped = msgspec.structs.replace(known, step="stop", say="Source off.")
    assert later(stopped, 1.0) == stopped


def test_a_source_too_weak_so_far_is_said_to_be_so_and_stays_on(back_bond):
    weak = study(back_bond, settings_of("heat-bag")[0], draws=0).shown
    step = watch(back_bond, weak, goal_of(back_bond, PlanSettings()))
    assert step.step == "heat"
    assert "too weak" in step.say


def test_cycles_that_warm_the_bond_no_more_are_given_up(strip):
    goal = msgspec.structs.replace(goal_of(strip, PlanSettings()), soft_c=60.0)
    assert settled([50.0, 55.0, 55.1, 55.15, 55.2], goal)
    assert not settled([50.0, 52.0, 54.0, 56.0], goal)
    assert not settled([55.0, 55.0], goal)


def test_the_hottest_up_to_a_time_is_not_what_comes_later():
    values = (20.0, 60.0, 40.0, 90.0)
    curves = Curves((0.0, 10.0, 20.0, 30.0), values, values, (), (), (), values, values, values)
    assert until(curves, "cover", 20.0) == 60.0
    assert until(curves, "cover", 30.0) == 90.0
    assert until(curves, "cover", 5.0) == pytest.approx(40.0)


def test_no_source_reaches_more_in_the_bond_than_at_its_hottest_point(back_bond):
    for one in make_plan(back_bond, PlanSettings(sources=("heat-bag", "heat-gun"))).attempts:
        if one.window.soft_seconds is None:
            assert one.window.reached_c <= one.peak_c + 1e-6
        assert np.isfinite(one.peak_c)


def test_cycles_are_told_turn_by_turn():
    turns = Cycles(
        works=True,
        count=2,
        first_on_seconds=60.0,
        on_seconds=10.0,
        off_seconds=5.0,
        soft_seconds=70.0,
        stopped_by="",
        curves=NO_CURVES,
    )
    told = [turn_at(turns, seconds) for seconds in (0.0, 59.9, 60.0, 65.0, 69.9, 70.0)]
    assert [one.on for one in told] == [True, True, False, True, True, False]
    assert [one.until_seconds for one in told[:5]] == [60.0, 60.0, 65.0, 75.0, 75.0]
    assert (told[3].number, told[-1].soft) == (2, True)
