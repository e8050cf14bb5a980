"""The values of a record: ids, texts, figures with their ranges, the base of every table."""

from __future__ import annotations

from typing import Annotated, TypeAlias

import msgspec
from msgspec import Meta

Id: TypeAlias = Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]*$(?!\n)")]
"""A part's or joint's name in the file: letters, digits, hyphen, dot, underscore."""

Text: TypeAlias = Annotated[str, Meta(min_length=1)]
Positive: TypeAlias = Annotated[float, Meta(gt=0, le=1e9)]
NotNegative: TypeAlias = Annotated[float, Meta(ge=0, le=1e9)]
Share: TypeAlias = Annotated[float, Meta(ge=0, le=1)]
Percent: TypeAlias = Annotated[float, Meta(ge=0, le=100)]
Coordinate: TypeAlias = Annotated[float, Meta(ge=-10_000, le=10_000)]
Celsius: TypeAlias = Annotated[float, Meta(ge=-273.15, le=2_000)]
Count: TypeAlias = Annotated[int, Meta(ge=1, le=1_000_000)]
Measured: TypeAlias = Annotated[float, Meta(ge=-1e12, le=1e12)]
Year: TypeAlias = Annotated[int, Meta(ge=1980, le=2200)]


class Struct(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """Base of every table of a record: frozen, by keyword, unknown keys refused."""


class Spec(Struct, frozen=True, kw_only=True):
    """A figure read off a label: what it is called there, value, unit."""

    label: Text
    value: float | str
    unit: str = ""
