from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.demo import load
from midframe.record.model import Device, Joint, Part, Record
from midframe.refit import bond
from midframe.refit.bonds import area_mm2, perimeter_mm, strip_length_mm

L_SHAPE = ((0, 0), (40, 0), (40, 20), (20, 20), (20, 60), (0, 60))


def made(outline=((0, 0), (70, 150)), **rest):
    parts = (Part(id="frame", name="Frame"), Part(id="lid", name="Lid", outline_mm=outline))
    joint = Joint(id="bond", kind="adhesive", holds=("lid", "frame"), **rest)
    device = Device(name="Bond sample", kind="phone", body="frame", invented=True)
    return bond(Record(format=1, device=device, parts=parts, joints=(joint,)), joint)


@given(st.floats(5, 300), st.floats(5, 300), st.floats(0.1, 2.4))
def test_a_strip_around_a_rectangle_is_the_ring_between_two_rectangles(a, b, width):
    length = strip_length_mm(((0, 0), (a, b)), width)
    ring = a * b - (a - 2 * width) * (b - 2 * width)
    assert length * width == pytest.approx(ring, rel=1e-9)


def test_a_corner_that_bends_inwards_lengthens_the_strip():
    assert area_mm2(L_SHAPE) == 40 * 20 + 20 * 40
    assert perimeter_mm(L_SHAPE) == 200
    # Ring between the shape and its inset by 1 mm: 1600 − ((38·18) + (18·40)) = 196.
    assert strip_length_mm(L_SHAPE, 1.0) == pytest.approx(196.0)
    assert strip_length_mm(L_SHAPE[::-1], 1.0) == pytest.approx(196.0)


def test_a_polygon_of_many_corners_comes_to_the_circle():
    ring = tuple((30 * math.cos(n * math.tau / 720), 30 * math.sin(n * math.tau / 720)) for n in range(720))
    assert strip_length_mm(ring, 2.0) == pytest.approx(math.tau * 29, rel=1e-4)
    assert area_mm2(ring) == pytest.approx(math.pi * 900, rel=1e-4)


def test_width_and_outline_give_length_and_area():
    found = made(width_mm=1.0, thickness_mm=0.2)
    assert (found.length_mm, found.length_from) == (436.0, "outline")
    assert (found.area_mm2, found.area_from) == (436.0, "length and width")


def test_an_area_that_is_no_strip_around_the_part_gives_the_length_by_itself():
    found = made(width_mm=2.0, area_mm2=120.0)
    assert (found.length_mm, found.length_from) == (60.0, "area and width")
    assert (found.area_mm2, found.area_from) == (120.0, "record")


def test_an_outline_alone_gives_the_upper_end_of_the_area():
    found = made()
    assert (found.area_mm2, found.area_from, found.length_mm) == (10_500.0, "whole outline", None)


def test_nothing_known_stays_unknown():
    found = made(outline=())
    assert (found.part, found.length_mm, found.area_mm2, found.area_from) == ("", None, None, "")


def test_a_strip_wider_than_its_part_is_none():
    assert strip_length_mm(((0, 0), (2, 2)), 3.0) == 0.0
    assert made(outline=((0, 0), (2, 2)), width_mm=3.0).length_mm is None


def test_the_rim_bonds_of_the_demo_phone_are_strips_around_their_parts():
    record = load("tern-3")
    found = {joint.id: bond(record, joint) for joint in record.joints if joint.kind == "adhesive"}
    for name in ("display-bond", "back-bond"):
        assert found[name].length_from == "outline"
        assert found[name].length_mm * found[name].width_mm == pytest.approx(found[name].area_mm2, rel=0.15)
