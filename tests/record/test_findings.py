from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from midframe.record.describe import expected, nearest, proposal, shown, within
from midframe.record.findings import Finding, faults
from midframe.record.model import Joint
from midframe.record.reader import hints, without_none

WHOLE = Finding("fault", "tern.device.toml", "joints[3].behind[0]", "glue", 'the part "mid"', '"mid-cover"')


def test_a_finding_is_one_line_with_all_of_it():
    assert str(WHOLE) == (
        'fault: tern.device.toml, joints[3].behind[0] (glue): found the part "mid"; right: "mid-cover"'
    )


def test_what_is_not_known_is_left_out_of_the_line():
    assert (
        str(Finding("note", "", "", "", "nothing", "something"))
        == "note: record: found nothing; right: something"
    )


@given(st.text(), st.text(), st.text())
def test_no_text_breaks_the_line(file, subject, found):
    line = str(Finding("note", file, "parts", subject, found, "x"))
    assert line.splitlines() == [line]
    assert line.encode()


def test_faults_are_told_apart_from_notes():
    remark = Finding("note", "", "parts", "", "a", "b")
    assert faults((remark, WHOLE)) == (WHOLE,)


def test_the_nearest_known_id_is_proposed():
    assert proposal("batery", ["battery", "frame"], "part") == 'part "battery", if that is meant'
    assert proposal("zz", ["frame", "battery"], "part") == "one of the parts: battery, frame"
    assert proposal("zz", [], "part") == "a part; there is none yet"
    assert nearest("zz", ["frame"]) is None


def test_long_lists_of_ids_are_cut():
    assert proposal("zz", [f"part-{number:02}" for number in range(30)], "part").endswith("part-19, …")


def test_fields_are_described_in_words():
    kinds = hints(Joint)
    assert expected(kinds["count"]) == "a whole number from 1"
    assert expected(kinds["length_mm"]) == "a number above 0"
    assert expected(kinds["soft_c"]) == "a number from -273.15 to 2000"
    assert expected(kinds["tether"]) == "true or false"
    assert expected(kinds["note"]) == "a text"
    assert expected(kinds["face"]) == 'one of "back", "edge", "front"'


def test_values_are_shown_in_words_and_short():
    assert shown(None) == "nothing"
    assert shown({}) == "a table"
    assert shown("") == "an empty text"
    assert len(shown("x" * 500)) < 80
    assert shown(10**500) == "a very large number"
    assert shown(b"x") == "a bytes"


def test_a_number_above_its_range_is_told_the_end_of_it():
    count = without_none(hints(Joint)["count"])
    assert within(count, 2_000_000) == "a whole number from 1 to 1000000"
    assert within(count, 3) == "a whole number from 1"
