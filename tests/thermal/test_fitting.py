from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.thermal import Pad, seated


def pad(thickness, **values):
    return Pad(thickness_mm=thickness, conductivity_w_mk=3.0, **values)


@pytest.mark.parametrize(
    ("thickness", "fit"),
    [(0.5, "no contact"), (0.8, "loose"), (0.83, "loose"), (1.0, "fits"), (1.3, "fits"), (1.4, "too thick")],
)
def test_how_a_pad_sits_in_a_gap_of_eight_tenths(thickness, fit):
    assert seated(pad(thickness), 0.8, 100).fit == fit


def test_a_pad_too_thin_says_how_much_air_is_left():
    found = seated(pad(0.5), 0.8, 100)
    assert found.air_mm == pytest.approx(0.3)
    assert found.text == "does not touch: 0.3 mm of air in a gap of 0.8 mm"


def test_a_pad_too_thick_says_by_how_much_it_holds_the_parts_apart():
    found = seated(pad(2.0), 0.8, 100)
    assert (found.over_mm, found.share) == (pytest.approx(1.2), pytest.approx(0.6))
    assert found.proud_mm == pytest.approx(0.4)
    assert found.text.endswith("it holds the parts 0.4 mm apart")


def test_pressure_and_force_follow_the_datasheet():
    # 20 % of 1 mm between 15 % at 69 kPa and 35 % at 345 kPa; on 200 mm² (force = pressure · area, textbook).
    found = seated(pad(1.0, deflection=((69.0, 0.15), (345.0, 0.35))), 0.8, 200)
    assert found.pressure_kpa == pytest.approx(69 + (345 - 69) / 4)
    assert found.force_n == pytest.approx(found.pressure_kpa * 1e3 * 200e-6)
    assert found.text == "pressed by 20 % (0.2 mm), 27.6 N on the board"


def test_beyond_the_datasheet_no_pressure_is_invented():
    found = seated(pad(1.0, deflection=((69.0, 0.15),)), 0.8, 200)
    assert found.pressure_kpa is None
    assert found.text.endswith("beyond its datasheet")


def test_putty_flows_to_the_gap_without_a_limit():
    found = seated(pad(2.0, kind="putty"), 0.8, 100)
    assert (found.fit, found.proud_mm, found.pressure_kpa) == ("fits", 0.0, None)
    assert found.text == "flows; 1.2 mm of it are pressed out"
    assert seated(pad(0.5, kind="putty"), 0.8, 100).fit == "no contact"


@given(st.floats(0.02, 10), st.floats(0.01, 10))
def test_pad_and_air_fill_the_gap_and_nothing_is_both_pressed_and_open(thickness, gap):
    found = seated(pad(thickness), gap, 100)
    assert found.fitted_mm + found.air_mm == pytest.approx(gap)
    assert found.fitted_mm <= thickness
    assert min(found.air_mm, found.over_mm) == 0
