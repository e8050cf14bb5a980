"""How a pad sits in a gap: whether it touches, how far it is pressed, what that does to the board."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting
from midframe.thermal.pads import Pad

Fit: TypeAlias = Literal["fits", "loose", "no contact", "too thick"]
"""Pressed as it should be; hardly pressed, so contact is not sure; too thin to reach; pressed too far."""

LEAST_SHARE, MOST_SHARE = 0.05, 0.40
"""A pad touches everywhere once it is pressed by the first share of its thickness, and bends boards and
displays beyond the second; common practice, no source."""


def checked_gap(gap_mm: float) -> float:
    """The gap; raises `BadSetting` for one that no pad lies in.

    >>> checked_gap(500.0)
    Traceback (most recent call last):
    midframe.faults.BadSetting: gap: found 500 mm; right: 0.01 to 10 mm (500 µm are 0.5 mm)
    """
    if not 0.01 <= gap_mm <= 10:
        raise BadSetting(f"gap: found {gap_mm:g} mm; right: 0.01 to 10 mm (500 µm are 0.5 mm)")
    return gap_mm


class Seat(msgspec.Struct, frozen=True, kw_only=True):
    """How a pad sits in a gap.

    `fitted_mm` is its thickness in place, `share` how far it is pressed, `over_mm` by how much it is thicker
    than the gap, `air_mm` what stays open where it is too thin, `proud_mm` by how much it holds the parts
    apart where it may not give so far. `pressure_kpa` and `force_n` are on board and cover, from the
    datasheet's deflection, none where that is not known.
    """

    fit: Fit
    fitted_mm: float
    share: float
    over_mm: float
    air_mm: float
    proud_mm: float
    pressure_kpa: float | None
    force_n: float | None
    text: str


def seated(pad: Pad, gap_mm: float, area_mm2: float) -> Seat:
    """A pad in a gap of parts that stand fixed, as screwed covers and shields do.

    Parameters
    ----------
    pad
        As it is sold.
    gap_mm
        Distance of the parts.
    area_mm2
        Area of the pad in place.

    Examples
    --------
    >>> seated(Pad(thickness_mm=0.5, conductivity_w_mk=6.0), 0.8, 200).text
    'does not touch: 0.3 mm of air in a gap of 0.8 mm'
    >>> pad = Pad(thickness_mm=1.0, conductivity_w_mk=6.0, deflection=((69.0, 0.15), (345.0, 0.35)))
    >>> found = seated(pad, 0.8, 200)
    >>> found.fit, round(found.pressure_kpa), round(found.force_n, 1)
    ('fits', 138, 27.6)

    References: common practice for the limits; force = pressure · area, textbook.
    """
    air = max(0.0, gap_mm - pad.thickness_mm)
    over = max(0.0, pad.thickness_mm - gap_mm)
    share = over / pad.thickness_mm
    proud = max(0.0, pad.thickness_mm * (1 - MOST_SHARE) - gap_mm) if pad.kind == "pad" else 0.0
    fit = fit_of(pad, share, air)
    pressure = None if fit == "no contact" or pad.kind == "putty" else pressure_at(pad, share)
    force = None if pressure is None else pressure * area_mm2 / 1000
    return Seat(
        fit=fit,
        fitted_mm=min(pad.thickness_mm, gap_mm),
        share=share,
        over_mm=over,
        air_mm=air,
        proud_mm=proud,
        pressure_kpa=pressure,
        force_n=force,
        text=words(fit, pad, gap_mm, force),
    )


def fit_of(pad: Pad, share: float, air_mm: float) -> Fit:
    """How a pad sits by how far it is pressed and by the air it leaves."""
    if air_mm > 1e-9:
        return "no contact"
    if pad.kind == "putty":
        return "fits"
    if share < LEAST_SHARE - 1e-9:
        return "loose"
    return "too thick" if share > MOST_SHARE + 1e-9 else "fits"


def pressure_at(pad: Pad, share: float) -> float | None:
    """The pressure at which a pad gives so far, kPa, between the points of its datasheet.

    >>> pressure_at(Pad(thickness_mm=1.0, conductivity_w_mk=3.0, deflection=((100.0, 0.2),)), 0.1)
    50.0
    """
    before = (0.0, 0.0)
    for kpa, gives in pad.deflection:
        if share <= gives:
            return before[0] + (kpa - before[0]) * (share - before[1]) / (gives - before[1])
        before = (kpa, gives)
    return None


def words(fit: Fit, pad: Pad, gap_mm: float, force_n: float | None) -> str:
    """How a pad sits, in words."""
    over = pad.thickness_mm - gap_mm
    gives = f"{100 * over / pad.thickness_mm:.0f} %"
    if fit == "no contact":
        return f"does not touch: {-over:.2g} mm of air in a gap of {gap_mm:g} mm"
    if pad.kind == "putty":
        return f"flows; {over:.2g} mm of it are pressed out" if over > 0 else "flows to the gap"
    if fit == "too thick":
        proud = pad.thickness_mm * (1 - MOST_SHARE) - gap_mm
        return (
            f"would have to give {gives} ({over:.2g} mm) where {100 * MOST_SHARE:.0f} % is much: "
            f"it holds the parts {proud:.2g} mm apart"
        )
    if fit == "loose":
        return f"pressed by {gives} only: contact not sure"
    beyond = pad.deflection and over / pad.thickness_mm > pad.deflection[-1][1]
    push = f", {force_n:.1f} N on the board" if force_n is not None else ""
    return f"pressed by {gives} ({over:.2g} mm){push}" + (", beyond its datasheet" if beyond else "")
