from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load, names
from midframe.screws import EFFECTS, wrong_holes
from midframe.screws.beneath import beneath
from screws.builders import PARTS, record, screws


def effects(made):
    return [(one.effect, one.screw, one.joint) for one in wrong_holes(made)]


def test_the_longer_screw_beyond_the_hole_reaches_the_board_below():
    # Seat at 6.0, hole 2.0 deep: bottom at 4.0, where the board begins; a 3.0 mm screw goes 1.0 mm into it.
    short = screws("short", 1.8, hole_depth_mm=2.0, spots_mm=((10, 10), (60, 10)))
    first, second = wrong_holes(record(short, screws("long", 3.0, hole_depth_mm=3.4)))
    assert (first.effect, first.screw, first.joint, first.beyond_mm) == ("pierces", "B", "short", 1.0)
    assert [(part.name, part.gap_mm) for part in first.over] == [("Board", 0.0)]
    assert (second.effect, second.screw, second.joint) == ("short", "A", "long")


def test_the_same_screw_beside_the_board_only_bottoms():
    short = screws("short", 1.8, hole_depth_mm=2.0, spots_mm=((60, 10),))
    first = wrong_holes(record(short, screws("long", 3.0, hole_depth_mm=3.4)))[0]
    assert (first.effect, first.over) == ("bottoms", ())


def test_a_gap_wider_than_what_reaches_out_is_no_piercing():
    short = screws("short", 1.8, hole_depth_mm=1.9, spots_mm=((10, 10),))
    first = wrong_holes(record(short, screws("long", 2.0, hole_depth_mm=3.4)))[0]
    assert (first.effect, first.beyond_mm) == ("bottoms", 0.1)


def test_from_the_front_depths_count_the_other_way():
    hole = screws("short", 1.0, hole_depth_mm=1.2, spots_mm=((10, 10),), face="front", depth_mm=1.6)
    first = wrong_holes(record(hole, screws("long", 2.0, hole_depth_mm=3.4)))[0]
    # Bottom at 2.8; the board begins at 3.0.
    assert (first.effect, first.beyond_mm, first.over[0].gap_mm) == ("pierces", 0.8, 0.2)


def test_without_a_depth_of_the_hole_it_is_said_by_how_much_it_is_longer():
    first = wrong_holes(record(screws("short", 1.8), screws("long", 3.0)))[0]
    assert (first.effect, first.longer_mm, first.beyond_mm) == ("longer", 1.2, None)


def test_without_depths_a_board_on_the_plan_may_be_pierced():
    flat = tuple(msgspec.structs.replace(part, depth_mm=None) for part in PARTS)
    first = wrong_holes(
        record(screws("short", 1.8, depth_mm=None, spots_mm=((10, 10),)), screws("long", 3.0), parts=flat)
    )[0]
    assert first.effect == "may pierce"
    assert {part.name for part in first.over} == {"Board", "Display"}


def test_within_the_depth_of_the_hole_it_goes_in():
    found = wrong_holes(
        record(screws("short", 1.8, hole_depth_mm=3.2), screws("long", 3.0, hole_depth_mm=3.2))
    )
    assert [one.effect for one in found] == ["short", "goes in"]


def test_too_short_is_told_in_turns():
    # Clamped: from the seat at 6.0 to the far side of the plate at 5.5; pitch 0.3 mm.
    (short,) = (
        one for one in wrong_holes(record(screws("a", 1.7), screws("b", 3.2))) if one.effect == "short"
    )
    assert short.turns == pytest.approx((1.7 - 0.5) / 0.3)
    assert short.turns_lost == pytest.approx(5.0)
    assert short.weak is True
    unknown = record(screws("a", 1.7, depth_mm=None), screws("b", 3.2, depth_mm=None))
    (short,) = (one for one in wrong_holes(unknown) if one.effect == "short")
    assert (short.turns, short.weak) == (None, None)
    assert short.turns_lost == pytest.approx(5.0)


def test_a_thread_that_bites_askew_is_named_and_the_thicker_screw_does_not_enter():
    thin = screws("thin", 3.0, thread="M1.2", drive="hexalobular 3")
    assert effects(record(thin, screws("thick", 3.0))) == [("askew", "A", "thick")]


def test_a_countersunk_head_on_a_flat_seat_stands_proud():
    found = wrong_holes(record(screws("a", 2.0, head="countersunk"), screws("b", 3.0)))
    assert {one.head for one in found} == {"proud"}


def test_nothing_is_said_where_nothing_is_known():
    assert wrong_holes(record(screws("a", None), screws("b", None, head="flat"))) == ()
    assert wrong_holes(record(screws("a", thread=""), screws("b", 4.0, thread=""))) == ()


def test_a_part_that_must_be_aside_first_is_not_beneath():
    hole = screws("a", 1.8, hole_depth_mm=2.0, spots_mm=((10, 10),), behind=(("board",),))
    assert [part.part for part in beneath(record(hole), hole)] == ["display"]


def test_the_ranking_puts_displays_cells_and_boards_first_in_every_demo_device():
    for name in names():
        order = [EFFECTS.index(one.effect) for one in wrong_holes(load(name))]
        assert order == sorted(order)
        for one in wrong_holes(load(name)):
            if one.effect == "pierces":
                assert one.over[0].vulnerable
                assert one.over[0].gap_mm < one.beyond_mm


def test_every_hazard_is_a_kind_that_is_not_the_holes_own():
    assert all(one.screw != one.own for name in names() for one in wrong_holes(load(name)))
