from __future__ import annotations

import pytest

from midframe.faults import BadSetting
from midframe.thermal import in_series, resistance, side_by_side, temperature_drop, unit_resistance


def test_the_plates_with_a_joint_of_a_textbook():
    # [kreith-pht, ex. 1.6]: 2 × 1 cm of aluminium, k 240, joint 2.75e-4 m²·K/W, 405 to 395 °C.
    plate = unit_resistance(10, 240)
    flux = (405 - 395) / in_series([plate, 2.75e-4, plate])
    assert flux == pytest.approx(2.79e4, rel=2e-3)
    assert flux * 2.75e-4 == pytest.approx(7.67, abs=0.01)


def test_the_chip_on_a_plate_of_a_textbook():
    # [incropera-fhmt, ex. 3.2]: 1e4 W/m², joint 0.9e-4, 8 mm of aluminium, k 239, h 100 on both sides, 25 °C.
    below = in_series([0.9e-4, unit_resistance(8, 239), 1 / 100])
    assert 25 + 1e4 * side_by_side([1 / 100, below]) == pytest.approx(75.3, abs=0.05)


def test_the_thickness_of_metal_that_a_contact_is_worth():
    # [cengel-htpa, ex. 3.4]: hc 11 000 W/(m²·K) is as much as 2.15 cm of aluminium, k 237.
    assert unit_resistance(21.5, 237) == pytest.approx(1 / 11_000, rel=3e-3)


def test_the_screwed_transistor_of_a_textbook():
    # [cengel-htpa, ex. 3.5]: hc 42 000 on 8 cm², 1 cm of copper, k 386, h 25 on 100 cm², 70 to 20 °C.
    joint = resistance(1 / 42_000, 800)
    whole = in_series([joint, resistance(unit_resistance(10, 386), 10_000), resistance(1 / 25, 10_000)])
    power = (70 - 20) / whole
    assert power == pytest.approx(12.4, abs=0.05)
    assert temperature_drop(joint, power) == pytest.approx(0.37, abs=0.005)


def test_the_composite_walls_of_textbooks():
    # [cengel-htpa, ex. 3.3]: glass 4 mm, air 10 mm, glass 4 mm, 1.2 m², h 10 and 40, 20 to −10 °C.
    glass, air = unit_resistance(4, 0.78), unit_resistance(10, 0.026)
    whole = resistance(in_series([1 / 10, glass, air, glass, 1 / 40]), 1e6) / 1.2
    assert whole == pytest.approx(0.4332, abs=2e-4)
    assert 30 / whole == pytest.approx(69.2, abs=0.1)
    # [incropera-fhmt, ex. 1.1]: 0.15 m, k 1.7, 250 K, 0.6 m²: 1700 W; here a hundredth as thick and as warm.
    assert 2.5 * 0.6 / unit_resistance(1.5, 1.7) == pytest.approx(1700)


def test_the_worked_pad():
    # [bench-physics-calc, pads]: 10 × 10 mm, 2 W, 1 mm at 3 W/(m·K), contacts 2 × 2e-5.
    unit = unit_resistance(1.0, 3.0, 4e-5)
    assert unit == pytest.approx(3.73e-4, rel=2e-3)
    assert temperature_drop(resistance(unit, 100), 2.0) == pytest.approx(7.5, abs=0.04)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: unit_resistance(500, 3), "500 µm are 0.5 mm"),
        (lambda: unit_resistance(1, 0), r"0.01 to 3000 W/\(m·K\)"),
        (lambda: unit_resistance(1, 3, 0.4), "contact resistance: found 0.4"),
        (lambda: resistance(1e-4, 0), "1 cm² is 100 mm²"),
        (lambda: temperature_drop(1.0, 2500), "500 mW are 0.5 W"),
        (lambda: unit_resistance(float("nan"), 3), "thickness: found nan"),
        (lambda: temperature_drop(1.0, -1), "power: found -1"),
    ],
)
def test_a_figure_in_another_unit_is_told(call, words):
    with pytest.raises(BadSetting, match=words):
        call()
