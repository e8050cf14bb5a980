"""Thermal resistance of flat layers: thickness over conductivity, contacts, area, and the drop at a power."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.faults import BadSetting

M2K_W_TO_CM2K_W = 1e4
"""1 m²·K/W is 10 000 K·cm²/W (textbook)."""


def unit_resistance(thickness_mm: float, conductivity_w_mk: float, contact_m2k_w: float = 0.0) -> float:
    """Resistance of a layer for one square metre: R'' = t/k + R''c, in m²·K/W.

    Parameters
    ----------
    thickness_mm
        Thickness in mm as it is fitted, from 0 to 100.
    conductivity_w_mk
        Conductivity across the layer in W/(m·K), 0.01 to 3000.
    contact_m2k_w
        Resistance of both contacts together in m²·K/W.

    Returns
    -------
    float
        In m²·K/W.

    Raises
    ------
    BadSetting
        A figure that no layer has, such as a thickness in micrometres.

    Examples
    --------
    >>> round(unit_resistance(1.0, 3.0, 4e-5), 6)
    0.000373
    >>> round(unit_resistance(1.0, 3.0) - unit_resistance(0.5, 3.0), 6)
    0.000167

    References
    ----------
    [incropera-fhmt, 3.1], [bench-physics-calc, pads].
    """
    if not 0 <= thickness_mm <= 100:
        raise BadSetting(f"thickness: found {thickness_mm:g} mm; right: 0 to 100 mm (500 µm are 0.5 mm)")
    if not 0.01 <= conductivity_w_mk <= 3000:
        right = "0.01 to 3000 W/(m·K), across the layer"
        raise BadSetting(f"conductivity: found {conductivity_w_mk:g} W/(m·K); right: {right}")
    if not 0 <= contact_m2k_w <= 0.1:
        raise BadSetting(f"contact resistance: found {contact_m2k_w:g} m²·K/W; right: 0 to 0.1")
    return thickness_mm / 1000 / conductivity_w_mk + contact_m2k_w


def resistance(unit_m2k_w: float, area_mm2: float) -> float:
    """Resistance of a layer: R = R''/A, in K/W.

    >>> round(resistance(3.733e-4, 100.0), 2)
    3.73

    Raises
    ------
    BadSetting
        An area that is not above zero.

    References
    ----------
    [incropera-fhmt, 3.1].
    """
    if not 0 < area_mm2 <= 1e6:
        raise BadSetting(f"area: found {area_mm2:g} mm²; right: above 0, in mm² (1 cm² is 100 mm²)")
    return unit_m2k_w / (area_mm2 * 1e-6)


def temperature_drop(resistance_k_w: float, power_w: float) -> float:
    """Temperature drop across a resistance: ΔT = P·R, in K.

    >>> round(temperature_drop(3.73, 2.0), 2)
    7.46

    Raises
    ------
    BadSetting
        A power that no phone or tablet has.

    References
    ----------
    [incropera-fhmt, 3.1].
    """
    if not 0 <= power_w <= 1000:
        raise BadSetting(f"power: found {power_w:g} W; right: 0 to 1000 W (500 mW are 0.5 W)")
    return power_w * resistance_k_w


def in_series(resistances: Sequence[float]) -> float:
    """Layers that lie on one another: R = Σ R_i.

    >>> in_series([1.0, 2.0])
    3.0

    References: textbook.
    """
    return float(sum(resistances))


def side_by_side(resistances: Sequence[float]) -> float:
    """Layers that lie beside one another between the same parts: 1/R = Σ 1/R_i.

    >>> side_by_side([2.0, 2.0])
    1.0

    References: textbook.
    """
    return 1 / sum(1 / one for one in resistances)
