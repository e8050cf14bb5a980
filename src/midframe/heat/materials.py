"""Thermal properties of what a device is made of, as ranges, and which row a record's words mean."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Annotated

import msgspec
from msgspec import Meta

from midframe.faults import BadSetting
from midframe.record.model import Part

AIR_CONDUCTIVITY_W_MK = (0.0259, 0.028, 0.0302)
AIR_CAPACITY_J_M3K = (1007.0, 1100.0, 1212.0)
"""Still air between 20 and 80 °C, low, usual, high [bench-physics-calc, still air gap]."""

GAP_RADIATION_W_M2K = 5.0
"""Radiation across a gap between two surfaces of emissivity 0.85 at 50 °C (own construction)."""

CONTACT_M2KW = (0.5e-4, 1.0e-4, 3.0e-4)
"""Contact of two dry parts: aluminium on aluminium 2.75e-4 [kreith-pht, ex. 1.6], epoxied chip
0.9e-4 [incropera-fhmt, ex. 3.2]; the range is our own."""

MODULE = "module"
"""The row for a part whose material is not known."""

OF_ROLE: Mapping[str, str] = MappingProxyType(
    {
        "battery": "cell",
        "display": "light_emitting_display",
        "back_cover": "soda_lime_glass",
        "main_board": "laminate",
        "sub_board": "laminate",
        "protective_foil": "polyurethane",
    }
)
"""The row for a part that names no material, by its role (common practice)."""


class Range(msgspec.Struct, frozen=True):
    """A figure as its usual value between a low and a high end.

    >>> Range(1.0, 2.0, 4.0).times(0.5)
    Range(low=0.5, usual=1.0, high=2.0)
    """

    low: float
    usual: float
    high: float

    def times(self, factor: float) -> Range:
        """The range times a positive factor."""
        return Range(self.low * factor, self.usual * factor, self.high * factor)

    @classmethod
    def of(cls, values: tuple[float, float, float] | list[float]) -> Range:
        """The range of three figures; raises `BadSetting` where they do not ascend."""
        low, usual, high = values
        if not low <= usual <= high:
            raise BadSetting(f"range: found {low}, {usual}, {high}; right: low, usual, high in this order")
        return cls(float(low), float(usual), float(high))

    @classmethod
    def around(cls, usual: float, share: float) -> Range:
        """A figure with the same share below and above it."""
        return cls(usual * (1.0 - share), usual, usual * (1.0 + share))


Triple = Annotated[list[float], Meta(min_length=3, max_length=3)]


class Material(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One row of the table; each figure is low, usual, high."""

    words: tuple[str, ...]
    through: Triple
    plane: Triple
    density: Triple
    capacity: Triple
    emissivity: Triple
    rests_on: str
    metal: bool = False
    key: str = ""

    @property
    def through_w_mk(self) -> Range:
        """Conductivity through the thickness."""
        return Range.of(self.through)

    @property
    def plane_w_mk(self) -> Range:
        """Conductivity in the plane."""
        return Range.of(self.plane)

    @property
    def capacity_j_m3k(self) -> Range:
        """Heat capacity of a cubic metre: density times heat capacity.

        The two are drawn as one; their deviations are taken to add as squares.
        """
        density, heat = Range.of(self.density), Range.of(self.capacity)
        usual = density.usual * heat.usual
        down = ((1 - density.low / density.usual) ** 2 + (1 - heat.low / heat.usual) ** 2) ** 0.5
        up = ((density.high / density.usual - 1) ** 2 + (heat.high / heat.usual - 1) ** 2) ** 0.5
        return Range(usual * max(0.1, 1 - down), usual, usual * (1 + up))


@cache
def materials() -> Mapping[str, Material]:
    """Every row by its key, in the order in which words are tried.

    >>> materials()["polycarbonate"].through_w_mk.usual
    0.2
    """
    text = files("midframe.heat").joinpath("data", "materials.toml").read_text(encoding="utf-8")
    return MappingProxyType(
        {
            key: msgspec.convert({"key": key, **row}, Material, strict=False)
            for key, row in tomllib.loads(text).items()
        }
    )


def named(text: str) -> Material | None:
    """The row that the words of a record mean, if any.

    >>> named("magnesium alloy with plastic rim").key, named("porridge")
    ('magnesium_alloy', None)
    """
    lower = text.casefold()
    for row in materials().values():
        if any(word in lower for word in row.words):
            return row
    return None


def of_part(part: Part) -> tuple[Material, str]:
    """The row of a part and what the choice rests on: "recorded", or why it was assumed.

    >>> from midframe import demo
    >>> parts = {part.id: part for part in demo.load("tern-3").parts}
    >>> of_part(parts["back-cover"])[0].key, of_part(parts["charging-coil"])[1]
    ('soda_lime_glass', 'assumed: no material recorded, taken as a mixed module')
    """
    found = named(part.material)
    if found is not None:
        return found, "recorded"
    what = f"'{part.material}' is not in the table" if part.material else "no material recorded"
    if part.role in OF_ROLE:
        row = materials()[OF_ROLE[part.role]]
        return row, f"assumed: {what}, taken as {row.key.replace('_', ' ')} by its role"
    return materials()[MODULE], f"assumed: {what}, taken as a mixed module"
