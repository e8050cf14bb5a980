"""A log as figures in seconds, volts and amperes, charging positive; gaps, repeats and restarts told."""

from __future__ import annotations

import re
import statistics
from collections.abc import Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType

import msgspec

from midframe.battery.log_mapping import ColumnRole, ColumnUse, LogMapping, figure_in, position
from midframe.battery.log_table import EMPTY, LogTable
from midframe.battery.log_time import FACTORS, clock_seconds, date_seconds
from midframe.faults import LogFault
from midframe.record import Finding

UNIT_FACTORS: Mapping[str, float] = MappingProxyType(
    {"v": 1.0, "a": 1.0, "w": 1.0, "ah": 1.0, "wh": 1.0, "°c": 1.0}
    | dict.fromkeys(("mv", "ma", "mw", "mah", "mwh"), 1e-3)
)

GAP_SECONDS, GAP_TIMES = 30.0, 20.0
"""A gap is longer than both: so many seconds, and so many times the usual interval; own construction."""

MOST_FAULTS = 20


class Log(msgspec.Struct, frozen=True, kw_only=True):
    """A log in order of time. `current_a` is positive while the battery is charged.

    `pieces` are the places where a new stretch begins (a restart of the meter); nothing is counted across
    them. `counters` hold the meter's own counts by role, in Ah or Wh, resets taken out. `repeated` rows
    stood at the time of the row before; `gaps` are (seconds since the start, length in seconds).
    """

    file: str
    seconds: tuple[float, ...]
    voltage_v: tuple[float, ...]
    current_a: tuple[float, ...]
    temperature_c: tuple[float, ...]
    counters: dict[str, tuple[float, ...]]
    pieces: tuple[int, ...]
    gaps: tuple[tuple[float, float], ...]
    repeated: int
    interval_seconds: float
    findings: tuple[Finding, ...]


def plain_log(seconds: Sequence[float], volts: Sequence[float], amperes: Sequence[float]) -> Log:
    """A log from figures that are at hand, charging positive.

    >>> plain_log([0, 1], [3.7, 3.7], [-0.5, -0.5]).interval_seconds
    1
    """
    pieces = (0,)
    usual = usual_interval(seconds, pieces)
    return Log(
        file="figures",
        seconds=tuple(seconds),
        voltage_v=tuple(volts),
        current_a=tuple(amperes),
        temperature_c=(),
        counters={},
        pieces=pieces,
        gaps=gaps(seconds, pieces, usual),
        repeated=0,
        interval_seconds=usual,
        findings=(),
    )


def series(table: LogTable, mapping: LogMapping) -> Log:
    r"""Read the figures of a table by a mapping.

    Cells that hold nothing are left out with a note; a cell that holds something else than a figure is a
    fault with its line and column. Times that repeat because the clock is coarse are spread evenly.

    Raises
    ------
    LogFault
        With up to 20 faults, each with file, line, column and what would be right.

    Examples
    --------
    >>> from midframe.battery.log_mapping import propose
    >>> from midframe.battery.log_table import read_table
    >>> table = read_table(b"Time (s);U (V);I (mA)\n0;3,70;-500\n1;3,69;-500\n")
    >>> log = series(table, propose(table))
    >>> log.voltage_v, log.current_a
    ((3.7, 3.69), (-0.5, -0.5))
    """
    uses = {use.role: (position(table, use.column), use) for use in mapping.columns}
    rows, notes = figures(table, mapping, uses)
    if len(rows) < 2:
        found = f"{len(rows)} rows with time, voltage and current"
        raise LogFault([Finding("fault", table.file, "", "", found, "two rows at least")])
    lines = [int(row["line"]) for row in rows]
    seconds, pieces, time_notes = run_on([row["time"] for row in rows], lines, table.file)
    spread, repeated = spread_evenly(seconds, pieces)
    usual = usual_interval(spread, pieces)
    sign = -1.0 if mapping.sign in ("discharge_positive", "all_discharge") else 1.0
    currents = [row["current"] for row in rows]
    if mapping.sign in ("all_charge", "all_discharge"):
        currents = [abs(one) for one in currents]
    counters: dict[str, tuple[float, ...]] = {}
    for role in ("charge", "discharge", "energy", "energy_out"):
        if role in uses:
            counters[role] = without_resets([row[role] for row in rows])
    return Log(
        file=table.file,
        seconds=tuple(spread),
        voltage_v=tuple(row["voltage"] for row in rows),
        current_a=tuple(sign * one for one in currents),
        temperature_c=tuple(row["temperature"] for row in rows) if "temperature" in uses else (),
        counters=counters,
        pieces=tuple(pieces),
        gaps=gaps(spread, pieces, usual),
        repeated=repeated,
        interval_seconds=usual,
        findings=(*table.findings, *notes, *time_notes),
    )


def figures(
    table: LogTable, mapping: LogMapping, uses: dict[ColumnRole, tuple[int, ColumnUse]]
) -> tuple[list[dict[str, float]], list[Finding]]:
    """The figures of every row that has time, voltage and current."""
    rows: list[dict[str, float]] = []
    faults: list[Finding] = []
    empty = 0
    for row in table.rows:
        read: dict[str, float] = {}
        for role, (at, use) in uses.items():
            cell = row.cells[at]
            value = None if cell.lower() in EMPTY else value_of(cell, use, table, mapping)
            if value is not None:
                read[role] = value
            elif cell.lower() not in EMPTY:
                faults.append(cell_fault(table, row.line, at, use, cell))
        if {"time", "voltage", "current"} <= read.keys():
            kept: dict[str, float] = {role: read.get(role, rows[-1][role] if rows else 0.0) for role in uses}
            rows.append(kept | {"line": row.line})
        else:
            empty += 1
        if len(faults) >= MOST_FAULTS:
            break
    if faults:
        raise LogFault(faults)
    note = Finding(
        "note", table.file, "", "", f"{empty} rows without time, voltage or current, left out", "whole rows"
    )
    return rows, [note] if empty else []


def value_of(cell: str, use: ColumnUse, table: LogTable, mapping: LogMapping) -> float | None:
    """The figure of one cell in s, V, A, Ah, Wh or °C; none where it holds no figure."""
    if use.role != "time":
        value = figure_in(cell, table.decimal)
        return None if value is None else value * UNIT_FACTORS[use.unit.lower()]
    if use.unit == "h:mm:ss":
        return clock_seconds(cell)
    if use.unit == "date":
        return date_seconds(cell, mapping.day_first)
    value = figure_in(cell, table.decimal)
    factor = next(factor for name, _, factor in FACTORS if name == use.unit.lower())
    return None if value is None else value * factor


def cell_fault(table: LogTable, line: int, at: int, use: ColumnUse, cell: str) -> Finding:
    """A cell that holds something else than its column."""
    right = f"a figure in {use.unit}" if use.role != "time" else f"a time as {use.unit}"
    if use.role != "time" and re.fullmatch(r"[+-]?\d+[.,]\d+", cell):
        mark = "comma" if table.decimal == "," else "point"
        right += f" with a decimal {mark}, as in the other cells"
    path = f"line {line}, column {at + 1}"
    return Finding("fault", table.file, path, use.column, f'"{cell[:40]}"', right)


def run_on(
    times: Sequence[float], lines: Sequence[int], file: str
) -> tuple[list[float], list[int], list[Finding]]:
    """Times from the first row; a clock that passes midnight goes on, one that starts anew begins a piece."""
    start, added = times[0], 0.0
    seconds, pieces, notes = [0.0], [0], []
    for at, (before, now) in enumerate(pairwise(times), start=1):
        if now < before:
            path = f"line {lines[at]}"
            if before - now > 43_200 and before <= 86_400:
                added += 86_400.0
                notes.append(Finding("note", file, path, "", "the clock passes midnight", "as read"))
            else:
                added += before - now
                pieces.append(at)
                found = f"time goes back by {before - now:g} s: read as a restart of the meter"
                notes.append(Finding("note", file, path, "", found, "one log a file"))
        seconds.append(now - start + added)
    return seconds, pieces, notes[:MOST_FAULTS]


def spread_evenly(seconds: Sequence[float], pieces: Sequence[int]) -> tuple[list[float], int]:
    """Rows of a coarse clock that share a time are spread up to the next; the second value counts them.

    A step of a cycler may stand twice at one time on purpose: pairs alone are left as they are, unless most
    rows come in such groups.

    >>> spread_evenly([0, 0, 1, 1, 2, 2], [0])
    ([0.0, 0.5, 1.0, 1.5, 2.0, 2.0], 3)
    >>> spread_evenly([0, 1, 2, 2, 3, 4], [0])
    ([0.0, 1.0, 2.0, 2.0, 3.0, 4.0], 1)
    """
    out = [float(one) for one in seconds]
    repeated = sum(now == before for before, now in pairwise(out))
    if repeated < 0.3 * (len(out) - 1):
        return out, repeated
    begins = [at for at in range(len(out)) if at == 0 or out[at] != out[at - 1]]
    stops = set(pieces)
    for begin, end in pairwise(begins):
        if end not in stops:
            step = (out[end] - out[begin]) / (end - begin)
            for at in range(begin + 1, end):
                out[at] = out[begin] + step * (at - begin)
    return out, repeated


def usual_interval(seconds: Sequence[float], pieces: Sequence[int]) -> float:
    """The median interval between rows."""
    stops = set(pieces)
    steps = [
        now - before
        for at, (before, now) in enumerate(pairwise(seconds), start=1)
        if now > before and at not in stops
    ]
    return statistics.median(steps) if steps else 0.0


def gaps(seconds: Sequence[float], pieces: Sequence[int], usual: float) -> tuple[tuple[float, float], ...]:
    """Where rows are missing: (seconds since the start, length)."""
    least, stops = max(GAP_SECONDS, GAP_TIMES * usual), set(pieces)
    return tuple(
        (before, now - before)
        for at, (before, now) in enumerate(pairwise(seconds), start=1)
        if now - before > least and at not in stops
    )


def without_resets(counts: Sequence[float]) -> tuple[float, ...]:
    """A counter that goes on where the meter began again at nothing.

    >>> without_resets([0.0, 1.0, 2.0, 0.0, 1.0])
    (0.0, 1.0, 2.0, 2.0, 3.0)
    """
    added, out = 0.0, [counts[0]]
    for before, now in pairwise(counts):
        if now < before - 1e-9 and now <= 0.2 * before:
            added += before
        out.append(now + added)
    return tuple(out)
