from __future__ import annotations

import pytest
from scipy import constants

from midframe.faults import BadSetting
from midframe.thermal.units import UNITS, converted, figure_of, number_of

BTU_H, DEGREE_F = constants.Btu / constants.hour, constants.degree_Fahrenheit

# Against the table of constants of an independent library.
KNOWN = [
    ("thickness", "mil", constants.mil * 1000),
    ("thickness", "in", constants.inch * 1000),
    ("thickness", "um", constants.micro * 1000),
    ("conductivity", "btu_in_hft2f", BTU_H * constants.inch / (constants.foot**2 * DEGREE_F)),
    ("conductivity", "btu_hftf", BTU_H / (constants.foot * DEGREE_F)),
    ("conductivity", "cal_scmc", constants.calorie / constants.centi),
    ("conductivity", "w_cmk", 1 / constants.centi),
    ("impedance", "cm2k_w", constants.centi**2),
    ("impedance", "mm2k_w", constants.milli**2),
    ("impedance", "in2k_w", constants.inch**2),
    ("impedance", "in2f_w", constants.inch**2 * DEGREE_F),
    ("impedance", "hft2f_btu", constants.foot**2 * DEGREE_F / BTU_H),
    ("pressure", "psi", constants.psi / 1000),
    ("pressure", "bar", constants.bar / 1000),
    ("pressure", "pa", 1 / 1000),
    ("pressure", "mpa", constants.mega / 1000),
    ("pressure", "n_cm2", 1 / constants.centi**2 / 1000),
]  # fmt: skip


@pytest.mark.parametrize(("quantity", "unit", "factor"), KNOWN)
def test_a_unit_is_what_the_table_of_constants_makes_of_it(quantity, unit, factor):
    assert converted(1.0, quantity, unit) == pytest.approx(factor, rel=1e-8)


def test_every_unit_is_held_against_that_table():
    base = {("thickness", "mm"), ("conductivity", "w_mk"), ("impedance", "m2k_w"), ("pressure", "kpa")}
    assert {(quantity, unit) for quantity, units in UNITS.items() for unit in units} == base | {
        (quantity, unit) for quantity, unit, _ in KNOWN
    }


def test_a_figure_per_square_inch_is_no_figure_per_square_centimetre():
    # The trap of datasheets: 0.5 K·in²/W is 3.2 K·cm²/W.
    assert converted(0.5, "impedance", "in2k_w") / converted(0.5, "impedance", "cm2k_w") == pytest.approx(
        6.4516
    )


def test_twenty_mil_are_half_a_millimetre_and_twenty_inches_are_not():
    assert converted(20, "thickness", "mil") == pytest.approx(0.508)
    assert converted(20, "thickness", "in") == pytest.approx(508)


def test_an_unknown_unit_is_told_with_those_that_are_known():
    with pytest.raises(BadSetting, match=r"thickness: found the unit 'cm'; right: one of mm, um, mil, in"):
        converted(1.0, "thickness", "cm")


def test_a_row_that_says_a_quantity_twice_is_refused():
    with pytest.raises(
        BadSetting, match="line 3: found thickness_mm and thickness_mil; right: thickness in one"
    ):
        figure_of({"thickness_mm": "1", "thickness_mil": "20"}, "thickness", "line 3")


def test_a_row_without_the_quantity_has_no_figure():
    assert figure_of({"thickness_mm": "", "name": "x"}, "thickness", "line 3") is None


@pytest.mark.parametrize("text", ["half", "", "nan", "inf", "1,000,5", True])
def test_what_is_no_number_is_told_with_its_place(text):
    with pytest.raises(BadSetting, match="here: found"):
        number_of(text, "here")
