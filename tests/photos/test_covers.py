from __future__ import annotations

import msgspec
import pytest

from midframe.faults import UnknownPart
from midframe.photos import assume, covers
from midframe.record import check, faults, read, write
from midframe.record.model import Device, Joint, Part, Record

WHOLE = ((0.0, 0.0), (70.0, 150.0))


def record(*parts, joints=()):
    body = Part(id="frame", name="Frame", outline_mm=WHOLE)
    return Record(
        format=1,
        device=Device(name="Tern", kind="phone", body="frame", invented=True),
        parts=(body, *parts),
        joints=(
            *joints,
            *(Joint(id=f"{part.id}-glue", kind="adhesive", holds=(part.id, "frame")) for part in parts),
        ),
    )


def part(name, box, **facts):
    return Part(id=name, name=name.capitalize(), outline_mm=box, **facts)


COVER = part("cover", WHOLE, depth_mm=(8.0, 8.9), face="back")
BATTERY = part("battery", ((5.0, 60.0), (50.0, 140.0)), depth_mm=(4.0, 8.0), face="back")
BOARD = part("board", ((5.0, 5.0), (65.0, 62.0)), depth_mm=(5.0, 7.0), face="back")
DISPLAY = part("display", WHOLE, depth_mm=(0.0, 2.0), face="front")


def pairs(one):
    return [(cover.above, cover.below) for cover in covers(one) if cover.by_depth]


def test_depths_say_which_lies_above_from_the_face_it_is_lifted_from():
    found = covers(record(DISPLAY, BATTERY, COVER))
    assert [(one.above, one.below, one.face) for one in found] == [("cover", "battery", "back")]
    assert found[0].share == pytest.approx(1.0)
    assert found[0].overlap_mm2 == pytest.approx(45 * 80)


def test_a_part_lifted_from_the_front_is_covered_by_what_lies_nearer_to_the_front():
    battery = msgspec.structs.replace(BATTERY, face="front")
    assert pairs(record(DISPLAY, battery, COVER)) == [("display", "battery")]


def test_the_face_follows_from_the_joints_where_it_is_not_said():
    battery = msgspec.structs.replace(BATTERY, face=None)
    screws = Joint(id="screws", kind="screw", holds=("battery", "frame"), face="back")
    assert pairs(record(battery, COVER, joints=(screws,))) == [("cover", "battery")]


def test_without_depths_the_pair_is_asked_about():
    battery = msgspec.structs.replace(BATTERY, depth_mm=None)
    (asked,) = covers(record(battery, COVER))
    assert (asked.above, asked.below, asked.by_depth) == ("battery", "cover", False)


def test_a_sliver_of_overlap_is_no_suggestion():
    assert covers(record(BATTERY, msgspec.structs.replace(BOARD, depth_mm=None))) == ()


def test_what_the_record_says_already_is_not_suggested_again():
    told = assume(record(BATTERY, COVER), "cover", "battery")
    assert covers(told) == ()
    riding = msgspec.structs.replace(BOARD, outline_mm=BATTERY.outline_mm, depth_mm=(2, 4), seat="battery")
    assert covers(record(BATTERY, riding)) == ()


def test_the_body_is_left_out():
    assert covers(record(BATTERY)) == ()


def test_spots_under_a_part_are_suggested_for_their_joint():
    screws = Joint(
        id="screws", kind="screw", holds=("board", "frame"), face="back", depth_mm=5.0,
        spots_mm=((10.0, 10.0), (30.0, 20.0), (69.9, 149.9)),
    )  # fmt: skip
    half = msgspec.structs.replace(COVER, outline_mm=((0.0, 0.0), (20.0, 150.0)))
    (found,) = [one for one in covers(record(half, joints=(screws,))) if one.below == "screws"]
    assert (found.above, found.face) == ("cover", "back")
    assert found.share == pytest.approx(1 / 3)


def test_a_suggestion_taken_up_is_assumed_until_a_person_says_so():
    before = record(BATTERY, COVER)
    guessed = assume(before, "cover", "battery")
    battery = next(one for one in guessed.parts if one.id == "battery")
    assert (battery.under, battery.assumed) == ((("cover",),), True)
    said = assume(before, "cover", "battery", confirmed=True)
    assert not next(one for one in said.parts if one.id == "battery").assumed
    assert faults(check(said)) == ()
    assert read(write(guessed)) == guessed


def test_it_is_added_to_every_alternative():
    two = msgspec.structs.replace(BATTERY, under=(("display",), ("cover",)))
    taken = assume(record(DISPLAY, COVER, two, BOARD), "board", "battery")
    assert next(one for one in taken.parts if one.id == "battery").under == (
        ("display", "board"),
        ("cover", "board"),
    )


def test_a_joint_can_wait_too_and_an_unknown_id_is_refused():
    taken = assume(record(BATTERY, COVER), "cover", "battery-glue")
    assert next(one for one in taken.joints if one.id == "battery-glue").behind == (("cover",),)
    with pytest.raises(UnknownPart, match="no part 'lid'"):
        assume(record(BATTERY), "lid", "battery")
    with pytest.raises(UnknownPart, match="no part or joint 'glue'"):
        assume(record(BATTERY, COVER), "cover", "glue")
