"""Sources of heat on the bench: hot air, mat, plate, bag; their settings as ranges; what a user measured."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal

import msgspec

from midframe.faults import BadSetting
from midframe.heat.jet import LEAST_REACH, jet
from midframe.heat.materials import Range

Reach = Literal["face", "rim"]
Kind = Literal["air", "contact"]


class Setting(msgspec.Struct, frozen=True, kw_only=True):
    """One source at one setting, reaching the whole face or the rim only.

    `air_c` is the temperature of the air at the device or of the body that it touches,
    `coefficient_w_m2k` the coefficient of heat transfer, `settling_seconds` the time constant with which
    a bag cools towards the room (absent: it is kept hot). `rests_on` says where the figures come from.
    """

    source: str
    name: str
    kind: Kind
    label: str
    reach: Reach
    air_c: Range
    coefficient_w_m2k: Range
    settling_seconds: Range | None = None
    rests_on: str = ""
    notes: tuple[str, ...] = ()
    measured: bool = False

    @property
    def told(self) -> str:
        """The setting in words.

        >>> settings_of("hairdryer")[0].told
        'Hairdryer, 15 cm away, whole face'
        """
        return f"{self.name}, {self.label}, {'whole face' if self.reach == 'face' else 'rim only'}"


class _Row(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    label: str
    air_c: list[float]
    away_mm: float = 100.0


class _Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    name: str
    kind: Kind
    reach: list[Reach]
    settings: list[_Row]
    rests_on: str
    coefficient_w_m2k: list[float] = []
    settling_seconds: list[float] = []
    nozzle_mm: float = 0.0
    speed_m_s: list[float] = []


@cache
def tables() -> Mapping[str, tuple[Setting, ...]]:
    """Every source by its id, its settings from gentle to harsh, whole face before rim.

    >>> list(tables())
    ['heat-bag', 'hairdryer', 'heated-mat', 'heated-plate', 'heat-gun']
    """
    text = files("midframe.heat").joinpath("data", "heat_sources.toml").read_text(encoding="utf-8")
    rows = {key: msgspec.convert(row, _Table, strict=False) for key, row in tomllib.loads(text).items()}
    return MappingProxyType({key: tuple(_settings(key, row)) for key, row in rows.items()})


def settings_of(source: str) -> tuple[Setting, ...]:
    """The settings of one source; raises `BadSetting` for one that is not in the table."""
    if source not in tables():
        raise BadSetting(f"source: found '{source}'; right: one of {', '.join(tables())}")
    return tables()[source]


def own_setting(name: str, kind: Kind, reach: Reach, air_c: Range, coefficient_w_m2k: Range) -> Setting:
    """A source whose figures the user has measured.

    >>> own_setting("Dryer", "air", "face", Range(80, 85, 90), Range(30, 40, 50)).measured
    True
    """
    if not coefficient_w_m2k.low > 0:
        raise BadSetting(f"coefficient_w_m2k: found {coefficient_w_m2k.low}; right: figures above 0")
    return Setting(
        source="own",
        name=name,
        kind=kind,
        label="as measured",
        reach=reach,
        air_c=air_c,
        coefficient_w_m2k=coefficient_w_m2k,
        rests_on="measured",
        measured=True,
    )


def _settings(key: str, row: _Table) -> list[Setting]:
    found = []
    for reach in row.reach:
        for one in row.settings:
            coefficient, notes = _coefficient(row, one)
            found.append(
                Setting(
                    source=key,
                    name=row.name,
                    kind=row.kind,
                    label=one.label,
                    reach=reach,
                    air_c=Range.of(one.air_c),
                    coefficient_w_m2k=coefficient,
                    settling_seconds=Range.of(row.settling_seconds) if row.settling_seconds else None,
                    rests_on=row.rests_on,
                    notes=notes,
                )
            )
    return found


def _coefficient(row: _Table, one: _Row) -> tuple[Range, tuple[str, ...]]:
    if row.coefficient_w_m2k:
        return Range.of(row.coefficient_w_m2k), ()
    reach_mm = LEAST_REACH * row.nozzle_mm
    film_c = min(150.0, (one.air_c[1] + 50.0) / 2.0)
    jets = [jet(row.nozzle_mm, speed, one.away_mm, reach_mm, film_c) for speed in row.speed_m_s]
    return Range(*(found.coefficient_w_m2k for found in jets)), jets[1].notes
