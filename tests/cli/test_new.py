from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.small import SMALL, data, run
from midframe.cli.new import clean, numbers
from midframe.record import check, faults, read
from midframe.ways.reach import reach

ANSWERS = [
    "Wren 9", "phone", "161,5 x 74.8 x 8.4", "211 g",
    "Back cover", "back_cover", "", "adhesive", "", "",
    "Mid cover", "", "", "screw", "", "14", "hexalobular 4", "",
    "Display", "disp", "none", "clip", "", "6", "connector", "Main board", "yes", "",
    "Battery", "battery", "mid cover", "adhesive", "", "",
    "main board", "", "", "screw", "", "5", "", "connector", "Battery", "no", "",
    "",
]  # fmt: skip
"""A whole interview: five parts."""


def answered(answers, *arguments):
    return run("new", *arguments, input="".join(f"{answer}\n" for answer in answers))


def record_in(file):
    return read(Path(file).read_text(encoding="utf-8"), str(file))


def sound(record):
    return not faults(check(record)) and not faults(reach(record))


def test_an_interview_makes_a_record_that_its_check_lets_pass():
    result = answered(ANSWERS)
    record = record_in("wren-9.device.toml")
    assert result.exit_code == 0
    assert sound(record)
    assert record.device.size_mm == (161.5, 74.8, 8.4)
    assert record.device.mass_g == 211
    assert [part.id for part in record.parts] == [
        "frame", "back-cover", "mid-cover", "display", "main-board", "battery",
    ]  # fmt: skip
    screws = next(joint for joint in record.joints if joint.id == "mid-cover-screw")
    assert (screws.count, screws.drive, screws.holds) == (14, "hexalobular 4", ("mid-cover", "frame"))


def test_what_was_taken_over_from_the_order_is_assumed_and_what_was_typed_is_not():
    answered(ANSWERS)
    parts = {part.id: part for part in record_in("wren-9.device.toml").parts}
    assert (parts["mid-cover"].under, parts["mid-cover"].assumed) == ((("back-cover",),), True)
    assert (parts["battery"].under, parts["battery"].assumed) == ((("mid-cover",),), False)
    assert (parts["display"].under, parts["display"].assumed) == ((), False)


def test_a_cable_that_folds_aside_is_a_tether_reached_when_its_part_is_aside():
    answered(ANSWERS)
    joints = {joint.id: joint for joint in record_in("wren-9.device.toml").joints}
    flex = joints["display-connector"]
    assert (flex.tether, flex.behind, flex.holds) == (True, (("display",),), ("display", "main-board"))


@pytest.mark.parametrize("number", [*range(1, len(ANSWERS), 4), 44])
def test_wherever_the_input_ends_all_answers_until_then_are_kept(number):
    result = answered(ANSWERS[:number])
    assert result.exit_code == 0
    assert "wren-9.device.toml" in result.output
    record = record_in("wren-9.device.toml")
    assert sound(record)
    named = {"Back cover", "Mid cover", "Display", "Battery"} & set(ANSWERS[:number])
    assert named <= {part.name for part in record.parts}


def test_an_interview_goes_on_where_it_ended():
    answered(ANSWERS[:18])
    result = answered(ANSWERS[18:], "wren-9.device.toml")
    assert "going on in wren-9.device.toml" in result.output
    assert len(record_in("wren-9.device.toml").parts) == 6


def test_nothing_answered_keeps_nothing():
    result = answered([])
    assert result.exit_code == 1
    assert list(Path().glob("*.toml")) == []


def test_a_hand_written_record_is_left_alone_and_its_draft_goes_on(small):
    before = Path(small).read_text(encoding="utf-8")
    sizes = ["", "Camera", "", "none", "screw", "", "2", "", "", ""]
    assert answered(sizes, small).exit_code == 0
    assert Path(small).read_text(encoding="utf-8") == before
    assert "camera" in {part.id for part in record_in(f"{small}.draft").parts}
    assert "going on in wren.device.toml.draft" in answered([], small).output


def test_a_file_with_faults_is_refused_and_left_alone():
    Path("spoilt.toml").write_text(SMALL.replace("count = 4", "count = 0"), encoding="utf-8")
    result = answered(ANSWERS, "spoilt.toml")
    assert result.exit_code == 1
    assert "joints[3].count" in result.stderr


def test_a_second_device_of_the_same_name_gets_a_file_of_its_own():
    answered(ANSWERS[:3])
    answered(ANSWERS[:3])
    assert sorted(path.name for path in Path().glob("*.toml")) == [
        "wren-9-2.device.toml",
        "wren-9.device.toml",
    ]


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (["Wren 9", "car", *ANSWERS[1:]], "one of phone, tablet"),
        (["Wren 9", "phone", "161", *ANSWERS[2:]], "such as 161.5 74.8 8.4"),
        (["Wren 9", "phone", "161 0 8", *ANSWERS[2:]], "above 0"),
        (["", *ANSWERS], "a name"),
        ([*ANSWERS[:5], "bakc_cover", *ANSWERS[5:]], "back_cover, if that is meant"),
        ([*ANSWERS[:6], "roof", *ANSWERS[6:]], "right: none"),
        ([*ANSWERS[:7], "glu", *ANSWERS[7:]], "one of screw"),
        ([*ANSWERS[:15], "many", *ANSWERS[15:]], "a whole number"),
        ([*ANSWERS[:15], "0", *ANSWERS[15:]], "from 1"),
        ([*ANSWERS[:8], "back cover", *ANSWERS[8:]], "held to itself"),
    ],
)
def test_a_wrong_answer_is_told_and_asked_again(wrong, said):
    result = answered(wrong)
    assert said in result.output
    assert len(record_in("wren-9.device.toml").parts) == 6


def test_json_holds_what_was_made_and_the_questions_go_elsewhere():
    result = run("new", "--json", input="".join(f"{answer}\n" for answer in ANSWERS))
    assert '"command": "new"' in result.stdout
    assert "Name of the device" not in result.stdout
    assert "Name of the device" in result.stderr


@given(st.lists(st.text(max_size=12), max_size=30))
def test_any_answers_end_in_a_sound_record_or_none(answers):
    result = run("new", "any.device.toml", input="\n".join(map(clean, answers)) + "\n")
    assert result.exit_code in (0, 1)
    for path in Path().glob("any.device.toml"):
        assert sound(record_in(path))
        path.unlink()


@pytest.mark.parametrize(
    ("text", "found"), [("161.5 74.8", [161.5, 74.8]), ("161,5;8", [161.5, 8.0]), ("about", [])]
)
def test_numbers_are_read_however_they_are_written(text, found):
    assert numbers(text) == found


def test_demo_records_are_not_begun_again():
    assert answered(ANSWERS, "demo:tern-3").exit_code == 1


def test_check_and_ways_work_on_the_result():
    answered(ANSWERS)
    assert run("check", "wren-9.device.toml").exit_code == 0
    assert all(row["found"] for row in data("ways", "wren-9.device.toml")["ways"])
