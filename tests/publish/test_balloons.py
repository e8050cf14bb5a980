from __future__ import annotations

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load, names
from midframe.publish.balloons import APART, BALLOON, WIDTH, balloons
from midframe.screws import groups

TERN = load("tern-2")
SPOT = st.tuples(st.floats(0, 73), st.floats(0, 150))


def assert_apart(drawn):
    middles = [one.at for one in drawn.holes]
    for number, one in enumerate(middles):
        assert BALLOON / 2 <= one[0] <= WIDTH - BALLOON / 2
        assert BALLOON / 2 <= one[1] <= drawn.height - BALLOON / 2
        for other in middles[number + 1 :]:
            assert math.dist(one, other) >= APART - 0.1


@settings(max_examples=80, deadline=None)
@given(st.lists(SPOT, min_size=1, max_size=20))
def test_no_balloon_lies_over_another_or_outside(spots):
    assert_apart(balloons(TERN, spots))


@pytest.mark.parametrize("name", names())
def test_every_screw_group_of_a_demo_device_is_drawn_with_its_holes(name):
    record = load(name)
    for group in groups(record):
        drawn = balloons(record, group.spots_mm, group.cover)
        if group.spots_mm:
            assert [one.number for one in drawn.holes] == list(range(1, len(group.spots_mm) + 1))
            assert_apart(drawn)


def test_where_there_is_room_the_balloon_is_at_its_hole():
    drawn = balloons(TERN, [(10.0, 20.0), (60.0, 140.0)])
    assert all(math.dist(one.at, one.hole) < 0.1 for one in drawn.holes)


def test_seen_from_the_back_the_plan_is_mirrored():
    spot = [(10.0, 20.0)]
    back, front = balloons(TERN, spot), balloons(TERN, spot, up="front")
    assert back.holes[0].hole[0] == pytest.approx(WIDTH - front.holes[0].hole[0])
    assert back.holes[0].hole[1] == front.holes[0].hole[1]


def test_more_holes_at_one_place_than_there_is_room_for_are_set_in_rows():
    assert_apart(balloons(TERN, [(30.0, 40.0)] * 60))


def test_without_places_or_size_nothing_is_drawn():
    assert balloons(TERN, []) is None
    device = msgspec.structs.replace(TERN.device, size_mm=None)
    assert balloons(msgspec.structs.replace(TERN, device=device), [(1.0, 2.0)]) is None
