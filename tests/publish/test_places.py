from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load, names
from midframe.publish.places import joint_at, levels, overlap, places
from midframe.record.outline import crossings


def without_figures(record):
    parts = tuple(msgspec.structs.replace(part, depth_mm=None, outline_mm=()) for part in record.parts)
    return msgspec.structs.replace(record, parts=parts)


@pytest.mark.parametrize("device", names())
def test_every_part_has_a_place_inside_the_drawing(device):
    record = load(device)
    found = places(record, "battery")
    assert set(found.slabs) == {part.id for part in record.parts}
    assert found.true
    for slab in found.slabs.values():
        assert found.along[0] <= slab.along[0] <= slab.along[1] <= found.along[1]
        assert found.depth[0] <= slab.depth[0] <= slab.depth[1] <= found.depth[1]


def test_the_plane_cuts_an_l_shaped_board_in_one_arm_or_through_both():
    board = ((0, 0), (10, 0), (10, 2), (4, 2), (4, 8), (10, 8), (10, 10), (0, 10))
    assert crossings(board, 2) == ((0, 10),)
    assert crossings(board, 7) == ((0, 2), (8, 10))
    assert crossings(board, 11) == ()


def test_slabs_cut_by_the_plane_run_into_one_another_only_where_they_are_joined():
    record = load("tern-3")
    cut = [slab for slab in places(record, "battery").slabs.values() if slab.cut]
    cut = [slab for slab in cut if slab.part != "frame"]  # its outline says nothing of its openings
    joined = [set(joint.holds) for joint in record.joints]
    assert len(cut) > 10
    slack = 0.05
    for index, one in enumerate(cut):
        for other in cut[index + 1 :]:
            shared = min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0])
            beside = all(min(a[1], b[1]) <= max(a[0], b[0]) for a in one.spans for b in other.spans)
            fixed = any({one.part, other.part} <= held for held in joined)
            assert shared <= slack or beside or fixed, f"{one.part} and {other.part}"


def test_without_figures_the_order_alone_is_drawn():
    record = without_figures(load("tern-3"))
    found = places(record)
    assert not found.true
    rows = levels(record)
    assert rows["frame"] == 0
    assert rows["back-cover"] > rows["upper-mid-cover"] > rows["connector-plate"] > 0 > rows["display"]
    assert rows["display"] < rows["heat-spreader"]


def test_a_part_without_figures_among_measured_ones_lies_on_its_seat():
    record = load("tern-3")
    bare = tuple(
        msgspec.structs.replace(part, depth_mm=None, outline_mm=()) if part.id == "lens-cover" else part
        for part in record.parts
    )
    found = places(msgspec.structs.replace(record, parts=bare)).slabs
    assert found["lens-cover"].depth[0] == found["back-cover"].depth[1]
    assert found["lens-cover"].along == found["back-cover"].along


def test_joints_are_marked_at_their_spots_or_where_their_parts_meet():
    record = load("tern-3")
    found = places(record, "battery")
    joints = {joint.id: joint for joint in record.joints}
    spots, depth, _ = joint_at(joints["connector-plate-screws"], found)
    assert list(spots) == sorted(y for _, y in joints["connector-plate-screws"].spots_mm)
    assert depth == joints["connector-plate-screws"].depth_mm
    (middle,), _, meeting = joint_at(joints["battery-bond"], found)
    assert meeting == overlap([found.slabs["battery"].along, found.slabs["frame"].along])
    assert middle == sum(meeting) / 2
