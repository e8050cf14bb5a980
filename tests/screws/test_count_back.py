from __future__ import annotations

import pytest

from midframe.demo import load
from midframe.faults import BadSetting, UnknownPart
from midframe.screws.count_back import drive, drive_all, found, left_in, start, take_out
from screws.builders import record, screws

MADE = record(
    screws("long", 3.0, hole_depth_mm=3.4, spots_mm=((10, 50), (60, 50))),
    screws("short", 1.8, hole_depth_mm=2.0, spots_mm=((10, 10), (60, 10))),
)


def all_in(made):
    state = start(made)
    for group in state.groups:
        state = drive_all(state, group.joint)
    return state


def test_holes_without_their_screw_are_named_with_their_place():
    state = drive(start(MADE), "long", 2)
    told = found(MADE, state)
    assert [(hole.joint, hole.hole, hole.place_mm) for hole in told.empty] == [
        ("long", 1, (10, 50)),
        ("short", 1, (10, 10)),
        ("short", 2, (60, 10)),
    ]
    assert [(one.letter, one.out, one.driven, one.expected) for one in told.kinds] == [
        ("A", 2, 1, 1),
        ("B", 2, 0, 2),
    ]
    assert not told.done


def test_all_in_their_holes_and_nothing_left_is_done():
    assert found(MADE, all_in(MADE)).done
    assert found(MADE, all_in(MADE), {"A": 0, "B": 0}).done


def test_a_left_over_screw_says_where_it_belongs():
    told = found(MADE, all_in(MADE), {"B": 1})
    assert told.sentences == ("1 of B (M1.4×1.8 pan) left over: it belongs in Plate",)
    assert not told.done


def test_a_missing_screw_is_found_while_holes_are_still_open():
    told = found(MADE, drive(start(MADE), "long", 1), {"A": 0})
    assert told.sentences == ("1 of A (M1.4×3 pan) missing from the tray: for Plate",)


def test_one_kind_left_over_and_another_missing_points_to_the_hole_that_suffers():
    state = drive_all(drive(start(MADE), "long", 1), "short")
    told = found(MADE, state, {"A": 0, "B": 1})
    assert [(one.screw, one.joint, one.effect) for one in told.suspects] == [("A", "short", "pierces")]
    assert told.sentences[-1] == (
        "Look at Plate: A (M1.4×3 pan) may be in a hole of B (M1.4×1.8 pan): "
        "1 mm beyond the hole: reaches Board, right below it"
    )


def test_a_screw_ticked_into_a_hole_of_another_kind_is_told_at_once_with_its_harm():
    told = found(MADE, drive(start(MADE), "short", 1, "A"))
    ((one, hazard),) = told.wrong
    assert (one.joint, one.hole, one.letter) == ("short", 1, "A")
    assert hazard.effect == "pierces"
    assert "reaches Board" in told.sentences[0]


def test_a_swap_nobody_saw_is_found_when_its_fellow_has_no_hole_left():
    state = drive_all(drive(start(MADE), "long", 1), "short")  # in truth an A went into a hole of B
    assert found(MADE, state).suspects == ()
    told = found(MADE, drive(state, "long", 2, "B"))
    assert [(one.joint, one.hole) for one, _ in told.wrong] == [("long", 2)]
    assert [(one.screw, one.joint) for one in told.suspects] == [("A", "short")]
    assert next(iter(left_in(MADE, state, told, "short"))).startswith("Look at Plate: A")
    assert not told.done


def test_a_tick_can_be_taken_back():
    assert take_out(drive(start(MADE), "long", 1), "long", 1) == start(MADE)


def test_more_driven_in_than_came_out_is_told():
    state = drive(drive_all(start(MADE), "long"), "short", 1, "A")
    assert any("driven in than came out" in text for text in found(MADE, state).sentences)


@pytest.mark.parametrize(
    ("call", "fault", "word"),
    [
        (lambda: start(MADE, ["plate"]), UnknownPart, "no screw joint 'plate'"),
        (lambda: drive(start(MADE, ["long"]), "short", 1), UnknownPart, "out are long"),
        (lambda: drive(start(MADE), "long", 3), BadSetting, "right: 1 to 2"),
        (lambda: drive(drive(start(MADE), "long", 1), "long", 1), BadSetting, "ticked already"),
        (lambda: drive(start(MADE), "long", 1, "Z"), BadSetting, "out are A, B"),
        (lambda: take_out(start(MADE), "long", 1), BadSetting, "not ticked"),
        (lambda: found(MADE, start(MADE), {"Z": 1}), BadSetting, "out are A, B"),
        (lambda: found(MADE, start(MADE), {"A": -1}), BadSetting, "0 or more"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(call, fault, word):
    with pytest.raises(fault, match=word):
        call()


def test_every_screw_of_a_demo_device_can_be_counted_back():
    device = load("tern-3")
    assert len(found(device, start(device)).empty) == 36
    assert found(device, all_in(device)).done
