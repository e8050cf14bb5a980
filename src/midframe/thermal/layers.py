"""One recorded layer: its resistance and the drop across it, from low to high, and what that rests on."""

from __future__ import annotations

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import Layer
from midframe.sources import Basis
from midframe.thermal.figures import (
    CONTACTS,
    GAP_RADIATION_W_M2K,
    Span,
    conductivity_of,
    contact_basis,
)
from midframe.thermal.resistance import resistance, temperature_drop, unit_resistance


class LayerResult(msgspec.Struct, frozen=True, kw_only=True):
    """One recorded layer. Figures are none where the record does not say enough; `missing` names what lacks.

    `unit_m2k_w` is R'' with contacts in m²·K/W, `resistance_k_w` R in K/W, `drop_k` the drop in K were all
    of `power_w` to flow through this layer. `stacked` is whether it lies on others between the same parts.
    """

    id: str
    kind: str
    between: tuple[str, str]
    stacked: bool
    thickness_mm: float | None
    area_mm2: float | None
    conductivity_w_mk: Span
    contact_m2k_w: Span
    unit_m2k_w: Span | None
    resistance_k_w: Span | None
    drop_k: Span | None
    power_w: float
    missing: tuple[str, ...]
    rests_on: tuple[Basis, ...]


def layer_result(layer: Layer, power_w: float) -> LayerResult:
    """One layer at one power: R'' = t/k + R''c, R = R''/A, ΔT = P·R.

    The low end has the best contacts and the highest conductivity, the high end the opposite. In a gap,
    the low end has radiation besides.

    Raises
    ------
    BadSetting
        A figure that no layer has, with the layer's id.

    Examples
    --------
    >>> pad = Layer(id="pad", kind="pad", between=("board", "frame"), thickness_mm=1.0,
    ...     conductivity_w_mk=3.0, area_mm2=100.0)
    >>> found = layer_result(pad, 2.0)
    >>> round(found.resistance_k_w.usual, 2), round(found.drop_k.usual, 1)
    (3.73, 7.5)

    References
    ----------
    [incropera-fhmt, 3.1], [bench-physics-calc, pads].
    """
    conductivity, basis = conductivity_of(layer)
    contact, unit, whole, drop = CONTACTS[layer.kind], None, None, None
    try:
        if layer.thickness_mm is not None:
            unit = unit_span(layer.thickness_mm, conductivity, contact, in_gap=layer.kind == "gap")
        if unit is not None and layer.area_mm2 is not None:
            whole = unit.times(resistance(1.0, layer.area_mm2))
            drop = whole.times(temperature_drop(1.0, power_w))
    except BadSetting as fault:
        raise BadSetting(f"layer {layer.id}: {fault}") from None
    said = [] if layer.thickness_mm is None else [Basis("thickness", "record", f"{layer.thickness_mm:g} mm")]
    wanted = (("thickness_mm", layer.thickness_mm), ("area_mm2", layer.area_mm2))
    return LayerResult(
        id=layer.id,
        kind=layer.kind,
        between=layer.between,
        stacked=layer.stacked,
        thickness_mm=layer.thickness_mm,
        area_mm2=layer.area_mm2,
        conductivity_w_mk=conductivity,
        contact_m2k_w=contact,
        unit_m2k_w=unit,
        resistance_k_w=whole,
        drop_k=drop,
        power_w=power_w,
        missing=tuple(name for name, value in wanted if value is None),
        rests_on=(*said, basis, *([] if layer.kind == "gap" else [contact_basis(layer.kind)])),
    )


def unit_span(thickness_mm: float, conductivity: Span, contact: Span, *, in_gap: bool = False) -> Span:
    """R'' of a layer from low to high, m²·K/W."""
    usual = unit_resistance(thickness_mm, conductivity.usual, contact.usual)
    low = thickness_mm / 1000 / conductivity.high + contact.low
    high = thickness_mm / 1000 / conductivity.low + contact.high
    return Span(1 / (1 / low + GAP_RADIATION_W_M2K) if in_gap else low, usual, high)
