"""Thermal layers: between two parts, and with figures that such layers have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from midframe.record.findings import Finding, fault, note
from midframe.record.model import Record
from midframe.record.plausible import slip

THICKNESS_MM = (0.005, 5.0)
THICKNESS_SLIPS = (("micrometres", 0.001), ("mil", 0.0254), ("centimetres", 10.0))
AREA_SLIPS = (("square centimetres", 100.0), ("square metres", 1e6))
"""Usual thickness of a layer, and units that are mistaken: common practice, no source."""

CONDUCTIVITY_W_MK: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "pad": (0.5, 25.0),
        "putty": (0.5, 15.0),
        "paste": (0.5, 20.0),
        "graphite": (3.0, 2000.0),
        "copper": (300.0, 420.0),
        "gap": (0.02, 0.04),
    }
)
"""Usual conductivity by kind of layer: common practice, no source."""

CONDUCTIVITY_SLIPS = (("W/(cm·K)", 100.0), ("mW/(m·K)", 0.001), ("Btu·in/(h·ft²·°F)", 0.1442))

LEAST_MM2 = 4.0
"""No layer is smaller: common practice, no source."""


def layer_faults(record: Record) -> Iterator[Finding]:
    """A layer between a part and itself."""
    for number, layer in enumerate(record.layers):
        if layer.between[0] == layer.between[1]:
            found = f'a layer between "{layer.between[0]}" and itself'
            yield fault(f"layers[{number}].between", layer.id, found, "two parts that the layer lies between")


def layer_notes(record: Record) -> Iterator[Finding]:
    """Figures of layers against what is usual, and areas against the device.

    A pad of 500 mm would be usual in micrometres.
    """
    for number, layer in enumerate(record.layers):
        at = f"layers[{number}]"
        thick, k, area = layer.thickness_mm, layer.conductivity_w_mk, layer.area_mm2
        if thick is not None and not THICKNESS_MM[0] <= thick <= THICKNESS_MM[1]:
            right = slip(thick, *THICKNESS_MM, THICKNESS_SLIPS)
            yield note(f"{at}.thickness_mm", layer.id, f"a {layer.kind} of {thick:g} mm", right)
        low, high = CONDUCTIVITY_W_MK[layer.kind]
        if k is not None and not low <= k <= high:
            right = slip(k, low, high, CONDUCTIVITY_SLIPS)
            yield note(f"{at}.conductivity_w_mk", layer.id, f"{k:g} W/(m·K) for a {layer.kind}", right)
        most = plan_mm2(record)
        if area is not None and not LEAST_MM2 <= area <= most:
            yield note(
                f"{at}.area_mm2",
                layer.id,
                f"a {layer.kind} of {area:g} mm² in a device of {most:.0f} mm²",
                slip(area, LEAST_MM2, round(most), AREA_SLIPS),
            )


def plan_mm2(record: Record) -> float:
    """Area of the device on its plan; that of a large tablet where its size is not known."""
    if record.device.size_mm is None:
        return 1e5
    height, width, _ = record.device.size_mm
    return height * width * (2 if record.device.foldable else 1)
