from __future__ import annotations

import copy
import datetime
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import Fault, RecordFault
from midframe.record import from_plain, plain, read, write
from strategies import any_records

TERN = """
format = 1
[device]
name = "Tern"   # invented
kind = "phone"
body = "frame"
size_mm = [157, 73.5, 8.9]

[[parts]]
id = "frame"
name = "Frame"

[[parts]]
id = "battery"
name = "Battery"
mass_g = 61
under = ["cover"]

[[parts]]
id = "cover"
name = "Cover"

[[joints]]
id = "glue"
kind = "adhesive"
holds = ["battery", "frame"]
behind = [["cover"], ["frame", "cover"]]
work = [{ do = "pull tab", seconds = 40 }]

[[joints]]
id = "clips"
kind = "clip"
holds = ["cover", "frame"]
work = [[{ do = "pry", with = ["opening pick"] }], [{ do = "press" }, { do = "slide" }]]
"""


def told(text, file="tern.device.toml"):
    with pytest.raises(RecordFault) as caught:
        read(text, file)
    return caught.value.findings


def changed(old, new):
    assert old in TERN
    return TERN.replace(old, new, 1)


def test_a_flat_condition_is_one_alternative():
    record = read(TERN)
    assert record.parts[1].under == (("cover",),)
    assert record.joints[0].behind == (("cover",), ("frame", "cover"))


def test_flat_work_is_one_way_of_opening():
    record = read(TERN)
    assert [len(way) for way in record.joints[0].work] == [1]
    assert [len(way) for way in record.joints[1].work] == [1, 2]


def test_every_fault_is_told_at_once_with_file_path_and_id():
    text = changed('"adhesive"', '"adhesiv"').replace("mass_g = 61", 'mass_g = "61 g"')
    text = text.replace("seconds = 40", "seconds = -1").replace('kind = "phone"', "kind = 3")
    findings = told(text)
    assert [(one.path, one.subject) for one in findings] == [
        ("device.kind", ""),
        ("parts[1].mass_g", "battery"),
        ("joints[0].kind", "glue"),
        ("joints[0].work[0].seconds", "glue"),
    ]
    assert {one.file for one in findings} == {"tern.device.toml"}
    assert {one.level for one in findings} == {"fault"}
    assert findings[1].found == 'the text "61 g"'
    assert findings[2].right.startswith('"adhesive", if that is meant')


@pytest.mark.parametrize(
    ("old", "new", "path", "found", "right"),
    [
        ("mass_g = 61", "mas_g = 61", "parts[1].mas_g", 'the unknown key "mas_g"', 'the key "mass_g"'),
        ("mass_g = 61", "mass_g = nan", "parts[1].mass_g", "nan", "a number above 0"),
        ("mass_g = 61", "mass_g = inf", "parts[1].mass_g", "inf", "a number above 0"),
        ("mass_g = 61", "mass_g = true", "parts[1].mass_g", "true", "a number above 0"),
        ("mass_g = 61", "mass_g = 2020-01-01", "parts[1].mass_g", "a date", "a number above 0"),
        ("mass_g = 61", "mass_g = 1e300", "parts[1].mass_g", "the number 1e+300", "a number above 0"),
        ("mass_g = 61", f"mass_g = 1{'0' * 400}", "parts[1].mass_g", "a very large number", "above 0"),
        ("mass_g = 61", 'role = "batery"', "parts[1].role", 'the text "batery"', '"battery"'),
        ('under = ["cover"]', 'under = "cover"', "parts[1].under", 'the text "cover"', "a list"),
        ('under = ["cover"]', 'under = [["cover"], "x"]', "parts[1].under", "partly flat", "list of lists"),
        ('under = ["cover"]', 'under = [["cover"], []]', "parts[1].under[1]", "an empty altern", "names"),
        ('under = ["cover"]', 'under = ["the cover"]', "parts[1].under[0]", "the cover", "an id"),
        ('under = ["cover"]', "under = [3]", "parts[1].under[0]", "the number 3", "an id"),
        ("[157, 73.5, 8.9]", "[157, 73.5]", "device.size_mm", "a list of 2", "a list of 3"),
        ("[157, 73.5, 8.9]", "[157, 0, 8.9]", "device.size_mm[1]", "the number 0", "above 0"),
        ("format = 1", "format = 2", "format", "the number 2", "format = 1"),
        ("format = 1", "", "format", "no format number", "format = 1"),
        ('body = "frame"', "", "device.body", "no body", "an id"),
        ('holds = ["battery", "frame"]', "", "joints[0].holds", "no holds", "holds = [ … ]"),
        ('do = "pull tab"', "with = []", "joints[0].work[0].do", "no do", "not empty"),
        ("{ do", "3, { do", "joints[0].work[0]", "the number 3", "a table"),
    ],
)  # fmt: skip
def test_a_fault_says_where_what_and_what_would_be_right(old, new, path, found, right):
    findings = told(changed(old, new))
    assert [one.path for one in findings] == [path]
    assert found in findings[0].found
    assert right in findings[0].right


def test_broken_toml_gives_line_and_column():
    (finding,) = told('format = 1\nname = "half')
    assert "line 2" in finding.path or "end of document" in finding.path
    (finding,) = told("format = 1\nmass_g = 61 g\n")
    assert finding.path == "line 2, column 13"


def test_missing_tables_are_named():
    findings = told("format = 1")
    assert [(one.path, one.right) for one in findings] == [
        ("device", "a table [device]"),
        ("parts", "[[parts]] tables"),
    ]


@pytest.mark.parametrize(
    "text", ["x = " + "[" * 50_000, "x = " + "9" * 5_000, "\x00", "\ud800", "﻿x", "=", "[a]\n[a]"]
)
def test_hostile_text_gives_findings_only(text):
    assert all(one.found and one.right for one in told(text))


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm():
    assert read("\ufeff" + TERN.replace("\n", "\r\n")) == read(TERN)


@pytest.mark.parametrize("data", [None, 3, [], "text", {"format": True}, {1: 2}, {"format": 1, "device": []}])
def test_plain_data_of_any_kind_gives_findings_only(data):
    with pytest.raises(RecordFault):
        from_plain(data)


def test_half_a_surrogate_pair_is_refused_as_plain_data():
    data = plain(read(TERN))
    data["device"]["name"] = "\ud800"
    with pytest.raises(RecordFault) as caught:
        from_plain(data)
    assert caught.value.findings[0].path == "device.name"
    assert str(caught.value).encode()


def test_the_error_is_a_fault_and_a_value_error():
    with pytest.raises(Fault):
        read("")
    with pytest.raises(ValueError, match="no format number"):
        read("")


LEAVES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=3),
    st.binary(max_size=2),
    st.just(datetime.date(2020, 1, 1)),
    st.sampled_from(["frame", "battery", "glue", "screw", [], {}, [[]], [{}], ["a", ["b"]]]),
)
RUBBISH = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=6,
)


def places(data, path=()):
    """Every place in nested plain data."""
    yield path
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in pairs:
        yield from places(value, (*path, key))


def assert_told_or_read(act):
    """A record, or a fault whose every finding says something; anything else fails the test."""
    try:
        return act()
    except RecordFault as fault:
        findings = fault.findings
    assert findings
    assert all(one.found.strip() and one.right.strip() and "\n" not in str(one) for one in findings)
    return None


@given(st.data())
def test_spoilt_plain_data_gives_a_record_or_findings(data):
    spoilt = plain(read(TERN))
    for _ in range(data.draw(st.integers(1, 4))):
        *way, last = data.draw(st.sampled_from(list(places(spoilt))[1:]))
        at = spoilt
        for key in way:
            at = at[key]
        action = data.draw(st.sampled_from(["set", "drop", "add"]))
        if action == "set":
            at[last] = copy.deepcopy(data.draw(RUBBISH))
        elif action == "drop" and len(spoilt) > 1:
            del at[last]
        elif isinstance(at, dict):
            at[data.draw(st.text(max_size=4))] = copy.deepcopy(data.draw(RUBBISH))
        if not list(places(spoilt))[1:]:
            break
    before = copy.deepcopy(spoilt)
    record = assert_told_or_read(lambda: from_plain(spoilt))
    assert repr(spoilt) == repr(before), "the reader leaves its input as it is"
    if record is not None:
        assert read(write(record)) == record


@given(st.data())
def test_spoilt_text_gives_a_record_or_findings(data):
    text = TERN
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        length = data.draw(st.integers(0, 8))
        text = (
            text[:at]
            + data.draw(st.text(max_size=4) | st.sampled_from(['"', "[", "]]", "{", "=", "nan", "\\u"]))
            + text[at + length :]
        )
    assert_told_or_read(lambda: read(text))


@given(any_records())
def test_json_carries_a_record_as_well(record):
    assert from_plain(json.loads(json.dumps(plain(record)))) == record
