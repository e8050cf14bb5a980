from __future__ import annotations

import pytest

from midframe.faults import BadSetting
from midframe.seal import Reading, Row, Units, readings_from_csv, readings_of


def test_readings_from_csv_in_other_units():
    text = "seconds,pressure,celsius\n0,10,20.0\n60,9.5,20.1\n"
    found = readings_from_csv(text, units=Units(pressure="kPa", gauge_at_pa=101_325.0))
    assert found == (Reading(0.0, 111_325.0, 293.15), Reading(60.0, 110_825.0, 293.25))


def test_a_head_may_name_the_unit_and_a_semicolon_lets_a_comma_stand_for_the_point():
    text = "Time (min);Note;Pressure (mbar);Temperature (°F)\n0;begin;1013,25;68\n\n1,5;;1013,20;68,18\n"
    first, last = readings_from_csv(text)
    assert (first.seconds, first.pressure_pa, first.kelvin) == (0.0, 101_325.0, 293.15)
    assert (last.seconds, last.pressure_pa, last.kelvin) == (90.0, 101_320.0, 293.25)


@pytest.mark.parametrize(
    ("unit", "pascals"),
    [
        ("Pa", 1),
        ("hPa", 100),
        ("mbar", 100),
        ("kPa", 1000),
        ("bar", 1e5),
        ("mmHg", 133.322),
        ("psi", 6894.757),
    ],
)
def test_every_unit_of_pressure(unit, pascals):
    (found,), wrong = readings_of([Row("row 1", "0", "2")], Units(pressure=unit))
    assert found.pressure_pa == pytest.approx(2 * pascals)
    assert wrong == ()


def test_every_fault_of_a_file_is_told_at_once_with_line_and_column():
    text = "seconds,pressure,celsius\n0,1e5,20\nx,1e5,20\n20,,21\n30,9_9,nan\n30,1e5,20\n25,1e5,20\n"
    with pytest.raises(BadSetting) as caught:
        readings_from_csv(text, "test.csv")
    assert str(caught.value).splitlines() == [
        "test.csv, line 3, column 1 (time): found 'x'; right: a number in s",
        "test.csv, line 4, column 2 (pressure): found nothing; right: a number in Pa",
        "test.csv, line 5, column 2 (pressure): found '9_9'; right: a number in Pa",
        "test.csv, line 5, column 3 (temperature): found 'nan'; right: a number in °C",
        "test.csv, line 7, column 1 (time): found 25; right: later than the reading before",
    ]


def test_a_file_of_many_faults_tells_the_first_and_counts_the_rest():
    text = "seconds,pressure\n" + "x,1\n" * 20
    with pytest.raises(BadSetting, match="readings: and 8 more"):
        readings_from_csv(text)


def test_a_temperature_is_wanted_in_every_row_or_in_none():
    text = "seconds,pressure,celsius\n0,1e5,20\n60,1e5,\n"
    with pytest.raises(BadSetting, match=r"line 3, column 3 \(temperature\): found nothing.*every row, or"):
        readings_from_csv(text)
    assert readings_from_csv("seconds,pressure,celsius\n0,1e5,\n60,1e5,\n")[1].kelvin is None


@pytest.mark.parametrize("text", ["t;p\n0;1\n", "seconds,druck\n0,1\n"])
def test_a_head_without_the_columns_is_told_with_what_was_found(text):
    with pytest.raises(BadSetting, match=r"readings, line 1: found no .*right: columns called seconds"):
        readings_from_csv(text)


@pytest.mark.parametrize("text", ["", "\n"])
def test_an_empty_file_is_told_as_that(text):
    with pytest.raises(BadSetting, match="line 1: found an empty line or file; right: columns called"):
        readings_from_csv(text)


def test_unknown_units_are_refused_with_those_that_are_known():
    with pytest.raises(BadSetting, match="one of °C, K, °F"):
        readings_of([], Units(temperature="Réaumur"))
    with pytest.raises(BadSetting, match="one of Pa, hPa"):
        readings_from_csv("seconds,pressure (torr)\n0,1\n")
    with pytest.raises(BadSetting, match="one of s, min, h"):
        readings_of([], Units(time="days"))


def test_empty_rows_of_a_form_count_for_nothing():
    rows = [Row("row 1", "0", "1"), Row("row 2", " ", ""), Row("row 3", "9", "2")]
    found, wrong = readings_of(rows, Units())
    assert (len(found), wrong) == (2, ())
