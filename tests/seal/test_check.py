from __future__ import annotations

from random import Random

import pytest

from midframe.faults import BadSetting
from midframe.seal import Instrument, Reading, readings_from_csv, seal_check

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


def test_readings_from_csv_in_other_units():
    text = "seconds,pressure,celsius\n0,10,20.0\n60,9.5,20.1\n"
    found = readings_from_csv(text, unit="kPa", gauge_at_pa=101_325.0)
    assert found == (Reading(0.0, 111_325.0, 293.15), Reading(60.0, 110_825.0, pytest.approx(293.25)))
    with pytest.raises(BadSetting, match=r"test\.csv, line 3"):
        readings_from_csv("seconds,pressure\n0,1\n1,x\n", "test.csv")
    with pytest.raises(BadSetting, match="line 2"):
        readings_from_csv("time,p\n0,1\n")


@pytest.mark.parametrize(
    ("readings", "volume", "word"),
    [
        ([Reading(0, 1e5)], 1e-5, "two or more"),
        ([Reading(0, 1e5), Reading(0, 1e5)], 1e-5, "later"),
        ([Reading(0, 1e5), Reading(1, -5)], 1e-5, "absolute pressure"),
        ([Reading(0, 1e5, 20), Reading(1, 1e5, 20)], 1e-5, "kelvin"),
        ([Reading(0, 1e5), Reading(1, 1e5)], 10.0, "1 mL"),
        ([Reading(0, 101_325), Reading(1, 101_325)], 1e-5, "no difference"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(readings, volume, word):
    with pytest.raises(BadSetting, match=word):
        seal_check(readings, volume)
