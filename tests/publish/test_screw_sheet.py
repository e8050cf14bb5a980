from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load, names
from midframe.faults import BadSetting, IllegalMove
from midframe.publish.paper import paper
from midframe.publish.pause import pause
from midframe.publish.refit import moves_of_log
from midframe.publish.screw_pages import list_fits, list_rows, sheet_svg
from midframe.publish.screw_sheet import OVERLAP_MM, cut, room_mm, screw_sheet, sides, tiled
from midframe.record.model import Move
from midframe.ways.solve import solve
from screws.builders import record, screws


def test_seen_from_the_back_a_hole_lies_as_far_from_the_right_edge():
    made = record(screws("a", spots_mm=((10, 20), (60, 30))))
    back, front = screw_sheet(made, "back"), screw_sheet(made, "back", mirrored=False)
    assert [(hole.x_mm, hole.y_mm) for hole in back.holes] == [(60, 20), (10, 30)]
    assert [(hole.x_mm, hole.y_mm) for hole in front.holes] == [(10, 20), (60, 30)]
    assert (back.mirrored, front.mirrored) == (True, False)


def test_screws_of_the_other_side_stand_on_its_sheet_and_those_of_no_side_on_both():
    made = record(screws("a"), screws("b", face="front", depth_mm=1.0), screws("c", face=None))
    on_back, on_front = screw_sheet(made, "back"), screw_sheet(made, "front")
    assert [line.group.joint for line in on_back.groups] == ["a", "c"]
    assert {line.group.joint for line in on_front.groups} == {"b", "c"}
    assert (on_back.other_side, on_front.other_side) == (2, 2)
    assert sides(made) == ("front", "back")


def test_places_that_are_missing_are_counted_and_none_is_made_up():
    made = record(screws("a", count=4, spots_mm=((10, 20),)), screws("b", count=2))
    sheet = screw_sheet(made, "back")
    assert [(hole.joint, hole.number) for hole in sheet.holes] == [("a", 1)]
    assert sheet.without_place == 5
    texts = [text for text, _, _ in list_rows(sheet)]
    assert "5 of them have no place: none is drawn" in texts
    assert sum("without a place" in text for text in texts) == 2
    assert sheet_svg(sheet)[0].count("<circle") == 1


def test_a_record_without_size_and_places_gives_the_list_alone():
    sheet = screw_sheet(record(screws("a"), size_mm=None), "back")
    assert (sheet.tiles, sheet.outline_mm) == ((), None)
    (only,) = sheet_svg(sheet)
    assert "without a place in the record" in only


def test_places_without_a_size_are_drawn_without_an_outline():
    sheet = screw_sheet(record(screws("a", spots_mm=((10, 20),)), size_mm=None), "back")
    assert sheet.outline_mm is None
    assert len(sheet.holes) == len(sheet.tiles) == 1


def test_a_place_outside_the_outline_widens_the_plan_and_stays_true():
    sheet = screw_sheet(record(screws("a", spots_mm=((-4, 20), (30, 20)))), "back")
    first, second = sheet.holes
    assert first.x_mm - second.x_mm == pytest.approx(34)
    left, _, wide, _ = sheet.outline_mm
    assert left + wide - second.x_mm == pytest.approx(30)
    assert all(0 < hole.x_mm < sheet.size_mm[0] for hole in sheet.holes)


def test_the_order_out_is_that_of_the_way_and_what_the_way_leaves_stays_in():
    device = load("tern-3")
    way = solve(device, "battery", limit=20_000)
    sheet = screw_sheet(device, "back", moves=way.moves)
    opened = [move.open for move in way.moves if move.open and "screw" in move.open]
    assert [line.group.joint for line in sheet.groups if line.order] == opened
    assert sheet.stay_in == sum(line.group.count for line in sheet.groups if not line.order)
    assert {hole.order for hole in sheet.holes if hole.joint == opened[0]} == {1}


def test_a_whole_device_has_every_group_in_its_order():
    for name in names():
        device = load(name)
        orders = [line.order for side in sides(device) for line in screw_sheet(device, side).groups]
        screws_of = [joint for joint in device.joints if joint.kind == "screw"]
        assert sorted(orders) == list(range(1, len(screws_of) + 1))


def test_moves_that_are_not_legal_are_refused():
    with pytest.raises(IllegalMove):
        screw_sheet(load("tern-3"), "back", moves=[Move(open="battery-plug")])


@pytest.mark.parametrize(("side", "on"), [("edge", "A4"), ("back", "A5")])
def test_an_unknown_side_or_paper_is_refused_with_what_may_be(side, on):
    with pytest.raises(BadSetting, match="may be"):
        screw_sheet(load("tern-3"), side, on=on)


def test_the_paper_lies_as_takes_fewer_pages():
    wide = record(screws("a", spots_mm=((10, 20),)), size_mm=(150, 260, 8))
    assert screw_sheet(wide, "back").paper.landscape
    assert len(screw_sheet(wide, "back").tiles) == 1
    assert len(screw_sheet(wide, "back", landscape=False).tiles) == 2


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 1200), st.floats(1, 1200), st.sampled_from(["A4", "letter"]), st.booleans())
def test_tiles_cover_every_point_of_any_plan_and_fit_their_page(wide, high, name, landscape):
    on = paper(name, landscape=landscape)
    room = room_mm(on)
    tiles = tiled((wide, high), on)
    assert all(tile.width_mm <= room[0] and tile.height_mm <= room[1] for tile in tiles)
    for length, space in zip((wide, high), room, strict=True):
        pieces = cut(length, space)
        ends = [start + span for start, span in pieces]
        assert (pieces[0][0], pytest.approx(length)) == (0.0, ends[-1])
        for (start, _), end in zip(pieces[1:], ends, strict=False):
            assert end - start == pytest.approx(OVERLAP_MM)


def test_the_list_stands_beside_a_phone_and_on_its_own_page_for_a_tablet():
    assert list_fits(screw_sheet(load("tern-3"), "back"))
    assert not list_fits(screw_sheet(load("heron-tab"), "front"))


def test_a_place_for_every_screw_of_the_demo_devices():
    for name in names():
        device = load(name)
        sheets = [screw_sheet(device, side) for side in sides(device)]
        assert sum(len(sheet.holes) for sheet in sheets) == sum(
            joint.count for joint in device.joints if joint.kind == "screw"
        )


def test_trays_hold_every_screw_once():
    device = load("tern-2")
    sheet = screw_sheet(device, "back")
    assert sum(tray.count for tray in sheet.trays) == 32
    without = msgspec.structs.replace(sheet, trays=())
    assert sheet_svg(without) == sheet_svg(sheet)


def test_trays_and_order_are_those_of_the_job_once_it_is_logged():
    whole = load("tern-3")
    job = msgspec.structs.replace(whole, log=whole.log[:20])
    sheet, put_away = screw_sheet(job), pause(job, moves_of_log(job))
    assert len(put_away.trays) > 5
    assert sheet.trays[: len(put_away.trays)] == put_away.trays
    assert sum(tray.count for tray in sheet.trays) == 36
    unlogged = screw_sheet(msgspec.structs.replace(whole, log=()))
    assert unlogged.trays[: len(put_away.trays)] != put_away.trays
