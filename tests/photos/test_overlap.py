from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageDraw

from midframe.photos import area_mm2, overlap_mm2

SIDE = 40
places = st.integers(0, SIDE * 4).map(lambda quarter: quarter / 4)
polygons = st.lists(st.tuples(places, places), min_size=3, max_size=7)


def rotated(outline, degrees):
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(x * cos - y * sin, x * sin + y * cos) for x, y in outline]


def star(centre, count, outer, inner):
    """A simple polygon around a centre, its corners at changing distance."""
    return [
        (
            centre[0] + (outer if index % 2 else inner) * math.cos(2 * math.pi * index / count),
            centre[1] + (outer if index % 2 else inner) * math.sin(2 * math.pi * index / count),
        )
        for index in range(count)
    ]


def shoelace(outline):
    """The area of a simple polygon by another formula."""
    pairs = zip(outline, [*outline[1:], outline[0]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def painted(outline, scale=20):
    image = Image.new("1", (SIDE * scale, SIDE * scale))
    ImageDraw.Draw(image).polygon([(x * scale - 0.5, y * scale - 0.5) for x, y in outline], 1)
    return image


@given(
    centre=st.tuples(st.floats(15, 25), st.floats(15, 25)),
    count=st.sampled_from([6, 8, 10, 14]),
    outer=st.floats(6, 14),
    inner=st.floats(3, 14),
)
def test_areas_agree_with_the_shoelace_formula(centre, count, outer, inner):
    shape = star(centre, count, outer, inner)
    assert area_mm2(shape) == pytest.approx(shoelace(shape), rel=1e-9)


@pytest.mark.parametrize("shift", [(0, 0), (3, 1), (7.5, -4), (12, 12), (-9, 2)])
def test_overlaps_agree_with_painted_pixels(shift):
    one = star((18, 20), 10, 13, 6)
    other = star((18 + shift[0], 20 + shift[1]), 8, 11, 7)
    both = ImageChops.logical_and(painted(one), painted(other))
    counted = both.convert("L").histogram()[255] / 20**2
    # The image library paints border pixels whole: half a pixel along some 100 mm of outline.
    assert overlap_mm2(one, other) == pytest.approx(counted, abs=4.0)


@pytest.mark.parametrize("degrees", [0, 17, 45, 90, 133.7])
def test_turning_both_changes_nothing(degrees):
    one, other = [(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)], [(2, 2), (9, 2), (9, 9), (2, 9)]
    assert overlap_mm2(rotated(one, degrees), rotated(other, degrees)) == pytest.approx(24.0)


@given(one=polygons, other=polygons)
def test_an_overlap_is_the_same_both_ways_and_no_larger_than_either(one, other):
    overlap = overlap_mm2(one, other)
    assert overlap == pytest.approx(overlap_mm2(other, one), abs=1e-6)
    assert -1e-9 <= overlap <= min(area_mm2(one), area_mm2(other)) + 1e-6


@given(one=polygons, by=places)
def test_what_lies_beside_shares_nothing(one, by):
    beside = [(x + SIDE + 0.25 + by, y) for x, y in one]
    assert overlap_mm2(one, beside) == 0.0


@given(left=places, top=places, wide=places, tall=places)
def test_two_points_are_a_box(left, top, wide, tall):
    box = [(left, top), (left + wide, top + tall)]
    assert area_mm2(box) == pytest.approx(wide * tall)


def test_one_point_and_nothing_have_no_area():
    assert area_mm2([(1, 1)]) == 0.0
    assert overlap_mm2([], [(0, 0), (1, 1)]) == 0.0
