from __future__ import annotations

import random

import pytest

from battery.logs import log_of, steady_log, whole
from battery.simulated import simulated
from midframe.battery.counting import count, runs
from midframe.battery.health import cell_health, state_of_health, window_capacity
from midframe.battery.log_series import plain_log
from midframe.battery.window import given_window
from midframe.faults import BadSetting
from midframe.sources import cited

slow = pytest.mark.slow


def discharge(share, capacity_ah=4.0, hours=5.0, volt=3.8):
    """A steady discharge of a part of a capacity at the five-hour rate."""
    ampere = -capacity_ah / hours
    return log_of(steady_log(hours * share, volt, f"{ampere:.6f}", rows=601))


def test_capacity_is_charge_over_the_part_of_a_charge():
    health = cell_health(discharge(0.8, 3.2), 4000, given_window(95, 15, 1))
    assert health.outcome == "figure"
    assert health.capacity_mah.value == pytest.approx(3200, rel=1e-3)
    assert health.soh_percent.value == pytest.approx(80, rel=1e-3)
    assert health.line == "across"
    assert health.capacity_wh.value == pytest.approx(3.2 * 3.8, rel=1e-3)


def test_the_range_is_that_of_the_propagated_uncertainties():
    found = window_capacity(3.0, 0.03, 0.6, 0.03)
    relative = 2 * ((0.03 / 3.0) ** 2 + (0.03 / 0.6) ** 2) ** 0.5
    assert (found.low, found.high) == pytest.approx((5 * (1 - relative), 5 * (1 + relative)))


@pytest.mark.parametrize(
    ("start", "end", "outcome"),
    [(90, 30, "figure"), (90, 31, "range"), (60, 40, "range"), (60, 41, "refused"), (50, 45, "refused")],
)
def test_a_small_window_gives_a_range_and_a_smaller_one_nothing(start, end, outcome):
    health = cell_health(discharge((start - end) / 100), 4000, given_window(start, end))
    assert health.outcome == outcome
    assert (health.capacity_mah is None) == (outcome == "refused")
    assert (health.soh_percent is None) == (outcome == "refused")
    if outcome == "range":
        assert health.capacity_mah.value is None
        assert health.capacity_mah.low < 4000 < health.capacity_mah.high
    if outcome == "refused":
        assert "too small" in health.reason
        assert "better 60 %" in health.reason
        assert health.line == "unknown"


def test_without_percentages_a_part_of_a_charge_is_refused_with_what_to_do():
    health = cell_health(discharge(0.5), 4000)
    assert health.outcome == "refused"
    assert "give the percentages" in health.reason
    assert health.charge_ah == pytest.approx(2.0, rel=1e-3)


@pytest.mark.parametrize(("capacity", "line"), [(3.9, "above"), (3.2, "across"), (2.5, "below")])
def test_the_eighty_per_cent_line_is_judged_with_the_range(capacity, line):
    health = cell_health(discharge(0.9, capacity), 4000, given_window(95, 5, 1))
    assert health.line == line


def test_a_fast_discharge_is_a_lower_end_and_a_slow_one_more_than_rated():
    fast = cell_health(discharge(0.9, hours=1.0), 4000, given_window(95, 5))
    slow_one = cell_health(discharge(0.9, hours=20.0), 4000, given_window(95, 5))
    assert any("lower end" in note for note in fast.notes)
    assert any("gives more" in note for note in slow_one.notes)
    assert fast.rate == pytest.approx(1.0, rel=0.01)


def test_a_log_before_the_converter_is_refused_with_the_reason_and_the_way_out():
    with pytest.raises(BadSetting) as fault:
        cell_health(log_of(steady_log(2, 9.02, 1.5)), 4880)
    assert "before the phone's converter" in str(fault.value)
    assert "3000 mAh" in str(fault.value)
    assert "--before-converter" in str(fault.value)


@pytest.mark.parametrize(
    ("log", "rated", "words"),
    [
        (steady_log(1, 0.0, 1.0), 4000, "right: the voltage of a cell"),
        (steady_log(1, 3.8, 0.0), 4000, "right: a log of a charge"),
        (steady_log(1, 3.8, -0.5), 0.5, "rated capacity: found 0.5"),
        (steady_log(1, 3.8, -0.5), 4.88e6, "rated capacity: found 4.88e\\+06"),
    ],
)
def test_figures_that_cannot_be_are_refused(log, rated, words):
    with pytest.raises(BadSetting, match=words):
        cell_health(log_of(log), rated)


def test_a_run_that_is_not_there_is_refused():
    with pytest.raises(BadSetting, match="run: found 3; right: 1 to 1"):
        cell_health(discharge(0.9), 4000, given_window(95, 5), run_number=3)


def test_without_a_rated_capacity_there_is_a_capacity_but_no_health():
    health = cell_health(discharge(0.9), None, given_window(95, 5))
    assert health.capacity_mah.value == pytest.approx(4000, rel=1e-3)
    assert health.soh_percent is None
    assert health.line == "unknown"


def test_the_result_says_what_it_rests_on():
    health = cell_health(discharge(0.9), 4000, given_window(95, 5))
    assert {one.figure: one.kind for one in health.rests_on} == {
        "charge": "measured",
        "window": "given",
        "rated capacity": "given",
        "80 % line": "default",
    }
    assert cited(health.sources)


def test_the_open_log_shows_a_whole_discharge_by_itself():
    """1.07341 Ah in the second discharge [battery-data-toolkit, cycler_two_cycles]."""
    health = cell_health(log_of(whole("cycler_two_cycles.csv")), 1070)
    assert health.outcome == "figure"
    assert health.capacity_mah.value == pytest.approx(1073.4, abs=0.1)
    assert health.soh_percent.value == pytest.approx(state_of_health(1073.41, 1070), abs=0.02)
    assert any("counter says" in note for note in health.notes)
    assert len(health.resistances) >= 5


@slow
@pytest.mark.parametrize("scale", [1.0, 0.92, 0.8])
def test_a_simulated_cell_is_found_within_one_per_cent(scale):
    """Truth: the discharge capacity that the model itself counts, against that of the fresh cell."""
    cell, fresh = simulated(scale), simulated(1.0)
    health = cell_health(plain_log(cell.seconds, cell.volts, cell.amperes), 1000 * fresh.capacity_ah)
    assert health.outcome == "figure"
    assert health.capacity_mah.value == pytest.approx(1000 * cell.capacity_ah, rel=0.01)
    assert health.soh_percent.value == pytest.approx(100 * scale, rel=0.01)


@slow
@pytest.mark.parametrize(("start", "end"), [(100, 20), (90, 30), (75, 10)])
def test_a_part_of_a_simulated_discharge_with_known_ends_is_found_within_one_per_cent(start, end):
    cell = simulated(0.9)
    log = plain_log(cell.seconds, cell.volts, cell.amperes)
    last = runs(log)[-1]
    rows = {}
    for percent in (start, end):
        out = cell.capacity_ah * (100 - percent) / 100
        rows[percent] = min(
            range(last.first, last.last + 1), key=lambda at: abs(count(log, last.first, at).charge_ah - out)
        )
    window = slice(rows[start], rows[end] + 1)
    part = plain_log(cell.seconds[window], cell.volts[window], cell.amperes[window])
    health = cell_health(part, 1000 * simulated(1.0).capacity_ah, given_window(start, end, 0.5))
    assert health.capacity_mah.value == pytest.approx(1000 * cell.capacity_ah, rel=0.01)
    assert health.soh_percent.value == pytest.approx(90, rel=0.01)


@slow
def test_noise_of_a_meter_and_a_coarse_clock_stay_within_one_per_cent():
    cell = simulated(0.85)
    noise = random.Random(7)
    rows = [
        f"{int(t)};{v + noise.gauss(0, 0.003):.3f};{1000 * i + noise.gauss(0, 5):.0f}".replace(".", ",")
        for t, v, i in zip(cell.seconds, cell.volts, cell.amperes, strict=True)
    ]
    log = log_of("Zeit (s);Spannung (V);Strom (mA)\n" + "\n".join(rows) + "\n")
    health = cell_health(log, 1000 * simulated(1.0).capacity_ah)
    assert health.soh_percent.value == pytest.approx(85, rel=0.01)
    assert health.soh_percent.low < 85 < health.soh_percent.high


@slow
def test_the_resistance_of_a_simulated_step_is_that_of_its_voltage():
    cell = simulated(1.0)
    health = cell_health(plain_log(cell.seconds, cell.volts, cell.amperes), 1000 * cell.capacity_ah)
    for step in health.resistances:
        assert 0.0 < step.resistance_ohm < 0.2
        assert step.step_seconds <= 15
