"""A confirmed mapping as TOML, to be used again for logs of the same meter, and changes by hand."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any, get_args

import msgspec

from midframe.battery.log_mapping import (
    USUAL,
    ColumnRole,
    ColumnUse,
    LogMapping,
    Sign,
    column_cells,
    position,
    time_use,
    with_sign,
)
from midframe.battery.log_table import LogTable
from midframe.battery.log_time import FACTORS, day_comes_first
from midframe.faults import LogFault
from midframe.record import Finding
from midframe.record.describe import nearest

TIME_UNITS = ("s", "ms", "min", "h", "d", "h:mm:ss", "date")


def mapping_text(mapping: LogMapping) -> str:
    """The mapping as a small TOML file; `read_mapping` gives it back, confirmed.

    >>> from midframe.battery.log_mapping import ColumnUse, LogMapping
    >>> use = ColumnUse(role="current", column="I/mA", unit="mA")
    >>> print(mapping_text(LogMapping(columns=(use,), sign="all_charge")))
    format = 1
    sign = "all_charge"
    day_first = true
    <BLANKLINE>
    [columns]
    current = { column = "I/mA", unit = "mA" }
    <BLANKLINE>
    """
    lines = ["format = 1", f'sign = "{mapping.sign}"', f"day_first = {str(mapping.day_first).lower()}"]
    lines += ["", "[columns]"]
    for one in mapping.columns:
        column, unit = (json.dumps(text, ensure_ascii=False) for text in (one.column, one.unit))
        lines.append(f"{one.role} = {{ column = {column}, unit = {unit} }}")
    return "\n".join([*lines, ""])


def read_mapping(text: str, file: str = "mapping") -> LogMapping:
    """A mapping from its TOML, confirmed; raises `LogFault` with what would be right."""
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise LogFault([Finding("fault", file, "", "", str(error), "a mapping as TOML")]) from None
    columns = data.get("columns")
    roles = get_args(ColumnRole)
    faults = []
    if not isinstance(columns, dict) or not {"time", "voltage", "current"} <= columns.keys():
        found = f"columns for {', '.join(columns) if isinstance(columns, dict) else 'nothing'}"
        faults.append(Finding("fault", file, "columns", "", found, "time, voltage and current at least"))
        columns = {}
    uses = []
    for role, said in columns.items():
        if role not in roles:
            right = f"one of {', '.join(roles)}"
            faults.append(Finding("fault", file, f"columns.{role}", "", "an unknown role", right))
        elif not isinstance(said, dict) or not all(
            isinstance(said.get(key), str) for key in ("column", "unit")
        ):
            right = '{ column = "HEADER", unit = "V" }'
            faults.append(Finding("fault", file, f"columns.{role}", "", str(said), right))
        else:
            uses.append(ColumnUse(role=role, column=said["column"], unit=said["unit"], why="saved mapping"))
    faults += [fault for one in uses for fault in unit_faults(one, file)]
    sign = data.get("sign", "charge_positive")
    if sign not in get_args(Sign):
        right = f"one of {', '.join(get_args(Sign))}"
        faults.append(Finding("fault", file, "sign", "", str(sign), right))
    if faults:
        raise LogFault(faults)
    day_first = bool(data.get("day_first", True))
    return LogMapping(
        columns=tuple(uses), sign=sign, sign_why="saved mapping", day_first=day_first, confirmed=True
    )


def unit_faults(use: ColumnUse, file: str) -> list[Finding]:
    """A unit that does not belong to the role of the column."""
    known = TIME_UNITS if use.role == "time" else tuple(unit for unit, _, _ in dict(USUAL)[use.role])
    if use.role == "time" and use.unit.lower() in {name for name, _, _ in FACTORS}:
        return []
    if use.unit.lower() in {unit.lower() for unit in known}:
        return []
    near = nearest(use.unit, known)
    right = f"one of {', '.join(known)}" + (f"; {near}, if that is meant" if near else "")
    return [Finding("fault", file, f"columns.{use.role}.unit", "", f'the unit "{use.unit}"', right)]


def changed(
    mapping: LogMapping,
    table: LogTable,
    columns: Mapping[ColumnRole, str] | None = None,
    units: Mapping[ColumnRole, str] | None = None,
    sign: Sign | None = None,
) -> LogMapping:
    """The mapping with what a person says otherwise: other columns, other units, another sign.

    Raises
    ------
    LogFault
        Where a header or a unit is unknown.
    """
    uses = {one.role: one for one in mapping.columns}
    for role, column in (columns or {}).items():
        header = table.headers[position(table, column)]
        before = uses.get(role)
        unit = before.unit if before is not None else default_unit(role)
        if role == "time":
            read, _ = time_use(
                header, header.lower(), "", [cell for cell in column_cells(table, header) if cell]
            )
            unit = read.unit if read is not None else "s"
        uses[role] = ColumnUse(role=role, column=header, unit=unit, why="said", sure=True)
    for role, unit in (units or {}).items():
        if role not in uses:
            found = f"a unit for {role}, which no column is"
            raise LogFault([Finding("fault", table.file, "", "", found, f"also the column of {role}")])
        uses[role] = msgspec.structs.replace(uses[role], unit=unit, why="said", sure=True)
    faults = [fault for one in uses.values() for fault in unit_faults(one, table.file)]
    if faults:
        raise LogFault(faults)
    changes: dict[str, Any] = {"columns": tuple(uses.values())}
    if sign is not None:
        changes |= {"sign": sign, "sign_why": "said", "sign_sure": True}
    elif {"current", "voltage"} & set(columns or {}):
        told, why, sure = with_sign(table, uses)
        changes |= {"sign": told, "sign_why": why, "sign_sure": sure}
    return msgspec.structs.replace(mapping, **changes)


def default_unit(role: ColumnRole) -> str:
    """The unit that is taken for a column that a person names without one."""
    return "s" if role == "time" else dict(USUAL)[role][0][0]


def confirmed(mapping: LogMapping) -> LogMapping:
    """The mapping once a person has looked at it."""
    uses = tuple(msgspec.structs.replace(one, sure=True) for one in mapping.columns)
    return msgspec.structs.replace(mapping, columns=uses, sign_sure=True, day_sure=True, confirmed=True)


def fits(mapping: LogMapping, table: LogTable) -> bool:
    """Whether every column of a saved mapping stands in this table."""
    return all(one.column in table.headers for one in mapping.columns)


def chosen(mappings: Sequence[LogMapping], table: LogTable) -> LogMapping | None:
    """The first saved mapping that fits a table."""
    found = next((one for one in mappings if fits(one, table)), None)
    if found is None:
        return None
    time = found.use("time")
    if time is None or time.unit != "date":
        return found
    first, sure = day_comes_first(column_cells(table, time.column)[:5000])
    return msgspec.structs.replace(found, day_first=first) if sure else found
