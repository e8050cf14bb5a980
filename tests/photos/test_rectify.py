from __future__ import annotations

import math

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw

from midframe.faults import BadSetting
from midframe.photos import Rectify

WIDE, TALL = 73.5, 157.0
SQUARE_ON = ((100.0, 50.0), (394.0, 50.0), (394.0, 678.0), (100.0, 678.0))
TILTED = ((212.0, 148.0), (612.0, 97.0), (701.0, 934.0), (96.0, 871.0))


def rectify(corners=TILTED, **settings):
    return Rectify(corners, **{"width_mm": WIDE, "height_mm": TALL, **settings})


@pytest.mark.parametrize("corners", [SQUARE_ON, TILTED])
@pytest.mark.parametrize("seen", ["front", "back"])
def test_the_corners_themselves_are_exact(corners, seen):
    flat = rectify(corners, seen=seen)
    for pixel, place in zip(corners, flat.corners_mm, strict=True):
        assert flat.to_mm(*pixel) == pytest.approx(place, abs=1e-3)
        assert flat.to_px(*place) == pytest.approx(pixel, abs=1e-6)


def test_a_photo_of_the_back_is_mirrored():
    assert rectify(SQUARE_ON).to_mm(100, 50) == (0.0, 0.0)
    assert rectify(SQUARE_ON, seen="back").to_mm(100, 50) == (WIDE, 0.0)
    assert rectify(SQUARE_ON, seen="back").to_mm(147, 678) == (WIDE - 11.75, TALL)


def test_a_device_that_lies_turned_in_the_picture_is_measured_all_the_same():
    turned = SQUARE_ON[2:] + SQUARE_ON[:2]
    assert rectify(turned).to_mm(394, 678) == (0.0, 0.0)


VIEW = (1.09, 0.16, -140.0, -0.05, 1.13, -60.0, 1.4e-4, 2.2e-4)
"""Coefficients a to h of the image library: x is taken from (ax + by + c) / (gx + hy + 1), y alike."""


def to_photo(x, y):
    """Where the library puts a point of the flat sheet: the inverse of the coefficients it was given."""
    a, b, c, d, e, f, g, h = VIEW
    inverse = numpy.linalg.inv(numpy.array([[a, b, c], [d, e, f], [g, h, 1.0]]))
    u, v, w = inverse @ (x, y, 1.0)
    return u / w, v / w


def centre_of(image, near):
    """The centroid of the dark dot near a place, in coordinates of pixel corners."""
    left, top = round(near[0]) - 12, round(near[1]) - 12
    grey = 255.0 - numpy.asarray(image.crop((left, top, left + 24, top + 24)), dtype=float)
    grey[grey < 40] = 0
    rows, columns = numpy.indices(grey.shape)
    total = grey.sum()
    return left + (columns * grey).sum() / total + 0.5, top + (rows * grey).sum() / total + 0.5


@pytest.mark.parametrize("seen", ["front", "back"])
def test_planted_dots_seen_through_the_image_librarys_own_perspective_are_found_again(seen):
    scale = 8
    planted = [(5.125, 12.0), (68.375, 12.0), (36.75, 80.0), (10.0, 150.0), (60.0, 120.5), (20.0, 60.0)]
    sheet = Image.new("L", (1000, 1500), 255)
    draw = ImageDraw.Draw(sheet)
    offset = 150
    on_sheet = [
        (offset + (x if seen == "front" else WIDE - x) * scale, offset + y * scale) for x, y in planted
    ]
    for x, y in on_sheet:
        draw.ellipse((x - 5, y - 5, x + 4, y + 4), 0)
    photo = sheet.transform(
        (1400, 1700), Image.Transform.PERSPECTIVE, VIEW, Image.Resampling.BICUBIC, fillcolor=255
    )
    outline = [(0, 0), (WIDE, 0), (WIDE, TALL), (0, TALL)]
    corners = [to_photo(offset + x * scale, offset + y * scale) for x, y in outline]
    flat = rectify(corners, seen=seen)
    for (x_mm, y_mm), place in zip(planted, on_sheet, strict=True):
        found = flat.to_mm(*centre_of(photo, to_photo(*place)))
        assert math.dist(found, (x_mm, y_mm)) < 0.06


@given(
    shifts=st.lists(st.floats(-60, 60), min_size=8, max_size=8),
    x_mm=st.floats(0, WIDE),
    y_mm=st.floats(0, TALL),
    seen=st.sampled_from(["front", "back"]),
)
def test_there_and_back_is_where_one_was(shifts, x_mm, y_mm, seen):
    corners = [(x + dx, y + dy) for (x, y), dx, dy in zip(SQUARE_ON, shifts[::2], shifts[1::2], strict=True)]
    flat = rectify(corners, seen=seen)
    assert flat.to_mm(*flat.to_px(x_mm, y_mm)) == pytest.approx((x_mm, y_mm), abs=2e-3)


@given(x=st.floats(150, 600), y=st.floats(150, 800))
def test_lines_stay_lines(x, y):
    flat = rectify()
    a, b, c = (flat.to_mm(x + step, y + 2 * step) for step in (0, 30, 60))
    area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    assert abs(area) < 0.05


@pytest.mark.parametrize("place", [(300, 400), (150, 200), (650, 880)])
def test_the_error_of_a_click_is_what_repeated_clicks_scatter(place):
    rng = numpy.random.default_rng(3)
    flat = rectify(click_px=1.0)
    truth = numpy.array(flat.to_mm(*place))
    squares = []
    for _ in range(1500):
        corners = numpy.array(TILTED) + rng.normal(0, 1.0, (4, 2))
        point = numpy.array(place) + rng.normal(0, 1.0, 2)
        squares.append(((numpy.array(rectify(corners).to_mm(*point)) - truth) ** 2).sum())
    # 1500 draws: the standard error of the root is about 2 %, four of them are allowed.
    assert flat.error_mm(*place) == pytest.approx(math.sqrt(numpy.mean(squares)), rel=0.08)


def test_the_error_grows_with_the_uncertainty_of_a_click():
    assert rectify(click_px=4.0).error_mm(300, 400) == pytest.approx(
        2 * rectify(click_px=2.0).error_mm(300, 400)
    )


@pytest.mark.parametrize(
    ("corners", "said"),
    [
        (SQUARE_ON[:3], "found 3"),
        (SQUARE_ON[::-1], "against the clock"),
        ((SQUARE_ON[0], SQUARE_ON[2], SQUARE_ON[1], SQUARE_ON[3]), "edges that cross"),
        (
            (SQUARE_ON[0], SQUARE_ON[1], (247, 364), SQUARE_ON[3]),
            "top right on one line|bottom right on one line",
        ),
        ((SQUARE_ON[0], SQUARE_ON[1], (200, 150), SQUARE_ON[3]), "points inwards"),
        ((SQUARE_ON[0], (105.0, 52.0), *SQUARE_ON[2:]), "top left and top right 5 pixels apart"),
        ((SQUARE_ON[0], (math.nan, 52.0), *SQUARE_ON[2:]), "no number"),
    ],
)
def test_corners_that_are_none_are_refused_with_the_reason(corners, said):
    with pytest.raises(BadSetting, match=said) as fault:
        rectify(corners)
    assert "right:" in str(fault.value)


def test_an_outline_of_no_size_is_refused():
    with pytest.raises(BadSetting, match="0 × 157 mm"):
        rectify(width_mm=0)


def test_a_point_beyond_the_horizon_is_refused():
    steep = ((300.0, 100.0), (400.0, 100.0), (700.0, 600.0), (0.0, 600.0))
    with pytest.raises(BadSetting, match="horizon"):
        rectify(steep).to_mm(350, -400)


def test_a_quarter_turn_of_the_corners_is_doubted_not_refused():
    assert rectify(SQUARE_ON).hint() == ""
    assert "long side" in rectify(SQUARE_ON[1:] + SQUARE_ON[:1]).hint()


def test_a_point_off_the_device_is_told():
    flat = rectify(SQUARE_ON)
    assert not flat.outside(100, 50)
    assert flat.outside(90, 50)
