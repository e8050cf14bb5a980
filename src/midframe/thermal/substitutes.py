"""A substitute pad in place of a recorded layer: how it sits in the gap, and how much warmer it gets."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting
from midframe.thermal.figures import CONDUCTIVITIES, CONTACTS, DATASHEET_SHARE, Span
from midframe.thermal.fitting import Seat, checked_gap, seated
from midframe.thermal.layers import LayerResult, unit_span
from midframe.thermal.pads import COMMON_MM, Pad, checked
from midframe.thermal.resistance import resistance, unit_resistance
from midframe.thermal.stack import Stack

Verdict: TypeAlias = Literal["within", "in doubt", "warmer", "does not fit"]
"""Within the limit also at the high end; at the usual figure only; beyond it; or it does not sit well."""

REPLACED = ("pad", "putty", "paste", "gap")
"""Kinds of layers that a pad may take the place of; films spread heat in their plane, which pads do not."""

MEASURE = (
    "Measure the gap: where the record gives the pad as it was sold, the true gap is smaller, and thick pads"
    " press harder than told here."
)
"""Stands under the pads where the gap is the thickness in the record."""

ORDER: tuple[Verdict, ...] = ("within", "in doubt", "warmer", "does not fit")


class Substitute(msgspec.Struct, frozen=True, kw_only=True):
    """One pad in place of a layer.

    `seat` says how it sits, `warmer_k` how much warmer than with the original at usual figures, `margin_k`
    what is left of the limit (negative beyond it).
    """

    pad: Pad
    seat: Seat
    resistance_k_w: Span
    drop_k: Span
    warmer_k: float
    margin_k: float
    verdict: Verdict


class Needed(msgspec.Struct, frozen=True, kw_only=True):
    """The least conductivity with which a pad of a thickness stays within the limit; none where none does."""

    thickness_mm: float
    seat: Seat
    conductivity_w_mk: float | None


class Substitutes(msgspec.Struct, frozen=True, kw_only=True):
    """Substitutes for one layer at one power: those within the limit first, by margin.

    `gap_from` is "record" or "given".
    """

    layer: str
    power_w: float
    limit_k: float
    gap_mm: float
    gap_from: Literal["record", "given"]
    original_drop_k: Span
    pads: tuple[Substitute, ...]
    needed: tuple[Needed, ...]


def substitutes(
    stack: Stack,
    layer: str,
    pads: Iterable[Pad],
    *,
    limit_k: float = 1.0,
    gap_mm: float | None = None,
    thicknesses_mm: Sequence[float] = COMMON_MM,
) -> Substitutes:
    """Which pads may take the place of a recorded layer, and which conductivity each thickness needs.

    A pad thicker than the gap is pressed to it; one thinner leaves air in series, which almost stops the
    heat. It is cut to the area of the original.

    Parameters
    ----------
    stack
        The layers of the device at a power.
    layer
        Id of the layer to replace.
    pads
        What is at hand; `common_pads()` for what is sold.
    limit_k
        How much warmer than with the original is allowed, K.
    gap_mm
        The gap as measured, where it is not the thickness in the record.
    thicknesses_mm
        For which thicknesses the least conductivity is told.

    Raises
    ------
    BadSetting
        An unknown layer, or one without thickness or area; a pad, limit or gap that cannot be.

    Examples
    --------
    >>> from midframe import demo
    >>> from midframe.thermal.stack import thermal_stack
    >>> stack = thermal_stack(demo.load("tern-3"), 3.0)
    >>> found = substitutes(stack, "pad-processor", [Pad(thickness_mm=1.0, conductivity_w_mk=6.0)])
    >>> found.pads[0].verdict, found.pads[0].seat.text
    ('does not fit', 'would have to give 50 % (0.5 mm) where 40 % is much: it holds the parts 0.1 mm apart')

    References
    ----------
    [incropera-fhmt, 3.1], [bench-physics-calc, pads].
    """
    original = replaced(stack, layer, gap_mm)
    if not 0 <= limit_k <= 100:
        raise BadSetting(f"limit: found {limit_k:g} K; right: 0 to 100 K warmer than the original")
    tried = [substitute(original, checked(pad), limit_k, stack.power_w) for pad in pads]
    ranked = sorted(tried, key=lambda one: (ORDER.index(one.verdict), -one.margin_k))
    return Substitutes(
        layer=layer,
        power_w=stack.power_w,
        limit_k=limit_k,
        gap_mm=original.gap_mm,
        gap_from="record" if gap_mm is None else "given",
        original_drop_k=original.drop_k,
        pads=tuple(ranked),
        needed=tuple(needed(original, one, limit_k, stack.power_w) for one in thicknesses_mm),
    )


class Original(msgspec.Struct, frozen=True):
    """What a pad takes the place of: gap, area, and the drop across the layer as recorded."""

    gap_mm: float
    area_mm2: float
    drop_k: Span


def replaced(stack: Stack, name: str, gap_mm: float | None) -> Original:
    """The layer of this id with all that is needed; raises `BadSetting` with what would be right."""
    found: LayerResult | None = next((one for one in stack.layers if one.id == name), None)
    if found is None:
        known = ", ".join(one.id for one in stack.layers) or "none: the record has no [[layers]]"
        raise BadSetting(f"layer: found no '{name}' in {stack.device}; right: one of {known}")
    if found.kind not in REPLACED:
        right = "a pad, putty, paste or gap; a film spreads heat in its plane, which no pad does"
        raise BadSetting(f"layer {name}: found {found.kind}; right: {right}")
    if found.drop_k is None or found.area_mm2 is None or found.thickness_mm is None:
        lacking = ", ".join(found.missing)
        raise BadSetting(f"layer {name}: found no {lacking}; right: these keys in the record")
    gap = checked_gap(found.thickness_mm if gap_mm is None else gap_mm)
    return Original(gap, found.area_mm2, found.drop_k)


def substitute(original: Original, pad: Pad, limit_k: float, power_w: float) -> Substitute:
    """One pad in place of a layer."""
    seat = seated(pad, original.gap_mm, original.area_mm2)
    share, usual = DATASHEET_SHARE, pad.conductivity_w_mk
    conductivity = Span(usual * (1 - share), usual, usual * (1 + share))
    unit = unit_span(seat.fitted_mm, conductivity, CONTACTS[pad.kind])
    if seat.air_mm:
        unit = unit.plus(unit_span(seat.air_mm, CONDUCTIVITIES["gap"][0], CONTACTS["gap"], in_gap=True))
    whole = unit.times(resistance(1.0, original.area_mm2))
    drop = whole.times(power_w)
    warmer = drop.usual - original.drop_k.usual
    return Substitute(
        pad=pad,
        seat=seat,
        resistance_k_w=whole,
        drop_k=drop,
        warmer_k=warmer,
        margin_k=limit_k - warmer,
        verdict=verdict_of(seat, warmer, drop.high - original.drop_k.usual, limit_k),
    )


def verdict_of(seat: Seat, warmer: float, warmer_high: float, limit_k: float) -> Verdict:
    """Whether a pad may take the place."""
    if seat.fit in ("no contact", "too thick"):
        return "does not fit"
    if warmer > limit_k + 1e-9:
        return "warmer"
    return "within" if warmer_high <= limit_k + 1e-9 and seat.fit == "fits" else "in doubt"


def needed(original: Original, thickness_mm: float, limit_k: float, power_w: float) -> Needed:
    """The conductivity at which a pad of this thickness is exactly as much warmer as is allowed."""
    seat = seated(Pad(thickness_mm=thickness_mm, conductivity_w_mk=1.0), original.gap_mm, original.area_mm2)
    least = None
    if seat.fit in ("fits", "loose") and power_w > 0:
        allowed = (original.drop_k.usual + limit_k) / power_w * original.area_mm2 * 1e-6
        left = allowed - CONTACTS["pad"].usual
        least = unit_resistance(seat.fitted_mm, 1.0) / left if left > 0 else None
    return Needed(thickness_mm=thickness_mm, seat=seat, conductivity_w_mk=least)
