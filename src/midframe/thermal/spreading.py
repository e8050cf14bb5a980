"""Spreading resistance: heat that enters a film through a smaller area than it leaves through."""

from __future__ import annotations

import math

from midframe.faults import BadSetting

TERMS = 600
"""Terms of the series; the last ones are below a millionth of the sum for ratios of areas from 0.001
(own construction)."""

LEAST_RATIO = 1e-3
"""Smallest ratio of the areas for which the series is used (own construction)."""


def spreading_resistance(
    from_mm2: float,
    to_mm2: float,
    *,
    thickness_mm: float,
    along_w_mk: float,
    across_w_mk: float,
    base_w_m2k: float,
) -> float:
    """Spreading resistance of a film, mean over the patch that the heat enters by, in K/W.

    R = 4/(π ε² k b) Σ J1²(δ ε)/(δ³ J0²(δ)) · (δ + Bi tanh δτ)/(δ tanh δτ + Bi), over the roots δ of J1, with
    ε = a/b, τ = t'/b, Bi = h b/k. Patch and film are taken as concentric discs of the same areas; the flux
    is even over the patch, the edge and the rest of the top are insulated, the base is cooled evenly. A film
    that conducts otherwise along than across is stretched: k = √(k_along k_across),
    t' = t √(k_along/k_across). It adds to the plain resistance of the film over its whole area.

    Parameters
    ----------
    from_mm2, to_mm2
        Area of the patch and of the film, mm².
    thickness_mm
        Thickness of the film.
    along_w_mk, across_w_mk
        Conductivity in its plane and across, W/(m·K).
    base_w_m2k
        How well the base is cooled, W/(m²·K): 1/R''c of the contact to an even part below.

    Returns
    -------
    float
        In K/W; 0 where the patch is as large as the film.

    Raises
    ------
    BadSetting
        Figures that are not above zero, or a patch of less than a thousandth of the film.

    Examples
    --------
    >>> film = dict(thickness_mm=0.06, along_w_mk=1000.0, across_w_mk=5.0)
    >>> round(spreading_resistance(120, 550, base_w_m2k=25_000.0, **film), 2)
    0.24
    >>> round(spreading_resistance(120, 550, base_w_m2k=10.0, **film), 2)
    1.01

    References
    ----------
    Theory [yovanovich-marotta, spreading resistance]; the series is derived by separation of variables
    (textbook) and held against a half space and a finite-volume solution in the tests.
    """
    if min(from_mm2, to_mm2, thickness_mm, along_w_mk, across_w_mk, base_w_m2k) <= 0:
        raise BadSetting(
            "spreading: found a figure of zero or less; right: areas, thickness, k and h above zero"
        )
    if from_mm2 >= to_mm2:
        return 0.0
    if from_mm2 < LEAST_RATIO * to_mm2:
        raise BadSetting(
            f"spreading: found {from_mm2:g} on {to_mm2:g} mm²; right: a patch of a thousandth at least"
        )
    import numpy as np
    from scipy.special import j0, j1, jn_zeros

    ratio, outer = math.sqrt(from_mm2 / to_mm2), math.sqrt(to_mm2 / math.pi) / 1000
    conductivity = math.sqrt(along_w_mk * across_w_mk)
    depth = thickness_mm / 1000 * math.sqrt(along_w_mk / across_w_mk) / outer
    biot = base_w_m2k * outer / conductivity
    roots = jn_zeros(1, TERMS)
    damped = np.tanh(roots * depth)
    base = (roots + biot * damped) / (roots * damped + biot)
    total = float(np.sum(j1(roots * ratio) ** 2 / (roots**3 * j0(roots) ** 2) * base))
    return 4 / (math.pi * ratio**2 * conductivity * outer) * total
