"""Thermal layers of a device beside those of its predecessor, at the same power."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

import msgspec

from midframe.record import Record
from midframe.thermal.figures import Span
from midframe.thermal.layers import LayerResult
from midframe.thermal.stack import thermal_stack

Change: TypeAlias = Literal["same", "changed", "new", "gone"]


class LayerRow(msgspec.Struct, frozen=True, kw_only=True):
    """One layer in both devices, by id, else by kind and parts; none on the side that has no such layer.

    `differs` says what changed, `colder_k` how much smaller the drop is now (negative: larger), `missing`
    which device lacks which figure.
    """

    id: str
    id_before: str
    kind: str
    change: Change
    differs: tuple[str, ...]
    now_unit_m2k_w: Span | None
    before_unit_m2k_w: Span | None
    now_resistance_k_w: Span | None
    before_resistance_k_w: Span | None
    now_drop_k: Span | None
    before_drop_k: Span | None
    colder_k: float | None
    missing: tuple[str, ...]


class ThermalComparison(msgspec.Struct, frozen=True, kw_only=True):
    """Layers of two devices at the same power."""

    now: str
    before: str
    power_w: float
    rows: tuple[LayerRow, ...]


def compare_layers(now: Record, before: Record, power_w: float | None = None) -> ThermalComparison:
    """Set the thermal layers of two records side by side at one power.

    Layers are matched by their id; those left over by kind and parts, where one only is left on each side.

    >>> from midframe import demo
    >>> found = compare_layers(demo.load("tern-3"), demo.load("tern-2"), 3.0)
    >>> [(row.id, row.change, round(row.colder_k, 2)) for row in found.rows if row.colder_k is not None][:1]
    [('pad-processor', 'changed', 1.85)]
    """
    new, old = thermal_stack(now, power_w), thermal_stack(before, power_w)
    names = (now.device.name, before.device.name)
    matched = pairs_of(new.layers, old.layers)
    called = {part.id: part.name for part in (*before.parts, *now.parts)}
    return ThermalComparison(
        now=names[0],
        before=names[1],
        power_w=new.power_w,
        rows=tuple(row(ours, theirs, names, called) for ours, theirs in matched),
    )


def pairs_of(
    now: tuple[LayerResult, ...], before: tuple[LayerResult, ...]
) -> list[tuple[LayerResult | None, LayerResult | None]]:
    """Which layer is which, in the order of the newer record, then what is gone."""
    old = {layer.id: layer for layer in before}
    found: list[tuple[LayerResult | None, LayerResult | None]] = []
    left = [layer for layer in before if layer.id not in {one.id for one in now}]
    for layer in now:
        match = old.get(layer.id)
        if match is None:
            alike = [one for one in left if place_of(one) == place_of(layer)]
            match = alike[0] if len(alike) == 1 else None
            left = [one for one in left if one is not match]
        found.append((layer, match))
    return [*found, *((None, layer) for layer in left)]


def place_of(layer: LayerResult) -> tuple[str, frozenset[str]]:
    """What a layer is known by apart from its id."""
    return layer.kind, frozenset(layer.between)


def row(
    now: LayerResult | None,
    before: LayerResult | None,
    names: tuple[str, str],
    called: Mapping[str, str],
) -> LayerRow:
    """One layer in both devices; `called` are the names of parts."""
    known = now if now is not None else before
    if known is None:
        raise ValueError("a row needs a layer on one side")
    differs = differences(now, before, called) if now is not None and before is not None else ()
    drops = [None if one is None else one.drop_k for one in (now, before)]
    return LayerRow(
        id=known.id,
        id_before="" if before is None else before.id,
        kind=known.kind,
        change="gone" if now is None else "new" if before is None else "changed" if differs else "same",
        differs=differs,
        now_unit_m2k_w=None if now is None else now.unit_m2k_w,
        before_unit_m2k_w=None if before is None else before.unit_m2k_w,
        now_resistance_k_w=None if now is None else now.resistance_k_w,
        before_resistance_k_w=None if before is None else before.resistance_k_w,
        now_drop_k=drops[0],
        before_drop_k=drops[1],
        colder_k=None if drops[0] is None or drops[1] is None else drops[1].usual - drops[0].usual,
        missing=tuple(
            f"{name}: no {', '.join(one.missing)}"
            for name, one in zip(names, (now, before), strict=True)
            if one is not None and one.missing
        ),
    )


def differences(now: LayerResult, before: LayerResult, called: Mapping[str, str]) -> tuple[str, ...]:
    """What is different in a layer, in words: before → now.

    >>> from midframe import demo
    >>> found = compare_layers(demo.load("tern-3"), demo.load("tern-2"))
    >>> found.rows[0].differs[1:3]
    ('thickness 0.8 → 0.5 mm', 'conductivity 4 → 6 W/(m·K)')
    """
    said = []
    if place_of(now) != place_of(before):
        old_place, new_place = (place_words(one, called) for one in (before, now))
        said.append(f"{old_place} → {new_place}")
    figures = (
        ("thickness", before.thickness_mm, now.thickness_mm, " mm"),
        ("conductivity", before.conductivity_w_mk.usual, now.conductivity_w_mk.usual, " W/(m·K)"),
        ("area", before.area_mm2, now.area_mm2, " mm²"),
    )
    for name, old, new, unit in figures:
        if old != new:
            said.append(f"{name} {told(old)} → {told(new)}{unit}")
    if now.stacked != before.stacked:
        said.append("now stacked" if now.stacked else "no longer stacked")
    return tuple(said)


def place_words(layer: LayerResult, called: Mapping[str, str]) -> str:
    """Kind and parts of a layer, by the names of the parts."""
    return f"{layer.kind} between {' and '.join(called.get(part, part) for part in layer.between)}"


def told(value: float | None) -> str:
    """A figure, or that there is none.

    >>> told(0.5), told(None)
    ('0.5', 'not known')
    """
    return "not known" if value is None else f"{value:g}"
