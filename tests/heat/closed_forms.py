"""Closed solutions of conduction, as the textbooks print them: the oracles of the heat tests."""

from __future__ import annotations

import numpy as np
from scipy.optimize import brentq
from scipy.special import erfc


def held(x, t, alpha):
    """Semi-infinite body, surface temperature held: share of the step that has arrived."""
    return erfc(x / (2 * np.sqrt(alpha * t)))


def flux(x, t, alpha, k, q):
    """Semi-infinite body, constant flux: rise of temperature."""
    return 2 * q * np.sqrt(alpha * t / np.pi) / k * np.exp(-(x**2) / (4 * alpha * t)) - q * x / k * erfc(
        x / (2 * np.sqrt(alpha * t))
    )


def convection(x, t, alpha, k, h):
    """Semi-infinite body, convection: share of the step that has arrived."""
    root = np.sqrt(alpha * t)
    xi = x / (2 * root)
    return erfc(xi) - np.exp(h * x / k + h**2 * alpha * t / k**2) * erfc(xi + h * root / k)


def pulse(x, t, alpha, k, e):
    """Semi-infinite body, energy e (J/m²) put into the surface at once: rise of temperature."""
    return e / (k * np.sqrt(np.pi * t / alpha)) * np.exp(-(x**2) / (4 * alpha * t))


def wall(x, t, half, alpha, bi, terms=60):
    """Plane wall cooled on both sides: share of the step that is left at x from the middle."""
    roots = [
        brentq(lambda z: z * np.sin(z) - bi * np.cos(z), n * np.pi, n * np.pi + np.pi / 2)
        for n in range(terms)
    ]
    fo = alpha * t / half**2
    return sum(
        4 * np.sin(z) / (2 * z + np.sin(2 * z)) * np.exp(-(z**2) * fo) * np.cos(z * x / half) for z in roots
    )
