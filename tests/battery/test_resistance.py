from __future__ import annotations

import pytest

from battery.logs import excerpt, log_of
from midframe.battery.log_series import plain_log
from midframe.battery.resistance import step_resistances


def test_the_open_log_gives_a_resistance_that_grows_with_the_time_of_the_step():
    """0.0201 ohm over 79 ms, 0.0235 over 5 s; the cycler's own figure is 0.0171
    [battery-data-toolkit, cycler_two_cycles]."""
    found = {round(step.step_seconds, 2): step.resistance_ohm for step in step_resistances(log_of(excerpt()))}
    assert found[0.08] == pytest.approx(0.0201, abs=5e-5)
    assert found[5.07] == pytest.approx(0.0235, abs=5e-5)


def test_a_ramp_is_one_step():
    log = plain_log([0, 1, 2, 3, 4], [3.9, 3.85, 3.8, 3.75, 3.75], [0, -1, -2, -3, -3])
    (step,) = step_resistances(log)
    assert (step.step_seconds, step.from_a, step.to_a) == (3, 0, -3)
    assert step.resistance_ohm == pytest.approx(0.05)


def test_rows_far_apart_tell_nothing_of_a_step():
    assert step_resistances(plain_log([0, 60, 120], [3.9, 3.8, 3.8], [0, -1, -1])) == ()


def test_a_voltage_that_a_charger_holds_gives_no_resistance():
    assert step_resistances(plain_log([0, 1, 2], [4.2, 4.2, 4.2], [2, 1, 1])) == ()
    assert step_resistances(plain_log([0, 1, 2], [4.1, 4.2, 4.2], [2, 1, 1])) == ()


def test_a_step_across_a_restart_is_none():
    log = log_of("Time (s),U (V),I (A)\n0,3.9,0\n1,3.9,0\n2,3.9,0\n0,3.8,-1\n1,3.8,-1\n2,3.8,-1\n")
    assert log.pieces == (0, 3)
    assert step_resistances(log) == ()
