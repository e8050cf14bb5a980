"""What a hole lets through of water: where a meniscus holds it back, how much runs where none does."""

from __future__ import annotations

import math

SURFACE_TENSION_N_M = 0.0728
"""Surface tension of water against air at 20 °C, N/m (textbook)."""

WATER_PA_S = 1.002e-3
"""Viscosity of water at 20 °C, Pa·s (textbook)."""

WATER_PA_A_METRE = 998.2 * 9.80665
"""Pressure of a metre of water at 20 °C, Pa: density times gravity (textbook)."""


def meniscus_pa(diameter_um: float, cosine: float = 1.0) -> float:
    """Pressure up to which a meniscus holds water back in a round hole that it does not wet.

    Δp = 4 · γ · cos θ / d

    Parameters
    ----------
    diameter_um
        Diameter of the hole, micrometres.
    cosine
        Cosine of the angle between water and wall, 0 to 1; at 1 the result is an upper bound.

    Returns
    -------
    float
        Pressure in Pa.

    References
    ----------
    Capillary pressure, textbook; the experiment of [leak-capillary-2020, table] finds the balance at 100 mbar
    just below 20 µm, where this bound is 29 µm.

    >>> round(meniscus_pa(20.0) / 1000, 1)
    14.6
    """
    return 4 * SURFACE_TENSION_N_M * cosine / (diameter_um * 1e-6)


def water_ml(
    diameter_um: float, depth_m: float = 1.0, minutes: float = 30.0, length_mm: float = 1.0
) -> float:
    """Water that runs through one round wetted hole, laminar, at 20 °C.

    V = π · d⁴ · Δp · t / (128 · µ · L)

    Parameters
    ----------
    diameter_um, length_mm
        The hole.
    depth_m, minutes
        Depth of water over it, and for how long; by default those of the immersion test of IEC 60529 for
        its second digit 7 (from memory).

    Returns
    -------
    float
        Volume in mL.

    References
    ----------
    Poiseuille's law, textbook.

    >>> round(water_ml(20.0), 3)
    0.069
    """
    drop = depth_m * WATER_PA_A_METRE
    flow = math.pi * (diameter_um * 1e-6) ** 4 * drop / (128 * WATER_PA_S * length_mm / 1000)
    return flow * minutes * 60 * 1e6
