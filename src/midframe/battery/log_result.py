"""From a log's bytes to a result: its columns to be looked at, then capacity and health by what was said."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

import msgspec

from midframe.battery.converter import meter_health, supply
from midframe.battery.health import METER_PERCENT, Health, cell_health
from midframe.battery.log_mapping import NEEDED, ColumnRole, LogMapping, propose, recognised
from midframe.battery.log_series import Log, series
from midframe.battery.log_table import LogTable, read_table
from midframe.battery.mapping_file import chosen
from midframe.battery.window import PHONE_PERCENT, Window, given_window
from midframe.faults import BadSetting
from midframe.record import Finding

Place: TypeAlias = Literal["cell", "before_converter"]

SHOWN_ROWS = 5
"""Rows of a log that are shown beside what its columns are taken for: house choice."""


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    """What a person says of a log: where the meter sat, what the label says, how full the battery was.

    `rated_mah` in mAh, `nominal_v` in V; `from_percent` and `to_percent` are both given or neither.
    `efficiency` (0 to 1) and `standby_w` (W) are ranges and count before the converter only; `run_number`
    counts stretches of charging and discharging from 1, at the cell only.
    """

    place: Place = "cell"
    rated_mah: float | None = None
    nominal_v: float | None = None
    from_percent: float | None = None
    to_percent: float | None = None
    percent_room: float = PHONE_PERCENT
    efficiency: tuple[float, float] | None = None
    standby_w: tuple[float, float] | None = None
    run_number: int | None = None
    meter_percent: float = METER_PERCENT

    @property
    def window(self) -> Window | None:
        """The percentages at both ends, or none where none is given; raises `BadSetting` for one alone."""
        if self.from_percent is None and self.to_percent is None:
            return None
        if self.from_percent is None or self.to_percent is None:
            lacks = "start" if self.from_percent is None else "end"
            raise BadSetting(
                f"state of charge: found only one end, not the {lacks}; right: the percentages at both ends"
            )
        return given_window(self.from_percent, self.to_percent, self.percent_room)


class Columns(msgspec.Struct, frozen=True, kw_only=True):
    """The columns of a log as they are taken to be, to be looked at by a person.

    `mapping` may lack what it needs: `missing` says what. `remembered` is true where a mapping that a
    person has confirmed before fits this log.
    """

    file: str
    headers: tuple[str, ...]
    first: tuple[tuple[str, ...], ...]
    rows: int
    mapping: LogMapping
    missing: tuple[ColumnRole, ...]
    remembered: bool
    findings: tuple[Finding, ...]

    @property
    def settled(self) -> bool:
        """Whether the log can be read as it is, without a question left."""
        return not self.missing and (self.remembered or not self.mapping.questions)


def columns_of(data: bytes, file: str = "log", mappings: Iterable[LogMapping] = ()) -> Columns:
    r"""Split a log and tell its columns: as a remembered mapping has them, else as they are recognised.

    Raises
    ------
    LogFault
        Where the bytes are no log.

    Examples
    --------
    >>> found = columns_of(b"t/s,U/V,I/mA\n0,3.7,-500\n1,3.6,-500\n")
    >>> found.missing, found.rows, [one.column for one in found.mapping.columns]
    ((), 2, ['t/s', 'U/V', 'I/mA'])
    """
    return columns_in(read_table(data, file), mappings)


def columns_in(table: LogTable, mappings: Iterable[LogMapping] = ()) -> Columns:
    """The same for a log that is split already."""
    known = chosen(tuple(mappings), table)
    mapping = known or recognised(table)
    return Columns(
        file=table.file,
        headers=table.headers,
        first=tuple(row.cells for row in table.rows[:SHOWN_ROWS]),
        rows=len(table.rows),
        mapping=mapping,
        missing=tuple(role for role in NEEDED if mapping.use(role) is None),
        remembered=known is not None,
        findings=tuple(table.findings),
    )


def log_of(data: bytes, file: str = "log", mapping: LogMapping | None = None) -> Log:
    r"""The figures of a log, by a mapping or by its own proposal.

    >>> log_of(b"t/s,U/V,I/mA\n0,3.7,-500\n1,3.6,-500\n").current_a
    (-0.5, -0.5)
    """
    table = read_table(data, file)
    return series(table, mapping or propose(table))


def measure(log: Log, asked: Asked) -> Health:
    """Capacity and state of health from a log, at the cell or before the phone's converter.

    Raises
    ------
    BadSetting
        For settings or voltages that cannot be, with what would be right.

    Examples
    --------
    >>> from midframe.battery.log_series import plain_log
    >>> log = plain_log([0.0, 7200.0, 14400.0], [3.9, 3.8, 3.7], [-1.0, -1.0, -1.0])
    >>> measure(log, Asked(rated_mah=5000, from_percent=90, to_percent=10)).soh_percent.value
    100.0

    References
    ----------
    [eco-2023-1670, Annex I (40)], by `cell_health` and `meter_health`.
    """
    if asked.place == "cell":
        return cell_health(
            log,
            asked.rated_mah,
            asked.window,
            run_number=asked.run_number,
            meter_percent=asked.meter_percent,
        )
    return meter_health(
        log,
        asked.rated_mah,
        asked.nominal_v,
        asked.window,
        supply(asked.efficiency, asked.standby_w),
        meter_percent=asked.meter_percent,
    )
