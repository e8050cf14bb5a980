from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from midframe.faults import BadSetting
from midframe.seal import (
    FROM_HELIUM,
    Reading,
    molecular_factor,
    scaled_molecular,
    scaled_viscous,
    seal_check,
    viscous_factor,
)

# Laminar flow against helium, and molecular flow helium to others [leak-guide, table].
VISCOUS = {"nitrogen": 1.12, "air": 1.08, "hydrogen": 2.23, "argon": 0.883}
MOLECULAR = {"air": 0.374, "argon": 0.316, "hydrogen": 1.41}


@pytest.mark.parametrize(("gas", "factor"), VISCOUS.items())
def test_the_laminar_factors_are_the_published_ones_and_those_of_the_viscosities(gas, factor):
    assert viscous_factor("helium", gas) == factor
    helium, other = (PropsSI("V", "T", 293.15, "P", 101_325, name) for name in ("Helium", gas.capitalize()))
    assert factor == pytest.approx(helium / other, rel=0.01)


@pytest.mark.parametrize(("gas", "factor"), MOLECULAR.items())
def test_the_molecular_factors_are_the_published_ones_within_their_rounding(gas, factor):
    assert molecular_factor("helium", gas) == pytest.approx(factor, rel=0.01)
    masses = [PropsSI("M", name) for name in ("Helium", gas.capitalize())]
    assert molecular_factor("helium", gas) == pytest.approx((masses[0] / masses[1]) ** 0.5, rel=1e-3)


def test_there_and_back_is_nothing_gained():
    for gas in FROM_HELIUM:
        for factor in (viscous_factor, molecular_factor):
            assert factor(gas, "helium") * factor("helium", gas) == pytest.approx(1.0)


def test_the_published_example_of_scaling_and_changing_the_gas():
    # [leak-guide, example]: helium 0.001 atm·cc/s at 10 atm is 0.0040 at 20 atm, and 0.0043 as air.
    found = scaled_viscous(0.001, (10, 1), (20, 1)) * viscous_factor("helium")
    assert found == pytest.approx(0.0043, abs=0.00006)


def test_molecular_flow_goes_with_the_difference_and_laminar_flow_with_that_of_the_squares():
    assert scaled_molecular(1.0, (2, 1), (3, 1)) == 2.0
    assert scaled_viscous(1.0, (2, 1), (3, 1)) == pytest.approx(8 / 3)
    with pytest.raises(BadSetting, match="no difference"):
        scaled_molecular(1.0, (1, 1), (2, 1))


def test_a_test_with_helium_is_compared_as_air_and_says_so():
    readings = [Reading(0, 111_325, 293.15), Reading(60, 111_275, 293.15)]
    air, helium = (seal_check(readings, 1e-5, gas=gas) for gas in ("air", "helium"))
    assert helium.rate_pa_m3_s == air.rate_pa_m3_s
    assert helium.compared[0].rate_pa_m3_s == pytest.approx(1.08 * air.compared[0].rate_pa_m3_s)
    assert any("helium" in doubt for doubt in helium.doubts)
    assert not any("gas" in doubt or "laminar" in doubt for doubt in air.doubts)
    small = seal_check([Reading(0, 111_325, 293.15), Reading(600, 111_320, 293.15)], 1e-5, gas="helium")
    assert any("0.34 times" in doubt for doubt in small.doubts)


def test_a_gas_that_is_not_known_is_refused():
    with pytest.raises(BadSetting, match="right: one of helium, nitrogen"):
        viscous_factor("neon")
