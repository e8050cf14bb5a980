"""A pad that was put in, as the record then has it."""

from __future__ import annotations

from msgspec.structs import replace

from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Renewal
from midframe.thermal.pads import Pad, checked


def with_pad(record: Record, layer: str, pad: Pad, *, gap_mm: float | None = None) -> Record:
    """The record with another pad in a layer: kind, conductivity, and what is renewed at the next refit.

    The thickness stays that of the gap, or becomes the gap as measured; a pad that does not reach leaves its
    own thickness.

    Raises
    ------
    BadSetting
        An unknown layer, or a pad that cannot be.

    Examples
    --------
    >>> from midframe import demo
    >>> made = with_pad(demo.load("tern-3"), "pad-processor", Pad(thickness_mm=0.8, conductivity_w_mk=5.0))
    >>> made.layers[0].thickness_mm, made.layers[0].renew.item
    (0.5, 'Thermal pad 0.8 mm, 5 W/(m·K)')
    """
    checked(pad)
    old = next((one for one in record.layers if one.id == layer), None)
    if old is None:
        raise BadSetting(f"layer: found no '{layer[:60]}' in {record.device.name}; right: one of its layers")
    gap = gap_mm or old.thickness_mm or pad.thickness_mm
    figures = f"{pad.thickness_mm:g} mm, {pad.conductivity_w_mk:g} W/(m·K)"
    item = f"{pad.name}, {figures}" if pad.name else f"Thermal {pad.kind} {figures}"
    new = replace(
        old,
        kind=pad.kind,
        thickness_mm=min(gap, pad.thickness_mm),
        conductivity_w_mk=pad.conductivity_w_mk,
        renew=Renewal(item=item, amount=old.area_mm2, unit="mm2" if old.area_mm2 else ""),
    )
    return replace(record, layers=tuple(new if one.id == layer else one for one in record.layers))
