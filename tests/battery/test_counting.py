from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from battery.logs import log_of, whole
from midframe.battery.counting import count, counter_difference, runs
from midframe.battery.log_series import plain_log


def test_the_open_log_counts_as_its_own_counters_do():
    """Discharge 1.07290 and 1.07341 Ah, charge 1.0759 [battery-data-toolkit, cycler_two_cycles]."""
    log = log_of(whole("cycler_two_cycles.csv"))
    first, one, charge, two = runs(log)
    assert [run.charging for run in (first, one, charge, two)] == [True, False, True, False]
    assert one.counted.charge_ah == pytest.approx(1.07290, abs=5e-5)
    assert two.counted.charge_ah == pytest.approx(1.07341, abs=5e-5)
    assert charge.counted.charge_ah == pytest.approx(1.0759, abs=5e-5)
    assert counter_difference(log, "discharge", one.first, one.last) == pytest.approx(1.07236, abs=5e-5)
    assert counter_difference(log, "discharge", two.first, two.last) == pytest.approx(1.07291, abs=5e-5)
    assert one.counted.energy_wh == pytest.approx(
        counter_difference(log, "energy_out", one.first, one.last), rel=2e-3
    )
    assert one.counted.sampling_ah < 0.003


def test_five_capacity_checks_give_the_health_of_the_small_cell():
    """100, 98.86, 98.09, 97.41, 96.09 % [battery-data-toolkit, capacity_over_cycles]."""
    from midframe.battery.health import state_of_health

    rows = csv.DictReader(io.StringIO(whole("capacity_over_cycles.csv").decode()))
    checks = [float(row["Q_dis"]) for row in rows if row["Cycle_Label"] == "Capacity check"]
    found = [round(state_of_health(one, checks[0]), 2) for one in checks]
    assert found == [100.0, 98.86, 98.09, 97.41, 96.09]


def test_a_pause_does_not_end_a_run_and_a_turn_of_the_current_does():
    seconds = list(range(0, 4000, 10))
    current = [1.0 if at < 1000 else 0.0 if at < 1500 else 1.0 if at < 2500 else -1.0 for at in seconds]
    found = runs(plain_log(seconds, [3.7] * len(seconds), current))
    assert [run.charging for run in found] == [True, False]
    assert found[0].counted.charge_ah == pytest.approx(2000 / 3600, rel=0.01)


@given(st.lists(st.floats(-5, 5), min_size=3, max_size=40), st.floats(0.5, 60))
def test_charge_does_not_depend_on_where_a_log_is_cut(currents, step):
    log = plain_log(
        [step * at for at in range(len(currents))], [3.7] * len(currents), [abs(i) for i in currents]
    )
    middle = len(currents) // 2
    parts = count(log, 0, middle).charge_ah + count(log, middle).charge_ah
    assert parts == pytest.approx(count(log).charge_ah, abs=1e-9)


@given(st.floats(0.1, 5), st.floats(2.5, 4.5))
def test_energy_is_charge_times_a_steady_voltage(ampere, volt):
    counted = count(plain_log([0, 1800, 3600], [volt] * 3, [ampere] * 3))
    assert counted.energy_wh == pytest.approx(counted.charge_ah * volt)
    assert counted.mean_v == pytest.approx(volt)
