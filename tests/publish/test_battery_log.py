"""Whatever a file holds, a log is read, asked about or refused with what would be right; it never breaks."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from battery.logs import steady_log
from midframe.battery import Asked, confirmed, mapping_text, propose, read_table
from midframe.faults import Fault
from midframe.publish.battery_log import log_answer

FULL = Asked(rated_mah=4880, nominal_v=3.88, from_percent=90, to_percent=20)
WORDS = st.sampled_from(["", "x", "1e400", "nan", "-inf", "00:01"])
FIGURES = st.floats(-1e9, 1e9) | st.integers(-9, 9) | WORDS
TABLES = st.lists(st.tuples(FIGURES, FIGURES, FIGURES), max_size=12)


def never_breaks(data, asked=FULL):
    said = ""
    try:
        found = log_answer(data, "log.csv", [], asked)
    except Fault as fault:
        found, said = None, str(fault)
    assert found is not None or "found" in said
    if found is not None and found.chart:
        ET.fromstring(found.chart)


@given(st.binary(max_size=300))
def test_any_bytes(data):
    never_breaks(data)


@given(st.text(st.sampled_from('0123456789,;\t. -:eVAmhs\n"/'), max_size=300))
def test_any_signs_of_a_log(text):
    never_breaks(text.encode())


@given(TABLES, st.sampled_from(["cell", "before_converter"]), st.booleans())
def test_any_figures_under_sound_headers(rows, place, empty):
    text = "t/s,U/V,I/A\n" + "\n".join(",".join(map(str, row)) for row in rows)
    never_breaks(text.encode(), Asked(place=place) if empty else Asked(place=place, rated_mah=4880))


def test_the_newest_remembered_columns_win():
    data = steady_log(2, 3.8, -1.5, header="time,voltage,current").encode()
    mapping = confirmed(propose(read_table(data)))
    right = mapping_text(mapping)
    wrong = right.replace('unit = "A"', 'unit = "mA"')
    first, second = (
        log_answer(data, "log.csv", known, FULL).health for known in ([right, wrong], [wrong, right])
    )
    assert first.charge_ah == pytest.approx(1000 * second.charge_ah)


def test_columns_that_do_not_stand_in_the_log_are_passed_over():
    data = steady_log(2, 3.8, -1.5, header="time,voltage,current").encode()
    other = mapping_text(confirmed(propose(read_table(steady_log().encode()))))
    assert not log_answer(data, "log.csv", [other], FULL).columns.remembered
