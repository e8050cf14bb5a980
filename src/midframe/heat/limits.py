"""Limits of temperature, each with its margin, its mark and what it rests on; every one can be changed."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal

import msgspec

from midframe.faults import BadSetting
from midframe.heat.section import Section

Mark = Literal["standard", "datasheet class", "common practice", "own"]
NAMES: Mapping[str, str] = MappingProxyType(
    {
        "cell": "the cell",
        "display": "the display panel",
        "over": "the surface over cell or panel",
        "cover": "the heated surface",
        "held": "the side that is held",
    }
)
"""What has a limit, in words."""

LOWEST_OWN_C, HIGHEST_OWN_C = 25.0, 400.0
"""Range of an own limit: from a warm room to the hottest source of the table (house choice)."""

WATCHED = ("cell", "display", "over", "cover", "held")
"""What a run is watched for, in the order in which limits are told."""


class Limit(msgspec.Struct, frozen=True, kw_only=True):
    """One limit: what, how hot at most, the margin kept free below, its mark, what it rests on."""

    key: str
    what: str
    limit_c: float
    margin_k: float
    mark: Mark
    rests_on: str

    @property
    def stop_c(self) -> float:
        """The temperature at which to stop: the limit less its margin."""
        return self.limit_c - self.margin_k


@cache
def limit_table() -> Mapping[str, Limit]:
    """Every limit of the table by its key.

    >>> limit_table()["cell"].stop_c, limit_table()["display"].mark
    (57.0, 'datasheet class')
    """
    text = files("midframe.heat").joinpath("data", "limits.toml").read_text(encoding="utf-8")
    return MappingProxyType(
        {
            key: msgspec.convert({"key": key, **row}, Limit, strict=False)
            for key, row in tomllib.loads(text).items()
        }
    )


def limits_for(found: Section, changed: Mapping[str, float] | None = None) -> tuple[Limit, ...]:
    """The limits that a section is judged by.

    Parameters
    ----------
    found
        The section; the materials of its faces choose the rows for cover and held side.
    changed
        Own limits in °C by what they are for: cell, display, over, cover, held.

    Raises
    ------
    BadSetting
        Where a changed limit is not one of these, or no temperature a bench can have; a cell's own limit
        has the cell's hard stop as its ceiling.
    """
    rows = {
        "cell": "cell",
        "display": "display",
        "over": "over",
        "cover": "cover-polycarbonate" if face_material(found, hot=True) == "polycarbonate" else "cover",
        "held": f"held-{touch_material(found, hot=False)}",
    }
    if not found.has_cell:
        del rows["cell"]
    limits = {key: msgspec.structs.replace(limit_table()[row], key=key) for key, row in rows.items()}
    for key, value in (changed or {}).items():
        if key not in WATCHED:
            raise BadSetting(f"limit: found '{key}'; right: one of {', '.join(WATCHED)}")
        check_own(key, value)
        if key in limits:
            limits[key] = msgspec.structs.replace(
                limits[key],
                limit_c=float(value),
                mark="own",
                rests_on=f"set by the user; usual {limits[key].limit_c:g} °C ({limits[key].mark})",
            )
    return tuple(limits.values())


def check_own(key: str, value: float) -> None:
    """Raises `BadSetting` where an own limit is no temperature of a bench, or too hot for a cell.

    The ceiling of the cell is its hard stop, below the 72 °C at which cells are tested for transport, six
    hours, for no leak and no fire [un-38-3, T.2]: no figure for work on a cell that is meant to be used.
    """
    hard = limit_table()["cell-hard"].limit_c
    if key == "cell" and not LOWEST_OWN_C <= value <= hard:
        raise BadSetting(
            f"limit of cell: found {value:g} °C; right: {LOWEST_OWN_C:g} to {hard:g} °C. {hard:g} °C is the "
            "hard stop for a lithium cell (common practice): at 72 °C cells are only tested for transport, "
            "and that they neither leak nor burn there says nothing of their life. Where that is not enough "
            "heat: another way in"
        )
    if not LOWEST_OWN_C <= value <= HIGHEST_OWN_C:
        found = f"limit of {key}: found {value:g} °C"
        raise BadSetting(f"{found}; right: {LOWEST_OWN_C:g} to {HIGHEST_OWN_C:g} °C")


def face_material(found: Section, *, hot: bool) -> str:
    """The material that most of a face is made of."""
    return face_region(found, hot=hot)[0]


def face_region(found: Section, *, hot: bool) -> tuple[str, bool, float]:
    """Material of most of a face, whether it is a metal, and its usual emissivity."""
    back = (found.side == "back") == hot
    lengths: dict[int, float] = {}
    for column, (start, end) in enumerate(zip(found.across_mm[:-1], found.across_mm[1:], strict=True)):
        solid = [number for number in found.cells[column] if number >= 0]
        if solid:
            number = solid[-1] if back else solid[0]
            lengths[number] = lengths.get(number, 0.0) + end - start
    region = found.regions[max(lengths, key=lambda number: lengths[number])]
    return region.material, region.metal, region.emissivity.usual


def touch_material(found: Section, *, hot: bool) -> str:
    """How a face feels: metal, glass or plastic."""
    material, metal, _ = face_region(found, hot=hot)
    if metal:
        return "metal"
    glassy = ("glass", "sapphire", "zirconia", "display")
    return "glass" if any(word in material for word in glassy) else "plastic"
