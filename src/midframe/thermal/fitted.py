"""A pad that was put in, and one that was tested, as the record then has it."""

from __future__ import annotations

from msgspec.structs import replace

from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Layer, Renewal
from midframe.thermal.d5470 import PadFit
from midframe.thermal.fitting import checked_gap
from midframe.thermal.pads import Pad, checked


def with_pad(record: Record, layer: str, pad: Pad, *, gap_mm: float | None = None) -> Record:
    """The record with another pad in a layer: kind, conductivity, and what is renewed at the next refit.

    The thickness stays that of the gap, or becomes the gap as measured; a pad that does not reach leaves its
    own thickness.

    Raises
    ------
    BadSetting
        An unknown layer, or a pad or gap that cannot be.

    Examples
    --------
    >>> from midframe import demo
    >>> made = with_pad(demo.load("tern-3"), "pad-processor", Pad(thickness_mm=0.8, conductivity_w_mk=5.0))
    >>> made.layers[0].thickness_mm, made.layers[0].renew.item
    (0.5, 'Thermal pad 0.8 mm, 5 W/(m·K)')
    """
    checked(pad)
    old = layer_of(record, layer)
    gap = (old.thickness_mm or pad.thickness_mm) if gap_mm is None else checked_gap(gap_mm)
    figures = f"{pad.thickness_mm:g} mm, {pad.conductivity_w_mk:g} W/(m·K)"
    item = f"{pad.name}, {figures}" if pad.name else f"Thermal {pad.kind} {figures}"
    new = replace(
        old,
        kind=pad.kind,
        thickness_mm=min(gap, pad.thickness_mm),
        conductivity_w_mk=pad.conductivity_w_mk,
        renew=Renewal(item=item, amount=old.area_mm2, unit="mm2" if old.area_mm2 else ""),
    )
    return with_layer(record, new)


def with_tested(record: Record, layer: str, fit: PadFit) -> Record:
    """The record with the conductivity that a bar test gave for a layer, and a note that says so.

    Raises
    ------
    BadSetting
        An unknown layer, or a film, whose conductivity a bar test across it does not tell in its plane.

    Examples
    --------
    >>> from midframe import demo
    >>> from midframe.thermal.d5470 import conductivity
    >>> fit = conductivity([0.5, 1.0, 2.0], [2.1e-4, 3.7e-4, 7.1e-4])
    >>> made = with_tested(demo.load("tern-3"), "pad-radio", fit).layers[2]
    >>> made.conductivity_w_mk, made.note
    (2.99, 'Bar test of 3 samples: 2.99 W/(m·K), 2.52 to 3.68 (95 %).')
    """
    old = layer_of(record, layer)
    if old.kind in ("graphite", "copper", "gap"):
        raise BadSetting(f"layer {layer}: found {old.kind}; right: a pad, putty or paste")
    range_ = ""
    if fit.conductivity_low_w_mk is not None:
        high = fit.conductivity_high_w_mk
        end = "no upper end" if high is None else f"{high:.3g}"
        range_ = f", {fit.conductivity_low_w_mk:.3g} to {end} (95 %)"
    told = f"Bar test of {fit.samples} samples: {fit.conductivity_w_mk:.3g} W/(m·K){range_}."
    note = " ".join(one for one in (old.note, told) if one)
    return with_layer(
        record, replace(old, conductivity_w_mk=float(f"{fit.conductivity_w_mk:.3g}"), note=note)
    )


def layer_of(record: Record, name: str) -> Layer:
    """The layer of this id; raises `BadSetting`."""
    found = next((one for one in record.layers if one.id == name), None)
    if found is None:
        raise BadSetting(f"layer: found no '{name[:60]}' in {record.device.name}; right: one of its layers")
    return found


def with_layer(record: Record, layer: Layer) -> Record:
    """The record with one layer in the place of that with the same id."""
    return replace(record, layers=tuple(layer if one.id == layer.id else one for one in record.layers))
