from __future__ import annotations

import random

import pytest
from PIL import Image

from midframe.faults import BadPhoto, BadSetting
from midframe.photos import black_out, clean, segments
from photos.pictures import laden, opened, saved, scene


def covered_twice(areas, place, size=(203, 155)):
    """Blacked-out photos of two pictures that differ within `place` only, kept as JPEG before covering."""
    made = []
    for seed in (1, 2):
        image = scene(*size)
        rng = random.Random(seed)
        for y in range(place[1], place[3]):
            for x in range(place[0], place[2]):
                image.putpixel((x, y), tuple(rng.randrange(256) for _ in range(3)))
        made.append(black_out(clean(saved(image, "PNG")), areas))
    return made


@pytest.mark.parametrize("box", [(40, 40, 80, 72), (33, 21, 92, 57), (190, 140, 203, 155), (0, 0, 7, 7)])
def test_what_was_under_a_box_leaves_no_trace_in_any_size(box):
    one, two = covered_twice([box], box)
    assert one == two


def test_what_was_under_a_polygon_leaves_no_trace_in_any_size():
    one, two = covered_twice([[(30, 20), (120, 25), (118, 90), (25, 88)]], (31, 26, 117, 87))
    assert one == two


def test_without_covering_the_two_pictures_would_differ():
    one, two = covered_twice([(0, 0, 8, 8)], (40, 40, 80, 72))
    assert one.full != two.full
    assert one.small != two.small


@pytest.mark.parametrize("size", ["full", "medium", "small"])
def test_covered_pixels_are_black_in_every_size(size):
    photo = black_out(clean(saved(scene(3200, 2400))), [(800, 600, 1600, 1200)])
    image = opened(getattr(photo, size))
    scale = image.width / 3200
    inside = image.crop(
        [
            round(side * scale) + way
            for side, way in zip((800, 600, 1600, 1200), (12, 12, -12, -12), strict=True)
        ]
    )
    assert max(high for _, high in inside.getextrema()) <= 3


def test_what_is_not_covered_stays():
    before = clean(laden())
    after = opened(black_out(before, [(200, 150, 260, 200)]).full)
    assert max(abs(a - b) for a, b in zip(after.getpixel((40, 30)), (200, 40, 40), strict=True)) < 12


def test_the_covered_photo_has_a_hash_of_its_own_and_no_metadata():
    before = clean(laden())
    after = black_out(before.full, [(10, 10, 50, 50)])
    assert after.hash != before.hash
    for size in (after.full, after.medium, after.small):
        assert set(segments(size)) == {
            "start", "jfif", "quantisation", "huffman", "frame", "scan", "end",
        }  # fmt: skip


def test_several_areas_are_covered_at_once_and_one_may_reach_over_the_edge():
    image = opened(
        black_out(clean(saved(scene())), [(-50, -50, 20, 20), [(300, 200), (400, 200), (400, 300)]]).full
    )
    assert image.getpixel((10, 10)) == (0, 0, 0)
    assert image.getpixel((318, 210)) == (0, 0, 0)


@pytest.mark.parametrize(
    ("areas", "said"),
    [
        ([], "found no area"),
        ([(50, 10, 10, 50)], "area 1: found 50, 10, 10, 50; right: left before right"),
        ([(0, 0, 5, 5), (400, 300, 500, 400)], "area 2: found a place outside the picture"),
        ([[(1, 1), (5, 5)]], "area 1: found 2 corners; right: at least 3"),
        ([(0, 0, float("nan"), 5)], "area 1: found a coordinate that is no number"),
        ([(0, 0, 5)], "area 1: found 3 corners"),
    ],
)
def test_an_area_that_covers_nothing_is_refused(areas, said):
    with pytest.raises(BadSetting, match=said):
        black_out(clean(saved(scene())), areas)


def test_bytes_that_are_no_picture_are_refused():
    with pytest.raises(BadPhoto):
        black_out(b"no picture", [(0, 0, 5, 5)])


def test_a_whole_picture_can_go():
    image = opened(black_out(clean(saved(Image.new("RGB", (30, 30), "white"))), [(0, 0, 30, 30)]).full)
    assert image.getextrema() == ((0, 0), (0, 0), (0, 0))
