"""The recorded thermal layers of a device: each by itself, and all between the same two parts together."""

from __future__ import annotations

import msgspec

from midframe.record import Record
from midframe.thermal.figures import Span
from midframe.thermal.layers import LayerResult, layer_result
from midframe.thermal.resistance import in_series, side_by_side, temperature_drop

USUAL_POWER_W = 2.0
"""Power that is taken where none is said: that of the worked pad [bench-physics-calc, pads]."""

NOTE = (
    "Parts are taken as even in temperature, and nothing leaks sideways. Conductivities of one sample differ"
    " by method (3.3 by flash, 5 W/(m·K) by a transient plane source were measured): compare like with like"
    " only (trade journal, from memory)."
)
"""Stands under every result."""


class PairResult(msgspec.Struct, frozen=True, kw_only=True):
    """All layers between the same two parts: `stacked` ones in series, and beside them the others.

    `area_mm2` is what all of them cover, where it is known. `missing` names layers whose figures lack.
    """

    between: tuple[str, str]
    beside: tuple[str, ...]
    stacked: tuple[str, ...]
    area_mm2: float | None
    resistance_k_w: Span | None
    drop_k: Span | None
    missing: tuple[str, ...]


class Stack(msgspec.Struct, frozen=True, kw_only=True):
    """The thermal layers of one device at a power that flows through each of them, one at a time."""

    device: str
    power_w: float
    power_given: bool
    layers: tuple[LayerResult, ...]
    pairs: tuple[PairResult, ...]
    note: str
    sources: tuple[str, ...]


def thermal_stack(record: Record, power_w: float | None = None) -> Stack:
    """Resistance and drop of every recorded layer, and of all layers between the same two parts.

    Parameters
    ----------
    record
        With its `[[layers]]`.
    power_w
        Power in W; 2 W where none is given, marked as a default.

    Raises
    ------
    BadSetting
        A power, or a figure of a layer, that cannot be.

    Examples
    --------
    >>> from midframe import demo
    >>> found = thermal_stack(demo.load("tern-3"), 3.0)
    >>> [(one.id, round(one.drop_k.usual, 2)) for one in found.layers][:2]
    [('pad-processor', 1.42), ('paste-shield', 0.45)]

    References
    ----------
    [incropera-fhmt, 3.1], [bench-physics-calc, pads].
    """
    power = USUAL_POWER_W if power_w is None else power_w
    temperature_drop(1.0, power)
    layers = tuple(layer_result(layer, power) for layer in record.layers)
    cited = {key for layer in layers for basis in layer.rests_on for key in basis.sources}
    return Stack(
        device=record.device.name,
        power_w=power,
        power_given=power_w is not None,
        layers=layers,
        pairs=pairs_of(layers, power),
        note=NOTE,
        sources=tuple(sorted({"incropera-fhmt", "bench-physics-calc", *cited})),
    )


def pairs_of(layers: tuple[LayerResult, ...], power_w: float) -> tuple[PairResult, ...]:
    """Layers between the same two parts, joined, in the order of the record."""
    found: dict[frozenset[str], list[LayerResult]] = {}
    for layer in layers:
        found.setdefault(frozenset(layer.between), []).append(layer)
    return tuple(pair_of(group, power_w) for group in found.values())


def pair_of(group: list[LayerResult], power_w: float) -> PairResult:
    """One pair of parts: the stacked layers in series, beside the others."""
    stacked = [layer for layer in group if layer.stacked]
    beside = [layer for layer in group if not layer.stacked]
    missing = tuple(layer.id for layer in group if layer.resistance_k_w is None)
    whole = None if missing else joined(stacked, beside)
    areas = [layer.area_mm2 for layer in beside]
    areas += [min((layer.area_mm2 or 0.0) for layer in stacked)] if stacked else []
    known = [area for area in areas if area]
    return PairResult(
        between=group[0].between,
        beside=tuple(layer.id for layer in beside),
        stacked=tuple(layer.id for layer in stacked),
        area_mm2=sum(known) if len(known) == len(areas) else None,
        resistance_k_w=whole,
        drop_k=None if whole is None else whole.times(power_w),
        missing=missing,
    )


def joined(stacked: list[LayerResult], beside: list[LayerResult]) -> Span:
    """Resistance of layers between the same two parts; every one has its figures."""

    def at(end: str) -> float:
        lying = [getattr(layer.resistance_k_w, end) for layer in stacked]
        ways = [getattr(layer.resistance_k_w, end) for layer in beside]
        return side_by_side([*ways, *([in_series(lying)] if lying else [])])

    return Span(at("low"), at("usual"), at("high"))
