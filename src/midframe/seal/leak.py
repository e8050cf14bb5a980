"""Leak rates from pressure change: formulas, units, scaling to another pressure difference."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from midframe.faults import BadSetting

MOLAR_GAS_CONSTANT = 8.314472
"""Molar gas constant in J/(mol·K) as the published example takes it [cfr-40-1065-644, example]."""

ATMOSPHERE_PA = 101_325.0
"""Standard atmosphere in pascals, by definition (textbook)."""

RATE_UNITS: Mapping[str, float] = MappingProxyType(
    {
        "Pa·m³/s": 1.0,
        "mbar·L/s": 0.1,
        "atm·cc/s": ATMOSPHERE_PA * 1e-6,
        "atm·cc/min": ATMOSPHERE_PA * 1e-6 / 60,
        "sccm": ATMOSPHERE_PA * 1e-6 / 60 * 293.15 / 273.15,
    }
)
"""How many Pa·m³/s at 20 °C one unit is; sccm counts at 0 °C, so it is more at 20 °C (by definition)."""

PRESSURE_UNITS: Mapping[str, float] = MappingProxyType(
    {"Pa": 1.0, "hPa": 100.0, "mbar": 100.0, "kPa": 1000.0, "bar": 1e5, "mmHg": 133.322, "psi": 6894.757}
)
"""How many pascals one unit is (textbook)."""


def unit_factor(unit: str, units: Mapping[str, float], what: str) -> float:
    """The factor of a unit; raises `BadSetting` with the units that are known."""
    if unit not in units:
        raise BadSetting(f"{what}: found the unit '{unit}'; right: one of {', '.join(units)}")
    return units[unit]


def to_pa_m3_s(rate: float, unit: str) -> float:
    """A leak rate in Pa·m³/s.

    >>> to_pa_m3_s(1.0, "mbar·L/s"), round(to_pa_m3_s(1.0, "sccm"), 6)
    (0.1, 0.001812)
    """
    return rate * unit_factor(unit, RATE_UNITS, "leak rate")


def from_pa_m3_s(rate: float, unit: str) -> float:
    """A leak rate in Pa·m³/s told in another unit.

    >>> from_pa_m3_s(1.0, "mbar·L/s"), round(from_pa_m3_s(1.0, "atm·cc/min"), 1)
    (10.0, 592.2)
    """
    return rate / unit_factor(unit, RATE_UNITS, "leak rate")


def leak_mol_s(
    volume_m3: float, first: tuple[float, float, float], last: tuple[float, float, float]
) -> float:
    """Amount that flows in, mol/s, from (seconds, pascals absolute, kelvin) at start and end.

    n = (V/R) · (p2/T2 − p1/T1) / (t2 − t1)

    References
    ----------
    [cfr-40-1065-644, equation 1 and example].

    >>> round(leak_mol_s(0.002, (0, 25_300, 293.15), (70, 50_600, 293.15)), 7)
    0.0002966
    """
    (t1, p1, k1), (t2, p2, k2) = first, last
    return volume_m3 / MOLAR_GAS_CONSTANT * (p2 / k2 - p1 / k1) / (t2 - t1)


def leak_pa_m3_s(
    volume_m3: float, first: tuple[float, float, float], last: tuple[float, float, float]
) -> float:
    """Flow out of a volume, Pa·m³/s at the starting temperature, positive where pressure is lost.

    Q = V · (p1 − p2·T1/T2) / (t2 − t1)

    References
    ----------
    The same balance as [cfr-40-1065-644, equation 1] times −R·T1.

    >>> round(leak_pa_m3_s(1e-5, (0, 111_325, 293.15), (60, 111_275, 293.15)), 9)
    8.333e-06
    """
    (t1, p1, k1), (t2, p2, k2) = first, last
    return volume_m3 * (p1 - p2 * k1 / k2) / (t2 - t1)


def scaled_viscous(rate: float, measured: tuple[float, float], wanted: tuple[float, float]) -> float:
    """A rate at one pair of absolute pressures told for another, laminar flow: Q ∝ p1² − p2².

    References
    ----------
    [leak-guide, example]: 0.001 atm·cc/s at 10 to 1 atm is 0.0040 at 20 to 1 atm.

    >>> round(scaled_viscous(0.001, (10, 1), (20, 1)), 4)
    0.004
    """
    (a, b), (c, d) = measured, wanted
    if a == b:
        raise BadSetting("pressures: found no difference; right: two absolute pressures that differ")
    return rate * (c**2 - d**2) / (a**2 - b**2)


def hole_um(rate_pa_m3_s: float, high_pa: float, low_pa: float, length_mm: float = 1.0) -> float:
    """Diameter in micrometres of the one round hole that would leak so, laminar air at 20 °C.

    d = (256 µ L Q / (π (p1² − p2²)))^(1/4), air viscosity 1.82e-5 Pa·s (textbook)

    References
    ----------
    Poiseuille's law for a gas, textbook.

    >>> round(hole_um(2.3e-4, 111_325, 101_325), 0)
    20.0
    """
    if rate_pa_m3_s <= 0 or high_pa <= low_pa:
        return 0.0
    fourth = 256 * 1.82e-5 * length_mm / 1000 * rate_pa_m3_s / (math.pi * (high_pa**2 - low_pa**2))
    return float(fourth**0.25 * 1e6)
