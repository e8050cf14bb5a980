"""A leak rate of one gas told for another: by viscosity in laminar flow, by molar mass in molecular flow."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, TypeAlias

from midframe.faults import BadSetting

Gas: TypeAlias = Literal["air", "nitrogen", "argon", "helium", "hydrogen"]

FROM_HELIUM: Mapping[str, float] = MappingProxyType(
    {"helium": 1.0, "nitrogen": 1.12, "air": 1.08, "hydrogen": 2.23, "argon": 0.883}
)
"""Laminar flow of a gas through a leak that lets 1 of helium through [leak-guide, table]."""

MOLAR_G: Mapping[str, float] = MappingProxyType(
    {"helium": 4.0026, "nitrogen": 28.013, "air": 28.965, "hydrogen": 2.016, "argon": 39.948}
)
"""Molar mass in g/mol (textbook)."""

LAMINAR_FROM_PA_M3_S = 1e-6
"""Below this rate flow is no longer laminar for sure: 1e-5 atm·cc/s (common practice, a trade page)."""


def known(gas: str) -> str:
    """The gas itself; raises `BadSetting` with those that are known."""
    if gas not in FROM_HELIUM:
        raise BadSetting(f"gas: found '{gas}'; right: one of {', '.join(FROM_HELIUM)}")
    return gas


def viscous_factor(gas: str, wanted: str = "air") -> float:
    """How many of a wanted gas flow where one of a gas does, laminar flow: Q ∝ 1/µ.

    References
    ----------
    [leak-guide, table].

    >>> viscous_factor("helium"), round(viscous_factor("nitrogen"), 3)
    (1.08, 0.964)
    """
    return FROM_HELIUM[known(wanted)] / FROM_HELIUM[known(gas)]


def molecular_factor(gas: str, wanted: str = "air") -> float:
    """How many of a wanted gas flow where one of a gas does, molecular flow: Q ∝ 1/√M.

    References
    ----------
    Graham's law, textbook; [leak-guide, table] prints 0.374 for helium to air.

    >>> round(molecular_factor("helium"), 3)
    0.372
    """
    return math.sqrt(MOLAR_G[known(gas)] / MOLAR_G[known(wanted)])


def scaled_molecular(rate: float, measured: tuple[float, float], wanted: tuple[float, float]) -> float:
    """A rate at one pair of absolute pressures told for another, molecular flow: Q ∝ p1 − p2.

    >>> scaled_molecular(2e-7, (111_325, 101_325), (121_325, 101_325))
    4e-07
    """
    (a, b), (c, d) = measured, wanted
    if a == b:
        raise BadSetting("pressures: found no difference; right: two absolute pressures that differ")
    return rate * (c - d) / (a - b)
