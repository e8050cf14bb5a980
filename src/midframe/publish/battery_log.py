"""The answer to a log of a meter: its columns, the result once they are settled, its pictures."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.battery import Asked, Columns, Health, LogMapping, confirmed, measure, read_mapping, series
from midframe.battery.log_result import columns_in
from midframe.battery.log_table import read_table
from midframe.battery.mapping_file import fits
from midframe.faults import Fault
from midframe.publish.battery_charts import health_scale, log_chart


class LogAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """What a log says, as far as it could be read.

    `health`, `chart` and `scale` are there once the columns are settled and the figures make sense; `fault`
    says why they are not, where it is not for want of a look at the columns.
    """

    columns: Columns
    health: Health | None = None
    chart: str = ""
    scale: str = ""
    fault: str = ""


def log_answer(data: bytes, name: str, mappings: Iterable[str], asked: Asked) -> LogAnswer:
    r"""Read a log by the columns that were remembered, or propose them.

    Parameters
    ----------
    data, name
        The bytes of the log and its name.
    mappings
        Remembered columns as TOML, the newest first; texts that cannot be read are passed over.
    asked
        Where the meter sat, what the label says, how full the battery was.

    Raises
    ------
    LogFault
        Where the bytes are no log.

    Examples
    --------
    >>> found = log_answer(b"t/s,U/V,I/mA\n0,4.1,500\n3600,3.6,500\n", "log.csv", [], Asked())
    >>> found.columns.settled, found.health.outcome, round(found.health.charge_ah, 3)
    (True, 'refused', 0.5)

    References: own construction; the figures are those of `measure`.
    """
    table = read_table(data, name)
    known = [one for text in mappings if (one := readable(text)) is not None]
    columns = columns_in(table, [one for one in known if fits(one, table)])
    if not columns.settled:
        return LogAnswer(columns=columns)
    try:
        log = series(table, confirmed(columns.mapping))
    except Fault as fault:
        return LogAnswer(columns=columns, fault=str(fault))
    try:
        health = measure(log, asked)
    except Fault as fault:
        return LogAnswer(columns=columns, fault=str(fault), chart=log_chart(log))
    return LogAnswer(columns=columns, health=health, chart=log_chart(log, health), scale=health_scale(health))


def readable(text: str) -> LogMapping | None:
    """A remembered mapping, or none where it cannot be read."""
    try:
        return read_mapping(text)
    except Fault:
        return None
