"""The forms of the battery page: figures of a label, what is said of a log, its columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

import msgspec
from starlette.datastructures import FormData, QueryParams

from midframe.battery import Asked, Columns, LogMapping, Typed, typed_figures
from midframe.battery.log_mapping import NEEDED, USUAL, ColumnRole, ColumnUse, Sign
from midframe.battery.log_result import Place
from midframe.battery.mapping_file import TIME_UNITS
from midframe.battery.typed import FIELDS, PLAIN
from midframe.faults import BadSetting
from midframe.web.forms import text

LABEL_KEYS: tuple[str, ...] = (*(one.key for one in FIELDS), *(key for key, _ in PLAIN))
"""The fields of a label besides its mass."""

LOG_KEYS = ("part", "place", "from", "to", "efficiency", "standby", "run", "name")
"""What is said of a log, as it stands in the address of its result."""

SIGNS: Mapping[Sign, str] = {
    "charge_positive": "positive while charging",
    "discharge_positive": "positive while discharging",
    "all_charge": "without sign, all of it charging",
    "all_discharge": "without sign, all of it discharging",
}
"""The sign of the current in words."""

ROLES: Mapping[ColumnRole, str] = {
    "time": "Time",
    "voltage": "Voltage",
    "current": "Current",
    "charge": "Counter of charge",
    "discharge": "Counter of discharge",
    "energy": "Counter of energy",
    "energy_out": "Counter of energy out",
    "temperature": "Temperature",
}
"""The columns that are asked for, in words; power is computed, not read."""


class LabelForm(msgspec.Struct, frozen=True):
    """A label as typed: every field as it stood, what became of them, the mass, all faults by field."""

    fields: Mapping[str, str]
    typed: Typed
    mass_g: float | None
    faults: Mapping[str, str]


def label_form(form: FormData) -> LabelForm:
    """Read the fields of a label."""
    fields = {key: text(form, key, 200) for key in (*LABEL_KEYS, "mass_g")}
    faults: dict[str, str] = {}
    mass = None
    try:
        mass = positive(fields["mass_g"], "mass of the cell in g", 10_000)
    except BadSetting as fault:
        faults["mass_g"] = str(fault)
    typed = typed_figures(fields, mass_g=mass)
    return LabelForm(fields, typed, mass, {**typed.faults, **faults})


def positive(said: str, what: str, most: float) -> float | None:
    """A figure above zero, none where nothing was typed; raises `BadSetting`."""
    if not said:
        return None
    value = figure(said, what)
    if not 0 < value <= most:
        raise BadSetting(f"found {said!r}; right: {what}, above 0 and at most {most:g}")
    return value


def figure(said: str, what: str) -> float:
    """A number with point or comma; raises `BadSetting`."""
    try:
        value = float(said.replace(",", ".").removesuffix("%").strip())
    except ValueError:
        raise BadSetting(f"found {said!r}; right: {what}, a number") from None
    if value != value or abs(value) == float("inf"):
        raise BadSetting(f"found {said!r}; right: {what}, a number")
    return value


def log_fields(given: FormData | QueryParams) -> dict[str, str]:
    """What was said of a log, as typed."""
    found = {key: str(given.get(key, "")).strip()[:200] for key in LOG_KEYS}
    return {**found, "place": found["place"] if found["place"] in get_args(Place) else "cell"}


def log_faults(fields: Mapping[str, str]) -> dict[str, str]:
    """What is wrong with what was said, by field."""
    faults: dict[str, str] = {}
    for key, read in READERS.items():
        try:
            read(fields.get(key, ""))
        except BadSetting as fault:
            faults[key] = str(fault)
    if bool(fields.get("from")) != bool(fields.get("to")):
        lacks = "to" if fields.get("from") else "from"
        faults.setdefault(lacks, "found only one end; right: the percentages at both ends, or at none")
    elif fields.get("from") and fields["from"] == fields["to"]:
        faults.setdefault("to", "found the same as at the start; right: the percentage at the end")
    return faults


def percent(said: str) -> float | None:
    """A state of charge in per cent; raises `BadSetting`."""
    if not said:
        return None
    value = figure(said, "a state of charge from 0 to 100 %")
    if not 0 <= value <= 100:
        raise BadSetting(f"found {said!r}; right: a state of charge from 0 to 100 %")
    return value


def share(said: str) -> tuple[float, float] | None:
    """A range of efficiency in per cent as shares of one; raises `BadSetting`."""
    ends = span(said, "an efficiency in %, such as 85 to 90")
    if ends is None:
        return None
    if not 0 < ends[0] <= ends[1] <= 100:
        raise BadSetting(f"found {said!r}; right: an efficiency in %, such as 85 to 90")
    return ends[0] / 100, ends[1] / 100


def watts(said: str) -> tuple[float, float] | None:
    """A range of standby load in W; raises `BadSetting`."""
    ends = span(said, "a load in W, such as 0.3 to 0.5")
    if ends is not None and not 0 <= ends[0] <= ends[1] <= 50:
        raise BadSetting(f"found {said!r}; right: a load in W, such as 0.3 to 0.5")
    return ends


def span(said: str, what: str) -> tuple[float, float] | None:
    """Both ends of a range; one figure is both."""
    if not said:
        return None
    low, _, high = said.replace("–", "-").replace("to", "-").partition("-")
    return figure(low, what), figure(high or low, what)


def stretch(said: str) -> int | None:
    """The number of a stretch; raises `BadSetting`."""
    if not said:
        return None
    if not (said.isascii() and said.isdigit() and 0 < int(said) < 100_000):
        raise BadSetting(f"found {said!r}; right: a whole number from 1")
    return int(said)


READERS: Mapping[str, Any] = {
    "from": percent,
    "to": percent,
    "efficiency": share,
    "standby": watts,
    "run": stretch,
}
"""How each field of a log is read."""


def asked_of(fields: Mapping[str, str], rated_mah: float | None, nominal_v: float | None) -> Asked:
    """What was said of a log; raises `BadSetting` for what cannot be."""
    place: Place = "before_converter" if fields["place"] == "before_converter" else "cell"
    return Asked(
        place=place,
        rated_mah=rated_mah,
        nominal_v=nominal_v,
        from_percent=percent(fields["from"]),
        to_percent=percent(fields["to"]),
        efficiency=share(fields["efficiency"]),
        standby_w=watts(fields["standby"]),
        run_number=stretch(fields["run"]) if place == "cell" else None,
    )


def columns_form(form: FormData) -> LogMapping:
    """The columns as a person has looked at them; raises `BadSetting` where one that is needed lacks."""
    uses = []
    for role in ROLES:
        column = text(form, f"column-{role}", 200)
        if column:
            uses.append(ColumnUse(role=role, column=column, unit=text(form, f"unit-{role}", 20), why="said"))
    missing = [ROLES[role].lower() for role in NEEDED if role not in {one.role for one in uses}]
    if missing:
        raise BadSetting(f"columns: found none for {', '.join(missing)}; right: a column for each of them")
    doubled = {one.column for one in uses if sum(one.column == other.column for other in uses) > 1}
    if doubled:
        raise BadSetting(f"columns: found {', '.join(sorted(doubled))} twice; right: each column once")
    said = text(form, "sign")
    sign = next((one for one in SIGNS if one == said), None)
    if sign is None:
        raise BadSetting(f"sign: found '{said[:40]}'; right: one of {', '.join(SIGNS)}")
    return LogMapping(columns=tuple(uses), sign=sign, day_first=text(form, "days") != "month", confirmed=True)


def units_of(role: ColumnRole) -> tuple[tuple[str, str], ...]:
    """The units that a column may have, as options."""
    units = TIME_UNITS if role == "time" else tuple(unit for unit, _, _ in dict(USUAL)[role])
    return tuple((unit, {"date": "date and time"}.get(unit, unit)) for unit in units)


def column_rows(columns: Columns) -> list[dict[str, Any]]:
    """One row for each thing a column may be: what it is taken for, its units, whether that is certain."""
    rows = []
    for role, words in ROLES.items():
        use = columns.mapping.use(role)
        rows.append(
            {
                "role": role,
                "words": words,
                "needed": role in NEEDED,
                "column": "" if use is None else use.column,
                "unit": "" if use is None else use.unit,
                "units": units_of(role),
                "why": "" if use is None or use.sure else use.why,
            }
        )
    return rows
