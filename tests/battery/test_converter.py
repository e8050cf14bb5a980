from __future__ import annotations

import pytest

from battery.logs import log_of, steady_log
from battery.simulated import simulated
from midframe.battery.converter import Supply, full_wait, meter_health, supply
from midframe.battery.counting import runs
from midframe.battery.log_series import plain_log
from midframe.battery.window import given_window
from midframe.faults import BadSetting


def charge_log(hours=2.0, watts=10.0, volt=9.0, wait_w=0.5, wait_minutes=15.0):
    """A steady charge at a supply's voltage, then a wait at full charge."""
    rows = [(60.0 * at, volt, watts / volt) for at in range(int(hours * 60) + 1)]
    begin = rows[-1][0]
    rows += [(begin + 10.0 * at, volt, wait_w / volt) for at in range(1, int(wait_minutes * 6) + 1)]
    return plain_log(*zip(*rows, strict=True))


def test_energy_stored_is_efficiency_times_what_is_left_after_standby():
    between = supply(efficiency=(0.9, 0.9), standby_w=(0.5, 0.5))
    health = meter_health(charge_log(), 4880, 3.88, given_window(0, 100, 0), between, meter_percent=0.0)
    assert health.outcome == "figure"
    assert health.capacity_wh.value == pytest.approx(0.9 * (20 - 0.5 * 2), rel=0.01)
    assert health.soh_percent.value == pytest.approx(100 * 17.1 / (4.88 * 3.88), rel=0.01)


def test_with_defaults_only_a_range_is_given_and_it_says_how_to_narrow_it():
    health = meter_health(charge_log(wait_minutes=0), 4880, 3.88, given_window(20, 100))
    assert health.outcome == "range"
    assert health.capacity_wh.value is None
    assert health.capacity_wh.low < 0.86 * 18.8 / 0.8 < health.capacity_wh.high
    assert {one.figure: one.kind for one in health.rests_on}["efficiency"] == "default"
    assert any("full charge" in note for note in health.notes)
    assert "narrow" in health.reason


def test_a_wait_at_full_charge_measures_standby():
    wait = full_wait(charge_log())
    assert wait.mean_w == pytest.approx(0.5)
    assert wait.seconds == pytest.approx(890)
    health = meter_health(charge_log(), 4880, 3.88, given_window(20, 100))
    assert {one.figure: one.kind for one in health.rests_on}["standby"] == "measured"
    assert health.seconds == pytest.approx(7200, abs=20)
    narrow = health.capacity_wh.high - health.capacity_wh.low
    without = meter_health(charge_log(wait_minutes=0), 4880, 3.88, given_window(20, 100)).capacity_wh
    assert narrow < without.high - without.low


@pytest.mark.parametrize("minutes", [0.0, 3.0])
def test_a_wait_that_is_too_short_measures_nothing(minutes):
    assert full_wait(charge_log(wait_minutes=minutes)) is None


def test_the_meters_milliampere_hours_are_never_the_batterys():
    health = meter_health(charge_log(volt=9.0), 4880, 3.88, given_window(0, 100))
    assert health.meter_mah == pytest.approx(2222, rel=0.01)
    assert health.capacity_mah.low > 1.5 * health.meter_mah
    assert any("mAh at 9.00 V" in note and "only energy is used" in note for note in health.notes)
    same = meter_health(charge_log(volt=5.0), 4880, 3.88, given_window(0, 100))
    assert same.meter_mah == pytest.approx(4000, rel=0.01)
    assert same.capacity_wh.high == pytest.approx(health.capacity_wh.high, rel=1e-6)


@pytest.mark.parametrize(
    ("start", "end", "outcome"), [(20, 90, "range"), (50, 80, "range"), (80, 95, "refused")]
)
def test_a_small_window_is_refused_here_too(start, end, outcome):
    health = meter_health(charge_log(), 4880, 3.88, given_window(start, end))
    assert health.outcome == outcome
    assert bool(health.soh_percent) == (outcome != "refused")


def test_without_percentages_nothing_is_said():
    health = meter_health(charge_log(), 4880, 3.88, None)
    assert health.outcome == "refused"
    assert "percentages" in health.reason


def test_a_trickle_that_may_be_all_standby_is_refused():
    health = meter_health(charge_log(hours=10, watts=0.9, wait_minutes=0), 4880, 3.88, given_window(10, 90))
    assert health.outcome == "refused"
    assert "standby" in health.reason


def test_without_a_label_there_is_energy_but_no_health():
    health = meter_health(charge_log(), None, None, given_window(20, 100))
    assert health.capacity_wh is not None
    assert health.capacity_mah is None
    assert health.soh_percent is None


def test_a_log_at_the_cell_is_refused_with_the_way_out():
    with pytest.raises(BadSetting, match="without --before-converter"):
        meter_health(log_of(steady_log(1, 3.8, 0.5)), 4880, 3.88, given_window(20, 80))


@pytest.mark.parametrize(
    ("efficiency", "standby", "words"),
    [
        ((0.9, 0.8), None, "right: a range within 0 to 1"),
        ((85, 90), None, "right: a range within 0 to 1"),
        (None, (0.5, 0.2), "right: a range from 0 W up"),
        (None, (-1, 0.2), "right: a range from 0 W up"),
    ],
)
def test_ranges_that_cannot_be_are_refused(efficiency, standby, words):
    with pytest.raises(BadSetting, match=words):
        supply(efficiency, standby)


@pytest.mark.parametrize(("rated", "nominal"), [(0.5, 3.88), (4880, 3880), (4880, 0.4)])
def test_label_figures_in_the_wrong_unit_are_refused(rated, nominal):
    with pytest.raises(BadSetting, match="right: that of the label"):
        meter_health(charge_log(), rated, nominal, given_window(20, 80))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("scale", "supply_v", "efficiency", "load_w"), [(0.9, 9.0, 0.85, 0.4), (0.8, 5.0, 0.9, 0.3)]
)
def test_a_simulated_charge_through_a_converter_is_found(scale, supply_v, efficiency, load_w):
    """Truth: the energy that the model itself gives back in the discharge after the charge."""
    cell = simulated(scale)
    log = plain_log(cell.seconds, cell.volts, cell.amperes)
    _, charge, after = runs(log)
    rows = range(charge.first, charge.last + 1)
    share = after.counted.energy_wh / charge.counted.energy_wh
    seconds, volts, amperes = [], [], []
    for at in rows:
        power = cell.volts[at] * max(0.0, cell.amperes[at]) / efficiency + load_w
        seconds.append(cell.seconds[at] - cell.seconds[charge.first])
        volts.append(supply_v)
        amperes.append(power / supply_v)
    seconds += [seconds[-1] + 10.0 * at for at in range(1, 91)]
    volts += [supply_v] * 90
    amperes += [load_w / supply_v] * 90
    meter = plain_log(seconds, volts, amperes)
    rated_mah = 1000 * simulated(1.0).capacity_ah
    nominal_v = after.counted.mean_v
    known = supply(efficiency=(efficiency * share, efficiency * share))
    close = meter_health(meter, rated_mah, nominal_v, given_window(0, 100, 0.2), known, meter_percent=0.1)
    assert close.soh_percent.value == pytest.approx(100 * scale, rel=0.01)
    wide = meter_health(meter, rated_mah, nominal_v, given_window(0, 100), Supply())
    assert wide.soh_percent.low < 100 * scale < wide.soh_percent.high


def test_the_taper_counts_until_only_standby_is_left():
    """Own construction: 18 W for an hour, then falling by half every 10 min to a standby of 0.45 W."""
    seconds = [float(at) for at in range(0, 10_800, 5)]
    watts = [18.0 if at < 3600 else max(0.45, 18.0 * 0.5 ** ((at - 3600) / 600)) for at in seconds]
    log = plain_log(seconds, [9.0] * len(seconds), [one / 9 for one in watts])
    stored = 0.9 * sum(one - 0.45 for one in watts) * 5 / 3600
    known = supply(efficiency=(0.9, 0.9))
    found = meter_health(log, 4880, 3.88, given_window(0, 100, 0.2), known, meter_percent=0.1)
    assert found.capacity_wh.value == pytest.approx(stored, rel=0.002)
