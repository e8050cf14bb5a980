from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings

from midframe.record import read
from midframe.record.differences import differences, summary
from midframe.record.model import Lift, LogEntry, Operation, Part, Tool
from midframe.record.places import at, plain
from record.sample import TERN
from strategies import any_records

replace = msgspec.structs.replace


def tern():
    return read(TERN)


def with_part(record, part, **changes):
    return replace(record, parts=tuple(replace(p, **changes) if p.id == part else p for p in record.parts))


def with_joint(record, joint, **changes):
    return replace(record, joints=tuple(replace(j, **changes) if j.id == joint else j for j in record.joints))


def words(after, before=None):
    return [one.words for one in differences(before or tern(), after)]


CASES = {
    "part Battery: mass 61 → 63.5 g": with_part(tern(), "battery", mass_g=63.5),
    "part Battery: mass: 61 g taken out": with_part(tern(), "battery", mass_g=None),
    'part Battery: note: "slightly swollen"': with_part(tern(), "battery", note="slightly swollen"),
    "part Mid cover (mid-cover): price: 4": with_part(tern(), "mid-cover", price=4.0),
    "part Battery: under mid-cover → mid-cover or frame": with_part(
        tern(), "battery", under=(("mid-cover",), ("frame",))
    ),
    "part Battery: label capacity: value 4500 → 4400": with_part(
        tern(), "battery", specs=(replace(at(tern(), ("parts", "battery")).specs[0], value=4400.0),)
    ),
    "part Battery: lift: with tweezers, seconds 4.0": with_part(
        tern(), "battery", lift=Lift(tools=("tweezers",), seconds=4.0)
    ),
    "joint battery-glue: soft 80 → 85 °C": with_joint(tern(), "battery-glue", soft_c=85.0),
    "joint cover-screws: length 3 → 3.5 mm": with_joint(tern(), "cover-screws", length_mm=3.5),
    "joint cover-screws: work: heat, pry": with_joint(
        tern(), "cover-screws", work=((Operation(do="heat"), Operation(do="pry")),)
    ),
    "device: mass 190 → 191 g": replace(tern(), device=replace(tern().device, mass_g=191.0)),
    "device: foldable no → yes": replace(tern(), device=replace(tern().device, foldable=True)),
    "tool pick: added": replace(tern(), tools=(Tool(name="pick"),)),
    'log at 9 s, "screw lost": added': replace(
        tern(), log=(*tern().log, LogEntry(seconds=9.0, note="screw lost"))
    ),
    "log at 4 s, cover-screws opened: taken out": replace(tern(), log=()),
    "log at 4 s, cover-screws opened: note: tight": replace(
        tern(), log=(replace(tern().log[0], note="tight"),)
    ),
    "parts: another order": replace(tern(), parts=tuple(reversed(tern().parts))),
}


@pytest.mark.parametrize(("line", "after"), CASES.items(), ids=list(CASES))
def test_a_difference_is_read_in_one_line(line, after):
    assert words(after) == [line]


def test_records_that_are_the_same_have_no_difference():
    assert differences(tern(), tern()) == ()
    assert summary(tern(), tern()) == ""


def test_the_summary_names_the_first_and_counts_the_rest():
    after = with_part(with_part(tern(), "battery", mass_g=62.0), "mid-cover", mass_g=13.0)
    after = replace(after, tools=(Tool(name="pick"),))
    assert summary(tern(), after) == "part Battery: mass 61 → 62 g; and 2 more"
    assert summary(tern(), after, most=3).count(";") == 2


def test_without_a_record_before_everything_is_new():
    lines = [one.words for one in differences(None, tern())]
    assert lines[:2] == ["device Tern: added", "part Frame: added"]
    assert len(lines) == 1 + 4 + 2 + 1 + 1


def test_a_new_part_is_one_difference_that_carries_it_whole():
    label = Part(id="label", name="Label", seat="frame")
    (one,) = differences(tern(), replace(tern(), parts=(*tern().parts, label)))
    assert (one.path, one.before, one.after) == (("parts", "label"), None, plain(label))


def test_a_long_text_is_cut_on_one_line():
    (line,) = words(with_part(tern(), "battery", note="a long story\n" * 20))
    assert len(line) < 100
    assert "\n" not in line


@settings(max_examples=15)
@given(any_records(), any_records())
def test_two_records_differ_exactly_where_they_are_not_equal(before, after):
    found = differences(before, after)
    assert bool(found) == (before != after)
    assert all(one.words and "\n" not in one.words for one in found)
    assert len({one.path for one in found}) == len(found)


@settings(max_examples=15)
@given(any_records(), any_records())
def test_the_way_back_has_the_same_places(before, after):
    there = {one.path for one in differences(before, after) if one.path[0] != "log"}
    back = {one.path for one in differences(after, before) if one.path[0] != "log"}
    assert there == back
