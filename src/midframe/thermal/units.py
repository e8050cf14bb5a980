"""Units of datasheets and test benches turned into the ones used here, at the edge and nowhere else."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from midframe.faults import BadSetting

INCH_MM = 25.4
"""The international inch, by definition (textbook)."""

UNITS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "thickness": {"mm": 1.0, "um": 1e-3, "mil": INCH_MM / 1000, "in": INCH_MM},
        "conductivity": {
            "w_mk": 1.0,
            "w_cmk": 100.0,
            "btu_in_hft2f": 0.144227889,
            "btu_hftf": 1.730734666,
            "cal_scmc": 418.4,
        },
        "impedance": {
            "m2k_w": 1.0,
            "cm2k_w": 1e-4,
            "mm2k_w": 1e-6,
            "in2k_w": INCH_MM**2 * 1e-6,
            "in2f_w": INCH_MM**2 * 1e-6 / 1.8,
            "hft2f_btu": 0.176110184,
        },
        "pressure": {"kpa": 1.0, "pa": 1e-3, "mpa": 1e3, "bar": 100.0, "n_cm2": 10.0, "psi": 6.894757293},
    }
)
"""How much one unit is of the first of its kind (mm, W/(m·K), m²·K/W, kPa). British thermal units are those
of the international table, calories thermochemical; the factors follow from the definitions (textbook)."""


def converted(value: float, quantity: str, unit: str) -> float:
    """A figure in another unit as the one used here.

    Parameters
    ----------
    value
        The figure as printed.
    quantity
        thickness, conductivity, impedance or pressure.
    unit
        Its unit as in the name of a column, such as mil or in2k_w (K·in²/W).

    Returns
    -------
    float
        In mm, W/(m·K), m²·K/W or kPa.

    Raises
    ------
    BadSetting
        A unit that is not known for this quantity.

    Examples
    --------
    >>> converted(20, "thickness", "mil"), round(converted(1.0, "impedance", "in2k_w"), 8)
    (0.508, 0.00064516)

    References: textbook.
    """
    known = UNITS[quantity]
    if unit not in known:
        raise BadSetting(f"{quantity}: found the unit '{unit}'; right: one of {', '.join(known)}")
    return value * known[unit]


def figure_of(row: Mapping[str, object], quantity: str, where: str) -> float | None:
    """The figure of a quantity in a row whose keys name their unit (`thickness_mil`); None without one.

    Raises
    ------
    BadSetting
        Two units for one quantity, an unknown unit, or what is no number.

    >>> figure_of({"thickness_mil": "20"}, "thickness", "line 2")
    0.508
    """
    keys = [key for key in row if key.startswith(f"{quantity}_") and row[key] not in (None, "")]
    if not keys:
        return None
    if len(keys) > 1:
        raise BadSetting(f"{where}: found {' and '.join(keys)}; right: {quantity} in one unit only")
    value = number_of(row[keys[0]], f"{where}, {keys[0]}")
    try:
        return converted(value, quantity, keys[0].removeprefix(f"{quantity}_"))
    except BadSetting as fault:
        raise BadSetting(f"{where}: {fault}") from None


def number_of(value: object, where: str) -> float:
    """A number, also one with a decimal comma; raises `BadSetting` with the place.

    >>> number_of("0,5", "line 2")
    0.5
    """
    text = str(value).strip()
    try:
        found = float(text.replace(",", ".") if text.count(",") == 1 and "." not in text else text)
    except ValueError:
        found = math.nan
    if not math.isfinite(found) or isinstance(value, bool):
        raise BadSetting(f"{where}: found '{text[:40]}'; right: a number, such as 0.5")
    return found
