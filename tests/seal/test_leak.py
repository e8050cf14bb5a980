from __future__ import annotations

import math

import pytest

from midframe.faults import BadSetting
from midframe.seal import from_pa_m3_s, leak_mol_s, leak_pa_m3_s, scaled_viscous, to_pa_m3_s
from midframe.seal.leak import ATMOSPHERE_PA, MOLAR_GAS_CONSTANT, hole_um


def test_the_published_example_of_a_vacuum_decay():
    # [cfr-40-1065-644, example]: 2 L, 25.3 to 50.6 kPa at 293.15 K from 10:56:25 to 10:57:35.
    rate = leak_mol_s(0.002, (0, 25_300, 293.15), (70, 50_600, 293.15))
    assert rate == pytest.approx(2.966e-4, rel=1e-3)


def test_both_formulas_are_one_balance():
    first, last = (0, 120_000, 294.0), (45, 118_500, 293.2)
    amount = leak_mol_s(3e-5, first, last)
    assert leak_pa_m3_s(3e-5, first, last) == pytest.approx(-amount * MOLAR_GAS_CONSTANT * 294.0)


def test_a_pure_change_of_temperature_is_no_leak():
    assert leak_pa_m3_s(1e-5, (0, 111_325, 293.15), (10, 111_325 * 293.16 / 293.15, 293.16)) == pytest.approx(
        0, abs=1e-15
    )
    # dp/dT = p/T at one atmosphere: 346 Pa a kelvin.
    per_kelvin = 101_325 / 293.15
    assert per_kelvin == pytest.approx(346, abs=0.5)


@pytest.mark.parametrize(("unit", "many"), [("mbar·L/s", 10.0), ("atm·cc/s", 9.87), ("atm·cc/min", 592.2)])
def test_one_pascal_cubic_metre_a_second_in_other_units(unit, many):
    assert from_pa_m3_s(1.0, unit) == pytest.approx(many, rel=1e-3)
    assert to_pa_m3_s(from_pa_m3_s(0.3, unit), unit) == pytest.approx(0.3)


def test_standard_cubic_centimetres_count_at_zero_celsius():
    # 1 sccm is 1.689e-3 Pa·m³/s at 0 °C and 7.436e-7 mol/s; at 20 °C it takes more room (by definition).
    amount = 7.436e-7
    assert to_pa_m3_s(1.0, "sccm") == pytest.approx(amount * MOLAR_GAS_CONSTANT * 293.15, rel=1e-3)
    assert to_pa_m3_s(1.0, "sccm") * 273.15 / 293.15 == pytest.approx(1.689e-3, rel=1e-3)


def test_an_atmosphere_cubic_centimetre_is_a_little_more_than_a_millibar_litre():
    assert from_pa_m3_s(to_pa_m3_s(1.0, "atm·cc/s"), "mbar·L/s") == pytest.approx(1.013, abs=0.0005)


def test_a_bubble_of_a_millimetre_a_second_is_of_the_order_that_the_trade_says():
    # Trade pages: 1e-3 mbar·L/s. The sphere itself at one atmosphere is half of that.
    sphere = math.pi / 6 * 1e-9 * ATMOSPHERE_PA
    assert 0.3 < from_pa_m3_s(sphere, "mbar·L/s") / 1e-3 < 1.0


def test_a_millibar_litre_is_a_tenth_and_no_millionth():
    # Calculator pages print 1e-6: a trap.
    assert to_pa_m3_s(1.0, "mbar·L/s") == 0.1


def test_the_limit_for_watches_in_its_units():
    # [iso-2281, 4.1]: 50 µg of air a minute, air 28.9647 g/mol.
    amount = 50e-6 / 60 / 28.9647
    assert amount == pytest.approx(2.877e-8, rel=1e-3)
    assert amount * MOLAR_GAS_CONSTANT * 293.15 == pytest.approx(7.0e-5, rel=0.005)
    assert from_pa_m3_s(amount * MOLAR_GAS_CONSTANT * 293.15, "sccm") == pytest.approx(0.039, abs=0.0005)


def test_the_published_example_of_scaling():
    # [leak-guide, example]: 0.001 atm·cc/s at 10 atm is 0.0040 at 20 atm; as air × 1.08 = 0.0043.
    found = scaled_viscous(0.001, (10, 1), (20, 1))
    assert found == pytest.approx(0.0040, abs=0.00005)
    assert 1.08 * found == pytest.approx(0.0043, abs=0.00006)
    with pytest.raises(BadSetting):
        scaled_viscous(1, (1, 1), (2, 1))


def test_a_hole_through_poiseuille():
    for diameter, rate in ((10, 1.4e-5), (20, 2.3e-4), (40, 3.7e-3), (100, 1.4e-1)):
        assert hole_um(rate, 111_325, 101_325) == pytest.approx(diameter, rel=0.03)
    assert hole_um(-1.0, 2, 1) == 0.0


def test_an_unknown_unit_is_refused_with_those_that_are_known():
    with pytest.raises(BadSetting, match="mbar·L/s"):
        to_pa_m3_s(1, "mbar")
