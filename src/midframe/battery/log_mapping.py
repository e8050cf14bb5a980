"""Which column of a log is what, in which unit: proposed from headers and figures, confirmed by a person."""

from __future__ import annotations

import re
import statistics
from collections.abc import Mapping, Sequence
from typing import Literal, TypeAlias

import msgspec

from midframe.battery.log_table import EMPTY, UNIT_WORDS, WITH_UNIT, LogTable
from midframe.battery.log_time import CLOCK, FACTORS, day_comes_first
from midframe.faults import LogFault
from midframe.record import Finding

ColumnRole: TypeAlias = Literal[
    "time", "voltage", "current", "power", "charge", "discharge", "energy", "energy_out", "temperature"
]
"""`charge` and `energy` are counters, `discharge` and `energy_out` those that count what flows out."""

Sign: TypeAlias = Literal["charge_positive", "discharge_positive", "all_charge", "all_discharge"]
"""What a positive current is; the last two for logs that hold no sign."""

LARGEST = 1e15
"""No figure of a log is larger, milliseconds since 1970 neither; house choice."""

NEEDED: tuple[ColumnRole, ...] = ("time", "voltage", "current")
"""Without these a log says nothing."""

WORDS: tuple[tuple[ColumnRole, str], ...] = (
    (
        "time",
        r"\btime\b|elapsed|duration|timestamp|date|datum|zeit|laufzeit|uhrzeit|seconds?$|sekunden|时间|^t$",
    ),
    ("temperature", r"temp|温度"),
    ("energy_out", r"disch\w* energ|e dis\w*$|energ\w* out|entlade\w*energie"),
    ("discharge", r"disch|q dis\w*$|entlade|放电"),
    ("energy", r"energ|wh$|能量"),
    ("charge", r"capacity|kapazit|capacit|charge|ladung|ah$|容量"),
    ("power", r"power|leistung|puissance|watts?$|功率|^p$"),
    ("voltage", r"volt|spannung|tension|vbus|ecell|电压|^[uv]$"),
    ("current", r"current|strom|courant|amp|ibus|电流|^i$"),
)
"""Words of a header and what they say, the first that fits wins (common practice, no source)."""

LEFT_OUT = (
    r"\b(?:max|min|avg|mean|average|set|limit|internal|resist\w*|dv|di|step|cycle|index|state|rate)\b|d[vi]/d"
)
"""Words of columns that hold something else: a summary, a set point, a rate."""

BY_UNIT: tuple[tuple[str, ColumnRole], ...] = (
    ("v", "voltage"),
    ("mv", "voltage"),
    ("a", "current"),
    ("ma", "current"),
    ("w", "power"),
    ("mw", "power"),
    ("ah", "charge"),
    ("mah", "charge"),
    ("wh", "energy"),
    ("mwh", "energy"),
    ("°c", "temperature"),
    *((name, "time") for name, _, _ in FACTORS),
)
"""What a column without a known word is by its unit alone."""

USUAL: tuple[tuple[ColumnRole, tuple[tuple[str, float, float], ...]], ...] = (
    ("voltage", (("V", 1.0, 60.0), ("mV", 1000.0, 60_000.0))),
    ("current", (("A", 0.0, 12.0), ("mA", 20.0, 12_000.0))),
    ("power", (("W", 0.0, 250.0), ("mW", 250.0, 250_000.0))),
    ("charge", (("Ah", 0.0, 25.0), ("mAh", 25.0, 50_000.0))),
    ("discharge", (("Ah", 0.0, 25.0), ("mAh", 25.0, 50_000.0))),
    ("energy", (("Wh", 0.0, 200.0), ("mWh", 200.0, 200_000.0))),
    ("energy_out", (("Wh", 0.0, 200.0), ("mWh", 200.0, 200_000.0))),
    ("temperature", (("°C", -40.0, 120.0),)),
)
"""Units of each role with the largest figures usual in them (common practice, no source)."""


class ColumnUse(msgspec.Struct, frozen=True, kw_only=True):
    """One column that is used: its header, what it is, its unit, why, and whether that is certain."""

    role: ColumnRole
    column: str
    unit: str
    why: str = ""
    sure: bool = True


class LogMapping(msgspec.Struct, frozen=True, kw_only=True):
    """How a log is to be read: a proposal until `confirmed`.

    `day_first` says how dates such as 1/2/2026 are meant. What is not sure carries `sure = False` or is
    named by `questions`.
    """

    columns: tuple[ColumnUse, ...]
    sign: Sign
    sign_why: str = ""
    sign_sure: bool = True
    day_first: bool = True
    day_sure: bool = True
    confirmed: bool = False

    def use(self, role: ColumnRole) -> ColumnUse | None:
        """The column of a role, if there is one."""
        return next((one for one in self.columns if one.role == role), None)

    @property
    def questions(self) -> tuple[str, ...]:
        """What a person should look at before the mapping is relied on."""
        asked = [
            f"{one.column} as {one.role} in {one.unit}: {one.why}" for one in self.columns if not one.sure
        ]
        if not self.sign_sure:
            asked.append(f"sign of the current as {self.sign}: {self.sign_why}")
        if not self.day_sure:
            asked.append(
                "dates read with the day first" if self.day_first else "dates read with the month first"
            )
        return tuple(asked)


def propose(table: LogTable) -> LogMapping:
    r"""Propose what each column is.

    A unit that stands in the header, in a second header row or in the cells is taken; else the unit is
    guessed from the size of the figures and marked as not sure, so that a person is asked.

    Raises
    ------
    LogFault
        Where no column of time, voltage or current can be found; says which headers there are.

    Examples
    --------
    >>> from midframe.battery.log_table import read_table
    >>> mapping = propose(read_table(b"t/s,U/V,I/mA\n0,5.0,1200\n1,5.0,1210\n"))
    >>> [(one.role, one.column, one.unit) for one in mapping.columns]
    [('time', 't/s', 's'), ('voltage', 'U/V', 'V'), ('current', 'I/mA', 'mA')]
    """
    found = recognised(table)
    missing = [role for role in NEEDED if found.use(role) is None]
    if missing:
        names = ", ".join(header or "(no name)" for header in table.headers)
        right = "a mapping that names the columns (--map time=HEADER), or headers with these words"
        found_text = f"no column of {' and none of '.join(missing)}; the columns are {names}"
        raise LogFault([Finding("fault", table.file, "header", "", found_text, right)])
    return found


def recognised(table: LogTable) -> LogMapping:
    r"""What can be said of the columns, even where time, voltage or current is not among them.

    >>> from midframe.battery.log_table import read_table
    >>> [one.role for one in recognised(read_table(b"t/s,x,y\n0,5.0,1200\n1,5.0,1210\n")).columns]
    ['time']
    """
    found: dict[ColumnRole, tuple[int, ColumnUse]] = {}
    for at, header in enumerate(table.headers):
        use, weight = column_use(table, at, header)
        if use is not None and (use.role not in found or weight > found[use.role][0]):
            found[use.role] = (weight, use)
    columns = tuple(use for _, use in found.values())
    uses = {use.role: use for use in columns}
    day_first, day_sure = True, True
    if "time" in uses and uses["time"].unit == "date":
        day_first, day_sure = day_comes_first(column_cells(table, uses["time"].column)[:5000])
    sign, why, sure = with_sign(table, uses)
    return LogMapping(
        columns=columns,
        sign=sign,
        sign_why=why,
        sign_sure=sure,
        day_first=day_first,
        day_sure=day_sure,
    )


def with_sign(table: LogTable, uses: Mapping[ColumnRole, ColumnUse]) -> tuple[Sign, str, bool]:
    """The sign of charging, where current and voltage are known."""
    if "current" not in uses or "voltage" not in uses:
        return "charge_positive", "current or voltage is not known yet", False
    return propose_sign(table, uses["current"].column, uses["voltage"].column)


def column_use(table: LogTable, at: int, header: str) -> tuple[ColumnUse | None, int]:
    """What one column is, and how well it fits that role."""
    name, unit = name_and_unit(header)
    unit = (table.units[at] if table.units and table.units[at] else unit) or unit_in_cells(table, at)
    role = next((role for role, word in WORDS if re.search(word, name)), None)
    if role in (None, "charge", "temperature") and (by_unit := dict(BY_UNIT).get(unit.lower())):
        role = by_unit
    if role is None or re.search(LEFT_OUT, name.replace("_", " ")):
        return None, 0
    cells = [cell for row in table.rows[:5000] if (cell := row.cells[at]).lower() not in EMPTY]
    if not cells:
        return None, 0
    if role == "time":
        return time_use(header, name, unit, cells)
    figures = [figure for cell in cells if (figure := figure_in(cell, table.decimal)) is not None]
    if len(figures) < len(cells) / 2:
        return None, 0
    return sized(role, header, unit, figures), 2 if unit else 1


def name_and_unit(header: str) -> tuple[str, str]:
    """The name of a header in small letters, and the unit it carries.

    >>> [name_and_unit(one) for one in ("Voltage (V)", "I/mA", "Test_Time", "Current_A", "U in V", "mAh")]
    [('voltage', 'V'), ('i', 'mA'), ('test time', ''), ('current', 'A'), ('u', 'V'), ('', 'mAh')]
    """
    text = header.strip()
    match = re.fullmatch(r"(.*?)\s*[\[(]\s*([^\])]+?)\s*[\])]", text) or re.fullmatch(
        r"(.*?)(?:\s*[/,]\s*|\s+in\s+|[_\s]+|^)([A-Za-z°µΩ%:]+)", text
    )
    if match is not None and match[2].lower() in UNIT_WORDS:
        return match[1].lower().replace("_", " ").strip(), match[2]
    return re.sub(r"[_\s]+", " ", text).lower(), ""


def unit_in_cells(table: LogTable, at: int) -> str:
    """The unit that stands behind the figures themselves, as in 5.02V."""
    units = {
        match[2]
        for row in table.rows[:50]
        if (match := WITH_UNIT.fullmatch(row.cells[at])) and match[2] and match[2].lower() in UNIT_WORDS
    }
    return str(units.pop()) if len(units) == 1 else ""


def figure_in(cell: str, decimal: str) -> float | None:
    """The number in a cell, without a unit behind it.

    >>> figure_in("5,02 V", ","), figure_in("1.234,5", ","), figure_in("1,5", "."), figure_in("x", ".")
    (5.02, 1234.5, None, None)
    """
    text = cell.strip()
    if decimal == ",":
        if "." in text and "," not in text:
            return None
        text = re.sub(r"\.(?=\d{3}(?:\D|$))", "", text).replace(",", ".")
    match = WITH_UNIT.fullmatch(text)
    if match is None or "," in match[1] or (match[2] and match[2].lower() not in UNIT_WORDS):
        return None
    value = float(match[1])
    return value if abs(value) <= LARGEST else None


def time_use(header: str, name: str, unit: str, cells: Sequence[str]) -> tuple[ColumnUse | None, int]:
    """How a time column is written."""
    weight = 4 if re.search(r"test|elapsed|total|lauf|record", name) else 3
    if all(CLOCK.fullmatch(cell) for cell in cells[:50]):
        two = all(cell.count(":") == 1 for cell in cells[:50])
        why = "two fields with a colon, read as minutes and seconds" if two else "fields with colons"
        return ColumnUse(role="time", column=header, unit="h:mm:ss", why=why, sure=not two), weight
    numbers = [WITH_UNIT.fullmatch(cell) for cell in cells[:50]]
    if not all(numbers):
        return ColumnUse(role="time", column=header, unit="date", why="dates"), weight - 1
    known = next((form for name, form, _ in FACTORS if name == unit.lower()), None)
    if known is not None:
        return ColumnUse(role="time", column=header, unit=known, why="unit in the header"), weight
    first = float(cells[0].replace(",", ".")) if re.fullmatch(r"[\d.,]+", cells[0]) else 0.0
    if first > 1e11:
        return ColumnUse(role="time", column=header, unit="ms", why="milliseconds since 1970"), weight - 1
    if first > 1e8:
        return ColumnUse(role="time", column=header, unit="s", why="seconds since 1970"), weight - 1
    why = "no unit; seconds are usual (common practice, no source)"
    return ColumnUse(role="time", column=header, unit="s", why=why, sure=False), weight


def sized(role: ColumnRole, header: str, unit: str, figures: Sequence[float]) -> ColumnUse:
    """The unit of a column of figures, checked against their size, or guessed from it."""
    largest = (
        statistics.quantiles([abs(one) for one in figures], n=20)[-1] if len(figures) > 1 else figures[0]
    )
    usual = dict(USUAL)[role]
    named = next((one for one in usual if one[0].lower() == unit.lower().replace("degc", "°c")), None)
    if named is not None:
        other = next((one for one in usual if one[0] != named[0]), None)
        odd = largest > named[2] or (role == "voltage" and largest < named[1] / 2)
        if odd and other is not None:
            why = f"the header says {named[0]}, the figures to {largest:.4g} are usual in {other[0]}"
            return ColumnUse(role=role, column=header, unit=named[0], why=why, sure=False)
        return ColumnUse(role=role, column=header, unit=named[0], why="unit in the header")
    guess = next((one for one in usual if largest <= one[2]), usual[-1])
    note = f"unit {unit} is not known; " if unit else "no unit in the header; "
    why = f"{note}figures to {largest:.4g} are usual in {guess[0]} (common practice, no source)"
    return ColumnUse(role=role, column=header, unit=guess[0], why=why, sure=False)


def column_cells(table: LogTable, column: str) -> list[str]:
    """The cells of the column with this header; raises `LogFault` where there is none."""
    at = position(table, column)
    return [row.cells[at] for row in table.rows]


def position(table: LogTable, column: str) -> int:
    """Where a column stands, by its header or, as `column 3`, by its number from 1."""
    if column in table.headers:
        return table.headers.index(column)
    same = [at for at, header in enumerate(table.headers) if header.strip().lower() == column.strip().lower()]
    if same:
        return same[0]
    counted = re.fullmatch(r"column (\d+)", column.strip().lower())
    if counted and 1 <= int(counted[1]) <= len(table.headers):
        return int(counted[1]) - 1
    right = f"one of {', '.join(header or '(no name)' for header in table.headers)}, or column NUMBER"
    found = f'no column "{column}"'
    raise LogFault([Finding("fault", table.file, "header", "", found, right)])


def propose_sign(table: LogTable, current: str, voltage: str) -> tuple[Sign, str, bool]:
    """Which sign charging has: voltage is higher while a cell is charged than while it is discharged."""
    i_at, v_at = position(table, current), position(table, voltage)
    pairs = [
        (i, v)
        for row in table.rows
        if (i := figure_in(row.cells[i_at], table.decimal)) is not None
        and (v := figure_in(row.cells[v_at], table.decimal)) is not None
    ]
    if not pairs:
        return "all_charge", "no figures", False
    largest = max(abs(i) for i, _ in pairs)
    noise = 0.02 * largest
    plus = [v for i, v in pairs if i > noise]
    minus = [v for i, v in pairs if i < -noise]
    if plus and minus:
        higher = statistics.fmean(plus) > statistics.fmean(minus)
        why = f"voltage is {'higher' if higher else 'lower'} where the current is positive"
        return ("charge_positive" if higher else "discharge_positive"), why, True
    first, last = pairs[0][1], pairs[-1][1]
    if minus:
        rises = last > first
        why = f"all currents are negative and voltage {'rises' if rises else 'falls'}"
        return ("discharge_positive" if rises else "charge_positive"), why, abs(last - first) > 0.05 * first
    if largest == 0:
        return "all_charge", "no current flows", False
    if 4.7 <= max(v for _, v in pairs) < 100:
        return "all_charge", "no negative current, at the voltage of a charging port", True
    rises = last > first
    why = f"no negative current and voltage {'rises' if rises else 'falls'}"
    return ("all_charge" if rises else "all_discharge"), why, abs(last - first) > 0.05 * first
