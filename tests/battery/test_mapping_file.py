from __future__ import annotations

import pytest

from battery.logs import excerpt
from midframe.battery.counting import count
from midframe.battery.log_mapping import propose
from midframe.battery.log_series import series
from midframe.battery.log_table import read_table
from midframe.battery.mapping_file import changed, chosen, confirmed, fits, mapping_text, read_mapping
from midframe.faults import LogFault

TEXT = 'Zeit;"Spannung ""A""";Strom\n0;5,00;1000\n3600;5,00;1000\n'


def table():
    return read_table(TEXT.encode())


def test_a_confirmed_mapping_comes_back_from_its_file():
    mapping = confirmed(propose(table()))
    back = read_mapping(mapping_text(mapping))
    assert back.confirmed
    assert back.questions == ()
    assert [(one.role, one.column, one.unit) for one in back.columns] == [
        (one.role, one.column, one.unit) for one in mapping.columns
    ]
    assert count(series(table(), back)).charge_ah == pytest.approx(1.0)


def test_what_a_person_says_wins_over_the_proposal():
    mapping = changed(
        propose(table()), table(), units={"current": "A", "time": "ms"}, sign="discharge_positive"
    )
    log = series(table(), mapping)
    assert log.current_a == (-1000, -1000)
    assert log.seconds[-1] == pytest.approx(3.6)
    other = changed(propose(table()), table(), columns={"current": "column 2"}, units={"current": "A"})
    assert series(table(), other).current_a == (5, 5)


@pytest.mark.parametrize(
    ("columns", "units", "words"),
    [
        ({"current": "Storm"}, {}, 'no column "Storm".*Zeit'),
        ({}, {"current": "V"}, 'the unit "V".*one of A, mA'),
        ({}, {"time": "fortnight"}, 'the unit "fortnight"'),
        ({}, {"power": "W"}, "a unit for power, which no column is"),
    ],
)
def test_an_unknown_column_or_unit_is_refused_with_those_that_there_are(columns, units, words):
    with pytest.raises(LogFault, match=words):
        changed(propose(table()), table(), columns, units)


def test_a_saved_mapping_is_chosen_for_a_log_with_its_columns():
    mapping = confirmed(propose(table()))
    assert fits(mapping, table())
    assert chosen([mapping], read_table(excerpt())) is None
    assert chosen([confirmed(propose(read_table(excerpt()))), mapping], table()) == mapping


def test_dates_that_are_certain_win_over_the_saved_order():
    us = read_table(b"date,U (V),I (A)\n11/25/2026 10:00,5,1\n11/25/2026 11:00,5,1\n")
    saved = read_mapping(mapping_text(confirmed(propose(us))).replace("false", "true"))
    assert saved.day_first
    assert not chosen([saved], us).day_first


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("columns = [", "a mapping as TOML"),
        ("format = 1\n", "time, voltage and current"),
        ('[columns]\ntime = { column = "t", unit = "s" }\n', "time, voltage and current"),
        (mapping_text(propose(table())).replace('"mA"', '"amps"'), 'the unit "amps"'),
        (
            mapping_text(propose(table())).replace(
                "[columns]", '[columns]\ntiem = { column = "t", unit = "s" }'
            ),
            "an unknown role",
        ),
        (mapping_text(propose(table())).replace("all_charge", "upwards"), "one of charge_positive"),
        (mapping_text(propose(table())).replace("current = {", "current = 5 #"), "HEADER"),
    ],
)
def test_a_spoilt_file_is_refused_with_what_would_be_right(text, words):
    with pytest.raises(LogFault, match=words):
        read_mapping(text, "meter.toml")
