from __future__ import annotations

import msgspec

from midframe.demo import load
from midframe.record import read, write
from midframe.seal import Instrument, Reading, Setup, Units, kept_test, readings_kept, result_of, seal_check

READINGS = (Reading(0, 111_325, 293.15), Reading(30, 111_300, 293.25), Reading(60, 111_275, 293.35))
TOOL = Instrument(0.02, 3.0, 0.01)


def test_a_kept_test_gives_the_result_that_it_gave():
    setup = Setup(volume_ml=10, ambient_pa=101_000, instrument=TOOL, units=Units(pressure="kPa"))
    test = kept_test(READINGS, setup, id="seal-1", at="2026-11-25T10:00:00Z")
    record = msgspec.structs.replace(load("tern-3"), seal_tests=(test,))
    (again,) = read(write(record)).seal_tests
    assert readings_kept(again) == READINGS
    assert result_of(again) == seal_check(READINGS, 10 * 1e-6, ambient_pa=101_000, instrument=TOOL)
    assert again.unit == "kPa"


def test_without_temperatures_none_are_kept():
    bare = [Reading(one.seconds, one.pressure_pa) for one in READINGS]
    test = kept_test(bare, Setup(volume_ml=10), id="seal-1")
    assert test.celsius == ()
    assert result_of(test).apparent_pa_m3_s is None
