"""Conductivity of a pad from a test between two metal bars, as ASTM D5470 reckons it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from midframe.faults import BadSetting
from midframe.thermal.rows import csv_rows
from midframe.thermal.units import figure_of


class MeterBars(msgspec.Struct, frozen=True, kw_only=True):
    """Readings of one test: temperatures in °C from hot to cold, two in each bar.

    `t1_c` and `t2_c` are in the hot bar, `t3_c` and `t4_c` in the cold one; `hot_spacing_mm` lies between the
    first two, `hot_to_face_mm` from the second to the sample, and so on in the cold bar.
    """

    t1_c: float
    t2_c: float
    t3_c: float
    t4_c: float
    hot_spacing_mm: float
    hot_to_face_mm: float
    face_to_cold_mm: float
    cold_spacing_mm: float
    power_w: float
    area_mm2: float


class PadFit(msgspec.Struct, frozen=True, kw_only=True):
    """The line through impedances at several thicknesses.

    `conductivity_w_mk` is 1/slope, `contact_m2k_w` the intercept, each with its interval of 95 %; intervals
    are none for two samples, and the upper end of the conductivity is none where the slope may be zero.
    """

    samples: int
    conductivity_w_mk: float
    conductivity_low_w_mk: float | None
    conductivity_high_w_mk: float | None
    contact_m2k_w: float
    contact_low_m2k_w: float | None
    contact_high_m2k_w: float | None
    doubts: tuple[str, ...]


def impedance(bars: MeterBars) -> float:
    """Thermal impedance of the sample: Θ = (T_A − T_D)·A/Q, in m²·K/W.

    T_A = T2 − (d_B/d_A)(T1 − T2) and T_D = T3 + (d_D/d_C)(T3 − T4), with d_A and d_C the spacings in a bar,
    d_B and d_D the distances to the faces.

    Raises
    ------
    BadSetting
        Temperatures that do not fall from hot to cold, or figures that are not above zero.

    Examples
    --------
    >>> bars = MeterBars(t1_c=60, t2_c=58, t3_c=42, t4_c=40, hot_spacing_mm=10, hot_to_face_mm=5,
    ...     face_to_cold_mm=5, cold_spacing_mm=10, power_w=50, area_mm2=625)
    >>> round(impedance(bars), 8)
    0.000175

    References
    ----------
    [astm-d5470, calculation].
    """
    if not bars.t1_c > bars.t2_c > bars.t3_c > bars.t4_c:
        raise BadSetting(
            "temperatures: found some that do not fall; right: T1 > T2 > T3 > T4, from hot to cold"
        )
    positive = (bars.hot_spacing_mm, bars.cold_spacing_mm, bars.power_w, bars.area_mm2)
    if min(positive) <= 0 or min(bars.hot_to_face_mm, bars.face_to_cold_mm) < 0:
        raise BadSetting("bars: found a figure of zero or less; right: spacings, power and area above zero")
    hot = bars.t2_c - bars.hot_to_face_mm / bars.hot_spacing_mm * (bars.t1_c - bars.t2_c)
    cold = bars.t3_c + bars.face_to_cold_mm / bars.cold_spacing_mm * (bars.t3_c - bars.t4_c)
    if hot <= cold:
        raise BadSetting(f"faces: found {hot:g} and {cold:g} °C; right: a drop across the sample")
    return (hot - cold) * bars.area_mm2 * 1e-6 / bars.power_w


def conductivity(thickness_mm: Sequence[float], impedances_m2k_w: Sequence[float]) -> PadFit:
    """Conductivity from samples of several thicknesses: the slope of Θ against t is 1/k, its start R''c.

    Parameters
    ----------
    thickness_mm
        Thicknesses under test, two different ones at least.
    impedances_m2k_w
        The impedance of each, in m²·K/W.

    Raises
    ------
    BadSetting
        Too few samples, figures that cannot be, or a line that does not rise.

    Examples
    --------
    >>> fit = conductivity([0.5, 1.0, 2.0], [0.5e-3 / 3 + 4e-5, 1e-3 / 3 + 4e-5, 2e-3 / 3 + 4e-5])
    >>> round(fit.conductivity_w_mk, 6), round(fit.contact_m2k_w, 9)
    (3.0, 4e-05)

    References
    ----------
    [astm-d5470, calculation]; the line and its intervals by least squares and Student's t [jcgm-100, H.3].
    """
    count = len(thickness_mm)
    if count != len(impedances_m2k_w) or len(set(thickness_mm)) < 2:
        found = f"{count} with {len(set(thickness_mm))} thicknesses and {len(impedances_m2k_w)} impedances"
        raise BadSetting(
            f"samples: found {found}; right: two different thicknesses or more, each with its own"
        )
    if min(thickness_mm) <= 0 or max(thickness_mm) > 10 or min(impedances_m2k_w) <= 0:
        raise BadSetting("samples: found a figure out of range; right: 0 to 10 mm, impedances above zero")
    metres = [one / 1000 for one in thickness_mm]
    mean_t, mean_z = sum(metres) / count, sum(impedances_m2k_w) / count
    spread = sum((one - mean_t) ** 2 for one in metres)
    slope = sum((t - mean_t) * (z - mean_z) for t, z in zip(metres, impedances_m2k_w, strict=True)) / spread
    if slope <= 0:
        raise BadSetting(
            "samples: found no impedance that rises with thickness; right: thicker insulates more"
        )
    start = mean_z - slope * mean_t
    rest = sum((z - start - slope * t) ** 2 for t, z in zip(metres, impedances_m2k_w, strict=True))
    around = None if count < 3 else student_95(count - 2) * math.sqrt(rest / (count - 2))
    of_slope = None if around is None else around / math.sqrt(spread)
    of_start = None if around is None else around * math.sqrt(1 / count + mean_t**2 / spread)
    return PadFit(
        samples=count,
        conductivity_w_mk=1 / slope,
        conductivity_low_w_mk=None if of_slope is None else 1 / (slope + of_slope),
        conductivity_high_w_mk=None if of_slope is None or of_slope >= slope else 1 / (slope - of_slope),
        contact_m2k_w=start,
        contact_low_m2k_w=None if of_start is None else start - of_start,
        contact_high_m2k_w=None if of_start is None else start + of_start,
        doubts=tuple(doubts(count, start, slope, of_slope)),
    )


def doubts(count: int, start: float, slope: float, of_slope: float | None) -> Sequence[str]:
    """What a reader should know of a fit before believing it."""
    found = []
    if count < 3:
        found.append("two samples give a line and no uncertainty: test a third thickness")
    if start < 0:
        found.append("the contact resistance comes out below zero: thickness under test or power is off")
    if of_slope is not None and of_slope > 0.2 * slope:
        found.append("the slope is uncertain by more than a fifth: thicknesses further apart would help")
    return found


def student_95(freedom: int) -> float:
    """Student's t for an interval of 95 %.

    >>> round(student_95(1), 3), round(student_95(10), 3)
    (12.706, 2.228)

    References
    ----------
    [jcgm-100, table G.2].
    """
    from scipy.special import stdtrit

    return float(stdtrit(freedom, 0.975))


def samples_from_csv(text: str, file: str = "") -> tuple[tuple[float, ...], tuple[float, ...]]:
    r"""Thicknesses in mm and impedances in m²·K/W from CSV with the unit in the head of each column.

    Raises `BadSetting` with file and line for what cannot be read.

    >>> samples_from_csv("thickness_mil,impedance_in2k_w\n20,0.30\n40,0.55\n")[0]
    (0.508, 1.016)
    """
    thickness, found = [], []
    for where, row in csv_rows(text, file or "samples"):
        t, z = (figure_of(row, name, where) for name in ("thickness", "impedance"))
        if t is None or z is None:
            right = "thickness_mm and impedance_cm2k_w, or other units in the heads"
            raise BadSetting(f"{where}: found {', '.join(row)}; right: {right}")
        thickness.append(t)
        found.append(z)
    return tuple(thickness), tuple(found)
