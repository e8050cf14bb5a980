from __future__ import annotations

from random import Random

import pytest

from midframe.faults import BadSetting
from midframe.seal import CRITERIA, Instrument, Reading, compensated, from_pa_m3_s, seal_check, to_pa_m3_s
from midframe.seal.leak import hole_um

FINE = Instrument(volume_share=0.01, pressure_pa=0.5, kelvin=0.002)


def decay(rate, *, over=10_000.0, volume=1e-5, drift=0.0, count=13, noise=0.0, seed=1):
    """Readings every 5 s of a device that leaks at a constant rate while its temperature drifts (K/s)."""
    random, ambient = Random(seed), 101_325.0
    found = []
    for number in range(count):
        seconds, kelvin = 5.0 * number, 293.15 + drift * 5.0 * number
        lost = rate * seconds / volume * (1 if over > 0 else -1)
        found.append(
            Reading(seconds, (ambient + over - lost) * kelvin / 293.15 + random.gauss(0, noise), kelvin)
        )
    return found


@pytest.mark.parametrize("over", [10_000.0, -10_000.0])
def test_a_known_leak_is_found_in_pressure_and_vacuum_whatever_the_temperature(over):
    found = seal_check(decay(2e-5, over=over, drift=0.002), 1e-5, instrument=FINE)
    assert found.rate_pa_m3_s == pytest.approx(2e-5, rel=1e-6)
    assert abs(found.apparent_pa_m3_s) > 5e-6


def test_a_pressure_that_stands_still_is_a_leak_of_zero_without_a_sign():
    found = seal_check(decay(0.0), 1e-5, instrument=FINE)
    assert f"{found.rate_pa_m3_s:.2e}" == "0.00e+00"


def test_a_volume_that_cannot_be_is_told_in_the_unit_in_which_it_is_asked_for():
    with pytest.raises(BadSetting, match=r"found -3 mL; right: .* above 0 and at most 100000 mL"):
        seal_check(decay(0.0), -3e-6)


def test_the_interval_holds_the_truth_in_most_noisy_tests():
    hits = 0
    for seed in range(200):
        found = seal_check(decay(1e-5, noise=5.0, seed=seed), 1e-5, instrument=Instrument(0.0, 5.0, 0.0))
        hits += abs(found.rate_pa_m3_s - 1e-5) <= found.uncertainty_pa_m3_s
    assert 0.9 <= hits / 200 <= 0.99


def test_the_verdicts():
    def verdict(rate):
        return seal_check(decay(rate, volume=1e-4), 1e-4, instrument=FINE).compared[0].verdict

    assert [verdict(1e-5), verdict(2e-4), verdict(4e-4)] == ["below", "not decided", "above"]


def test_a_test_at_half_the_pressure_is_scaled():
    found = seal_check(decay(1e-5, over=5_000.0), 1e-5, instrument=FINE)
    assert found.compared[0].rate_pa_m3_s > 1.9 * found.rate_pa_m3_s


def test_without_temperature_the_result_is_in_doubt():
    bare = [Reading(one.seconds, one.pressure_pa) for one in decay(1e-5)]
    found = seal_check(bare, 1e-5)
    assert found.apparent_pa_m3_s is None
    assert "not measured" in found.doubts[0]


def test_it_never_says_that_a_rating_is_restored():
    assert "restores no rating" in seal_check(decay(0.0), 1e-5).statement


@pytest.mark.parametrize(
    ("readings", "volume", "word"),
    [
        ([Reading(0, 1e5)], 1e-5, "two or more"),
        ([Reading(0, 1e5), Reading(0, 1e5)], 1e-5, "later"),
        ([Reading(0, 1e5), Reading(1, -5)], 1e-5, "absolute pressure"),
        ([Reading(0, 1e5, 20), Reading(1, 1e5, 20)], 1e-5, "kelvin"),
        ([Reading(0, 1e5), Reading(1, 1e5)], 10.0, "100000 mL"),
        ([Reading(0, 101_325), Reading(1, 101_325)], 1e-5, "no difference"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(readings, volume, word):
    with pytest.raises(BadSetting, match=word):
        seal_check(readings, volume)


def test_half_a_pascal_of_drift_a_second_on_a_small_volume_is_the_example():
    # 10 mL, 50 Pa in 60 s: 8.33e-6 Pa·m³/s, 0.0049 atm·cc/min, computed by hand.
    found = seal_check([Reading(0, 111_325, 293.15), Reading(60, 111_275, 293.15)], 1e-5)
    assert found.rate_pa_m3_s == pytest.approx(8.33e-6, rel=1e-3)
    assert from_pa_m3_s(found.rate_pa_m3_s, "atm·cc/min") == pytest.approx(0.0049, abs=0.00005)


def test_a_hundredth_of_a_kelvin_looks_like_a_leak_until_it_is_taken_out():
    # 10 mL in 10 s at one atmosphere: 3.5e-6 Pa·m³/s, computed by hand from p/T.
    warm = [Reading(0, 101_325 + 500, 293.15), Reading(10, (101_325 + 500) * 293.14 / 293.15, 293.14)]
    bare = [Reading(one.seconds, one.pressure_pa) for one in warm]
    assert seal_check(bare, 1e-5).rate_pa_m3_s == pytest.approx(3.5e-6, rel=0.02)
    assert seal_check(warm, 1e-5).rate_pa_m3_s == pytest.approx(0.0, abs=1e-12)
    assert seal_check(warm, 1e-5).apparent_pa_m3_s == pytest.approx(3.5e-6, rel=0.02)


def test_pressures_are_compensated_to_the_first_temperature_or_left_as_read():
    assert compensated([Reading(0, 1e5, 300.0), Reading(9, 1e5, 150.0)]) == [1e5, 2e5]
    assert compensated([Reading(0, 1e5, 300.0), Reading(9, 9e4)]) == [1e5, 9e4]


def test_the_hole_that_would_leak_so_is_told_with_its_water():
    # 2.3e-4 Pa·m³/s at 10 kPa is a hole of 20 µm: 0.069 mL in half an hour at one metre.
    found = seal_check(decay(2.3e-4, volume=1e-3), 1e-3, instrument=FINE)
    assert found.hole_um == pytest.approx(20, rel=0.03)
    assert found.water_ml == pytest.approx(0.069, rel=0.1)
    tight = seal_check(decay(0.0), 1e-5)
    assert (tight.hole_um, tight.water_ml, tight.meniscus_pa) == (0.0, 0.0, None)


def test_the_criteria_are_the_published_figures():
    # [iso-2281, 4.1] 50 µg of air a minute; [watertight-colloquial, question] 1e-2 mbar·L/s of air.
    phone, watch, word = CRITERIA
    assert watch.limit_pa_m3_s == pytest.approx(50e-6 / 60 / 28.9647 * 8.314472 * 293.15, rel=0.005)
    assert word.limit_pa_m3_s == to_pa_m3_s(1e-2, "mbar·L/s")
    assert hole_um(phone.limit_pa_m3_s, 111_325, 101_325) == pytest.approx(20, abs=1)
