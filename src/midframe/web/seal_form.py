"""The form of a seal test: what was typed, kept as it is, and the setup and readings that it says."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import cast, get_args

import msgspec
from starlette.datastructures import FormData

from midframe.faults import BadSetting
from midframe.record.model import SealTest
from midframe.seal import (
    PRESSURE_UNITS,
    TEMPERATURE_UNITS,
    TIME_UNITS,
    Instrument,
    Reading,
    Row,
    Setup,
    Units,
    readings_from_csv,
    readings_of,
)
from midframe.seal.gas import Gas, known
from midframe.web.forms import files, text

ROWS = 8
"""Empty rows that the form begins with, and how many more are added at a time."""

MOST_ROWS = 400
"""Rows that are typed; longer logs come as CSV."""

LARGEST_CSV = 2 * 2**20
"""Characters of a CSV that is read."""

FIELDS: Mapping[str, tuple[str, float]] = MappingProxyType(
    {
        "volume_ml": ("Free volume in mL", 1.0),
        "ambient_hpa": ("Ambient pressure in hPa", 100.0),
        "volume_percent": ("Uncertainty of the volume in %", 0.01),
        "pressure_pa": ("Uncertainty of a pressure in Pa", 1.0),
        "kelvin": ("Uncertainty of a temperature change in K", 1.0),
    }
)
"""Number fields: what they are, and the factor to the unit of the library (Pa, share)."""


class Typed(msgspec.Struct, frozen=True, kw_only=True):
    """What stands in the form, as text."""

    volume_ml: str = ""
    ambient_hpa: str = "1013.25"
    volume_percent: str = "5"
    pressure_pa: str = "5"
    kelvin: str = "0.05"
    gas: str = "air"
    unit: str = "kPa"
    time_unit: str = "s"
    temperature_unit: str = "°C"
    gauge: bool = True
    note: str = ""
    rows: tuple[tuple[str, str, str], ...] = (("", "", ""),) * ROWS
    csv: str = ""


class Read(msgspec.Struct, frozen=True):
    """What a form says: setup and readings, or what is wrong with it by field and by row."""

    setup: Setup | None = None
    readings: tuple[Reading, ...] = ()
    by_field: dict[str, str] = {}
    by_row: tuple[str, ...] = ()
    cells: frozenset[str] = frozenset()

    @property
    def sound(self) -> bool:
        """Whether a test can be computed."""
        return self.setup is not None and not self.by_field and not self.by_row


def typed_of(form: FormData) -> Typed:
    """What a form brought; the text of a file takes the place of pasted text."""
    columns = [[one if isinstance(one, str) else "" for one in form.getlist(name)] for name in COLUMNS]
    rows = tuple((a.strip()[:40], b.strip()[:40], c.strip()[:40]) for a, b, c in zip(*columns, strict=False))
    given = files(form, "file")
    pasted = text(form, "csv", LARGEST_CSV)
    said = {name: text(form, name, 200) for name in (*FIELDS, *CHOICES)}
    return Typed(
        **said,
        gauge=text(form, "gauge") == "yes",
        note=text(form, "note", 4_000),
        rows=rows[:MOST_ROWS] or (("", "", ""),) * ROWS,
        csv=given[0][1].decode("utf-8-sig", "replace").strip()[:LARGEST_CSV] if given else pasted,
    )


COLUMNS = ("time", "pressure", "temperature")
"""Fields of the form that stand once for each reading."""


def typed_like(test: SealTest) -> Typed:
    """An empty form with the setup of a kept test: the next one is mostly made with the same."""
    return Typed(
        volume_ml=f"{test.volume_ml:.10g}",
        ambient_hpa=f"{test.ambient_pa / 100:.10g}",
        volume_percent=f"{test.volume_uncertainty_percent:.6g}",
        pressure_pa=f"{test.pressure_uncertainty_pa:.6g}",
        kelvin=f"{test.temperature_uncertainty_k:.6g}",
        unit=test.unit if test.unit in PRESSURE_UNITS else "kPa",
        gas=test.gas,
        gauge=test.gauge,
    )


def more_rows(typed: Typed) -> Typed:
    """The form with some more empty rows."""
    rows = (*typed.rows, *((("", "", ""),) * ROWS))[:MOST_ROWS]
    return msgspec.structs.replace(typed, rows=rows)


def read(typed: Typed) -> Read:
    """Setup and readings of what was typed; everything that is wrong is told at once."""
    figures, by_field = {}, dict[str, str]()
    for name, (what, factor) in FIELDS.items():
        value = number(getattr(typed, name))
        if value is None or value < 0 or (value == 0 and name in ("volume_ml", "ambient_hpa")):
            found = f"'{getattr(typed, name)}'" if getattr(typed, name) else "nothing"
            by_field[name] = f"{what}: found {found}; right: a number above nothing"
        else:
            figures[name] = value * factor
    units = Units(
        typed.time_unit,
        typed.unit,
        typed.temperature_unit,
        figures.get("ambient_hpa", 0.0) if typed.gauge else None,
    )
    readings, by_row, cells = rows_of(typed, units)
    if by_field:
        return Read(None, readings, by_field, by_row, cells)
    tool = Instrument(figures["volume_percent"], figures["pressure_pa"], figures["kelvin"])
    setup = Setup(
        volume_ml=figures["volume_ml"],
        gas=gas_of(typed),
        ambient_pa=figures["ambient_hpa"],
        instrument=tool,
        units=units,
    )
    return Read(setup, readings, by_field, by_row, cells)


def gas_of(typed: Typed) -> Gas:
    """The gas that was chosen; raises `BadSetting` for one that is not known."""
    return cast(Gas, known(typed.gas or "air"))


def rows_of(typed: Typed, units: Units) -> tuple[tuple[Reading, ...], tuple[str, ...], frozenset[str]]:
    """The readings of a form, the faults of its rows or lines, and the cells that they stand in."""
    try:
        if typed.csv.strip():
            return readings_from_csv(typed.csv, "CSV", units=units), (), frozenset()
        rows = [Row(f"row {number}", *cells) for number, cells in enumerate(typed.rows, start=1)]
        readings, wrong = readings_of(rows, units)
    except BadSetting as fault:
        return (), tuple(str(fault).splitlines()), frozenset()
    cells = frozenset(f"{one.where.removeprefix('row ')} {one.column}" for one in wrong)
    return readings, tuple(map(str, wrong)), cells


def number(said: str) -> float | None:
    """A number with point or comma, or None.

    >>> number("12,5"), number("1e3x")
    (12.5, None)
    """
    found, wrong = readings_of([Row("", said, "0")], Units())
    return None if wrong or not found else found[0].seconds


CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "gas": get_args(Gas),
        "unit": tuple(PRESSURE_UNITS),
        "time_unit": tuple(TIME_UNITS),
        "temperature_unit": tuple(TEMPERATURE_UNITS),
    }
)
"""Units to choose from."""
