"""Readings of a decay test as typed or logged: text in the units of the gauge, to pascals and kelvin."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from types import MappingProxyType

import msgspec

from midframe.faults import BadSetting
from midframe.seal.check import Reading
from midframe.seal.leak import PRESSURE_UNITS, unit_factor

TIME_UNITS: Mapping[str, float] = MappingProxyType({"s": 1.0, "min": 60.0, "h": 3600.0})
"""How many seconds one unit is."""

TEMPERATURE_UNITS: Mapping[str, Callable[[float], float]] = MappingProxyType(
    {
        "°C": lambda told: told + 273.15,
        "K": lambda told: told,
        "°F": lambda told: (told - 32) / 1.8 + 273.15,
    }
)
"""How a temperature becomes kelvin (by definition)."""

NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")

COLUMNS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "time": ("time", ""),
        "seconds": ("time", "s"),
        "minutes": ("time", "min"),
        "hours": ("time", "h"),
        "pressure": ("pressure", ""),
        "temperature": ("temperature", ""),
        "celsius": ("temperature", "°C"),
        "kelvin": ("temperature", "K"),
        "fahrenheit": ("temperature", "°F"),
    }
)
"""Head of a column: what it holds and, where the word says it, in which unit."""

MOST_FAULTS = 12
"""Faults told at once; house choice."""


class Units(msgspec.Struct, frozen=True):
    """The units of readings; `gauge_at_pa` is the ambient pressure where they are relative to it."""

    time: str = "s"
    pressure: str = "Pa"
    temperature: str = "°C"
    gauge_at_pa: float | None = None


class Row(msgspec.Struct, frozen=True):
    """One reading as text; `where` says where it stands, such as "line 3"."""

    where: str
    time: str
    pressure: str
    temperature: str = ""


class Wrong(msgspec.Struct, frozen=True):
    """One thing that cannot be read: row, column, what was found, what would be right."""

    where: str
    column: str
    found: str
    right: str

    def __str__(self) -> str:
        """In one line."""
        return f"{self.where}, {self.column}: found {self.found}; right: {self.right}"


def readings_of(rows: Sequence[Row], units: Units) -> tuple[tuple[Reading, ...], tuple[Wrong, ...]]:
    """Readings from rows of text, and everything that is wrong with them; empty rows count for nothing.

    Raises
    ------
    BadSetting
        For a unit that is not known.

    >>> found, wrong = readings_of([Row("row 1", "0", "10,5")], Units("min", "kPa", gauge_at_pa=101_325.0))
    >>> found[0].pressure_pa, wrong
    (111825.0, ())
    """
    seconds = unit_factor(units.time, TIME_UNITS, "time")
    pascals = unit_factor(units.pressure, PRESSURE_UNITS, "pressure")
    kelvin = TEMPERATURE_UNITS.get(units.temperature)
    if kelvin is None:
        right = ", ".join(TEMPERATURE_UNITS)
        raise BadSetting(f"temperature: found the unit '{units.temperature}'; right: one of {right}")
    kept = [row for row in rows if row.time.strip() or row.pressure.strip() or row.temperature.strip()]
    timed = any(row.temperature.strip() for row in kept)
    found, wrong = [], list[Wrong]()
    for row in kept:
        time = figure(row, "time", row.time, units.time, wrong)
        pressure = figure(row, "pressure", row.pressure, units.pressure, wrong)
        told = figure(row, "temperature", row.temperature, units.temperature, wrong) if timed else None
        if time is not None and pressure is not None and (told is not None or not timed):
            absolute = round(pressure * pascals + (units.gauge_at_pa or 0.0), 4)
            at = None if told is None else round(kelvin(told), 4)
            found.append(Reading(round(time * seconds, 4), absolute, at))
            if len(found) > 1 and found[-1].seconds <= found[-2].seconds:
                wrong.append(Wrong(row.where, "time", row.time.strip(), "later than the reading before"))
    return tuple(found), tuple(wrong)


def figure(row: Row, column: str, text: str, unit: str, wrong: list[Wrong]) -> float | None:
    """A number with point or comma; what is none is noted."""
    said = text.strip().replace("−", "-")
    if NUMBER.fullmatch(said) and math.isfinite(value := float(said.replace(",", "."))):
        return value
    if not said:
        missing = " in every row, or in none" if column == "temperature" else ""
        wrong.append(Wrong(row.where, column, "nothing", f"a number in {unit}{missing}"))
    else:
        wrong.append(Wrong(row.where, column, f"'{said[:40]}'", f"a number in {unit}"))
    return None


def readings_from_csv(text: str, file: str = "", *, units: Units | None = None) -> tuple[Reading, ...]:
    r"""Readings from CSV: a head with time, pressure and, if measured, temperature, then a line a reading.

    A column may be called after its unit (seconds, minutes, celsius, kelvin) or have it in brackets, such as
    "pressure (kPa)"; else that of `units` holds. Columns of other names are passed over. Commas, semicolons
    or tabs part the columns; with the latter two, a comma may stand for the point.

    Raises
    ------
    BadSetting
        With file, line and column for everything that cannot be read.

    >>> readings_from_csv("seconds;pressure (kPa)\n0;111,3\n60;111,2\n")[1].pressure_pa
    111200.0
    """
    name, lines = file or "readings", text.lstrip("\ufeff").splitlines()
    parting = next((sign for sign in ";\t" if lines and sign in lines[0]), ",")
    table = csv.reader(lines, delimiter=parting)
    head = next(table, [])
    places, units = columns_of(head, units or Units(), name)
    rows = []
    for cells in table:
        told = {what: cells[at] if at < len(cells) else "" for what, at in places.items()}
        if any(cell.strip() for cell in cells):
            rows.append(Row(f"line {table.line_num}", **told))
    found, wrong = readings_of(rows, units)
    if wrong:
        raise BadSetting(told_of(name, placed(wrong, places)))
    return found


def columns_of(head: Sequence[str], units: Units, name: str) -> tuple[dict[str, int], Units]:
    """Which column holds what, and the units that the heads name."""
    places: dict[str, int] = {}
    for at, cell in enumerate(head):
        word, _, bracket = cell.strip().partition(" (" if " (" in cell else "(")
        what, unit = COLUMNS.get(word.strip().casefold(), ("", ""))
        if not what or what in places:
            continue
        places[what] = at
        unit = bracket.strip(" )") or unit
        if unit:
            units = msgspec.structs.replace(units, **{what: unit})
    missing = [what for what in ("time", "pressure") if what not in places]
    if missing:
        found = ", ".join(cell.strip() for cell in head)
        words = f"no {' and no '.join(missing)} in '{found}'" if found else "an empty line or file"
        right = "columns called seconds (or time), pressure and, if measured, celsius (or temperature)"
        raise BadSetting(f"{name}, line 1: found {words}; right: {right}")
    return places, units


def placed(wrong: Iterable[Wrong], places: Mapping[str, int]) -> list[Wrong]:
    """The faults with the number of their column."""
    return [
        msgspec.structs.replace(one, column=f"column {places[one.column] + 1} ({one.column})")
        for one in wrong
    ]


def told_of(name: str, wrong: Sequence[Wrong]) -> str:
    """The faults of a file, a line each."""
    more = len(wrong) - MOST_FAULTS
    lines = [f"{name}, {one}" for one in wrong[:MOST_FAULTS]]
    return "\n".join([*lines, f"{name}: and {more} more"] if more > 0 else lines)
