"""From answers to tables: records, parts, joints and faults, as CSV or Parquet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from importlib import import_module
from pathlib import Path
from typing import Any

from midframe.dossier.figures import Row
from midframe.faults import lacking
from midframe.fleet.cells import columns, csv_text
from midframe.fleet.run import Failed, Finished, Outcome

TABLES = ("records", "parts", "joints", "faults")
"""Names of the tables."""


def join(outcomes: Iterable[Outcome]) -> dict[str, list[Row]]:
    """The rows of every table; each row says which file it is from."""
    tables: dict[str, list[Row]] = {name: [] for name in TABLES}
    for one in outcomes:
        match one:
            case Finished(file, found):
                tables["records"].append({"file": file, **found.record})
                tables["parts"] += [{"file": file, **row} for row in found.parts]
                tables["joints"] += [{"file": file, **row} for row in found.joints]
            case Failed(file, faults):
                tables["faults"] += [{"file": file, "fault": line} for line in faults]
    return tables


def write_csv(tables: Mapping[str, list[Row]], folder: Path) -> tuple[Path, ...]:
    """One CSV file a table that has rows; gives their paths."""
    written = []
    for name, rows in tables.items():
        if rows:
            path = folder / f"{name}.csv"
            path.write_text(csv_text(rows), encoding="utf-8-sig", newline="")
            written.append(path)
    return tuple(written)


def write_parquet(tables: Mapping[str, list[Row]], folder: Path) -> tuple[Path, ...]:
    """One Parquet file a table that has rows (extra `tables`); gives their paths."""
    try:
        pyarrow: Any = import_module("pyarrow")
        parquet: Any = import_module("pyarrow.parquet")
    except ImportError:
        raise lacking("Parquet", "pyarrow", "tables") from None
    written = []
    for name, rows in tables.items():
        if rows:
            names = columns(rows)
            table = pyarrow.table({one: [row.get(one) for row in rows] for one in names})
            path = folder / f"{name}.parquet"
            parquet.write_table(table, path)
            written.append(path)
    return tuple(written)
