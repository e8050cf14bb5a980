"""Cells of a CSV file that a spreadsheet takes as what they are: never as a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from midframe.dossier.figures import Cell, Row

FORMULA_BEGINNINGS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""First characters by which a spreadsheet may run a text as a formula (common practice, no source)."""


def cell(value: Cell) -> str:
    """One value as text: yes and no for truth, shortest exact digits for numbers, nothing for None.

    A text that could run as a formula gets an apostrophe in front, which spreadsheets show as text.

    >>> cell(0.1), cell(True), cell(None), cell("=1+1"), cell(-3)
    ('0.1', 'yes', '', "'=1+1", '-3')
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(FORMULA_BEGINNINGS) else value
    return repr(value)


def columns(rows: Iterable[Row]) -> tuple[str, ...]:
    """Every column that any row has, in order of first sight."""
    return tuple(dict.fromkeys(name for row in rows for name in row))


def csv_text(rows: Sequence[Row]) -> str:
    r"""Rows as CSV [rfc-4180, section 2]: a heading line, CR LF between lines, quotes where needed.

    >>> csv_text([{"name": "Tern 2", "mass_g": 186.0}])
    'name,mass_g\r\nTern 2,186.0\r\n'
    """
    names, held = columns(rows), io.StringIO(newline="")
    writer = csv.writer(held)
    writer.writerow(names)
    writer.writerows([cell(row.get(name)) for name in names] for row in rows)
    return held.getvalue()
