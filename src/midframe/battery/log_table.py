"""A log as a table of text: delimiter, decimal mark, header and units recognised, faults with their line."""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

import msgspec

from midframe.faults import LogFault
from midframe.record import Finding

DELIMITERS = ("\t", ";", ",", "|")
MOST_ROWS = 1_000_000
"""More rows are refused: a log of ten a second for a day is smaller; house choice."""

NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?")
WITH_UNIT = re.compile(rf"({NUMBER.pattern})\s*(°?[A-Za-zµΩ%]+)?")
TIME = re.compile(r"(?:\d+\s*d\w*\s+)?\d+:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?")
DATE = re.compile(r"\d{1,4}[-./]\d{1,2}[-./]\d{1,4}(?:[T ]+\d{1,2}:\d{2}.*)?")
EMPTY = ("", "nan", "null", "none", "-", "--", "n/a", "na", "inf", "-inf")
UNIT_WORDS = tuple(
    word
    for words in (
        "s sec secs second seconds ms min minutes h hr hours d hh:mm:ss h:m:s hms hh:mm:ss.ms yyyy-mm-dd",
        "a ma ua µa v mv uv w mw ah mah wh mwh kwh j c °c degc k f °f ohm mohm ω mω %",
    )
    for word in words.split()
)
"""Units in small letters that a header or a second header row may hold."""


class Row(NamedTuple):
    """One row: number of its line, counted from 1, and its cells."""

    line: int
    cells: tuple[str, ...]


class LogTable(msgspec.Struct, frozen=True, kw_only=True):
    """A log split into cells, nothing in it interpreted yet.

    `units` holds what a second header row says, one entry a column, or is empty. `findings` are notes on
    what was left out. `restarts` are lines where the header stood again.
    """

    file: str
    delimiter: str
    decimal: str
    headers: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[Row, ...]
    restarts: tuple[int, ...]
    findings: tuple[Finding, ...]


def read_table(data: bytes, file: str = "log") -> LogTable:
    r"""Split a log into cells.

    Parameters
    ----------
    data
        The file as it is: UTF-8 with or without a byte-order mark, UTF-16 with one, or Windows-1252.
    file
        Its name in messages.

    Raises
    ------
    LogFault
        Empty, binary, without a row of figures, or with rows of another width: each with its line.

    Examples
    --------
    >>> table = read_table(b"Zeit (s);Spannung (V)\n0;5,02\n1;5,01\n")
    >>> table.delimiter, table.decimal, table.headers
    (';', ',', ('Zeit (s)', 'Spannung (V)'))
    """
    text, notes = decoded(data, file)
    lines = text.splitlines()
    delimiter, parsed = split(lines, file)
    width = Counter(len(row.cells) for row in parsed if figures_share(row.cells) >= 0.5).most_common(1)[0][0]
    first = next(
        at for at, row in enumerate(parsed) if len(row.cells) == width and figures_share(row.cells) >= 0.5
    )
    headers, units = heads(parsed[:first], width)
    body, restarts, more = usable(parsed[first:], headers, width, file)
    if not headers:
        headers = tuple(f"column {number}" for number in range(1, width + 1))
        more.append(
            Finding("note", file, "line 1", "", "no header row", "names of the columns in the first row")
        )
    return LogTable(
        file=file,
        delimiter=delimiter,
        decimal=decimal_mark(body, delimiter),
        headers=headers,
        units=units,
        rows=tuple(body),
        restarts=tuple(restarts),
        findings=(*notes, *more),
    )


def refuse(file: str, path: str, found: str, right: str) -> LogFault:
    """A log that cannot be used, with the place and what would be right."""
    return LogFault([Finding("fault", file, path, "", found, right)])


def decoded(data: bytes, file: str) -> tuple[str, list[Finding]]:
    """The text of the bytes, with a note where its encoding had to be guessed."""
    right = "a log as CSV text: a header row, then rows of time, voltage and current"
    if not data.strip() or data.strip() == b"\xef\xbb\xbf":
        raise refuse(file, "", "an empty file", right)
    if data[:4] == b"PK\x03\x04" or data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise refuse(file, "", "a spreadsheet or an archive", "the sheet saved as CSV")
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        try:
            return data.decode("utf-16"), []
        except UnicodeDecodeError:
            raise refuse(file, "", "UTF-16 that breaks off", right) from None
    if b"\x00" in data[:65_536]:
        offset = data.index(b"\x00")
        raise refuse(file, "", f"a byte of zero at offset {offset}: no text", right)
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        pass
    text = data.decode("cp1252", "replace")
    odd = sum(not sign.isprintable() and sign not in "\r\n\t" for sign in text[:10_000])
    if odd > 20:
        raise refuse(file, "", "bytes that are no text", right)
    return text, [Finding("note", file, "", "", "text that is no UTF-8, read as Windows-1252", "UTF-8")]


def split(lines: Sequence[str], file: str) -> tuple[str, list[Row]]:
    """The delimiter under which most cells are figures or times, and the rows it gives."""
    numbered = [
        (number, line) for number, line in enumerate(lines, 1) if line.strip() and not line.startswith("#")
    ]
    right = "rows of figures with a comma, semicolon or tab between the columns"
    if not numbered:
        raise refuse(file, "", "nothing but blank lines and comments", right)
    if len(numbered) > MOST_ROWS:
        raise refuse(file, "", f"{len(numbered)} rows", f"at most {MOST_ROWS}: every tenth row is enough")
    sample = numbered[:400]
    scores = {}
    for delimiter in DELIMITERS:
        rows = [cells_of(line, delimiter) for _, line in sample]
        scores[delimiter] = sum(len(row) * figures_share(row) for row in rows if len(row) > 1)
    best = max(DELIMITERS, key=lambda one: scores[one])
    if not scores[best]:
        raise refuse(file, f"line {numbered[0][0]}", "no row of figures in two columns or more", right)
    parsed = [Row(number, cells_of(line, best)) for number, line in numbered]
    if not any(figures_share(row.cells) >= 0.5 and len(row.cells) > 1 for row in parsed):
        raise refuse(
            file, f"line {numbered[0][0]}", "a header without rows of figures", "rows under the header"
        )
    return best, parsed


def cells_of(line: str, delimiter: str) -> tuple[str, ...]:
    """The cells of one line; a delimiter at its end makes no further cell."""
    try:
        (cells,) = csv.reader([line], delimiter=delimiter, skipinitialspace=True, strict=False)
    except (csv.Error, ValueError):
        cells = line.split(delimiter)
    while len(cells) > 1 and not cells[-1].strip():
        cells.pop()
    return tuple(cell.strip() for cell in cells)


def is_figure(cell: str) -> bool:
    """Whether a cell holds a number, perhaps with a unit, or a time or date.

    >>> [is_figure(one) for one in ("5,02", "5.02V", "0:00:01", "2026-11-25 04:35:00", "Volt", "0;5")]
    [True, True, True, True, False, False]
    """
    return bool(WITH_UNIT.fullmatch(cell) or TIME.fullmatch(cell) or DATE.fullmatch(cell))


def figures_share(cells: Sequence[str]) -> float:
    """Share of the filled cells that are figures."""
    filled = [cell for cell in cells if cell.lower() not in EMPTY]
    return sum(map(is_figure, filled)) / len(filled) if filled else 0.0


def heads(before: Sequence[Row], width: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Names of the columns and, where a second row holds them, their units."""
    rows = [row.cells for row in before if abs(len(row.cells) - width) <= 1 and len(row.cells) > 1]
    if not rows:
        return (), ()
    units: tuple[str, ...] = ()
    if len(rows) > 1 and all(is_unit(cell) for cell in rows[-1] if cell) and any(rows[-1]):
        units = filled_up(tuple(cell.strip("[]() ") for cell in rows.pop()), width)
    return filled_up(rows[-1], width), units


def filled_up(cells: tuple[str, ...], width: int) -> tuple[str, ...]:
    """The cells with empty ones added, or those at the end left out."""
    return (*cells, *[""] * (width - len(cells)))[:width]


def is_unit(cell: str) -> bool:
    """Whether a cell of a header row holds only a unit."""
    return cell.strip("[]() ").lower() in UNIT_WORDS


def usable(
    rows: Sequence[Row], headers: tuple[str, ...], width: int, file: str
) -> tuple[list[Row], list[int], list[Finding]]:
    """The rows of full width; a row cut short at the end and a header that comes again are left out."""
    kept: list[Row] = []
    restarts: list[int] = []
    notes: list[Finding] = []
    faults: list[Finding] = []
    for at, row in enumerate(rows):
        path = f"line {row.line}"
        if headers and filled_up(row.cells, width) == headers:
            restarts.append(row.line)
            notes.append(
                Finding("note", file, path, "", "the header again", "one log a file; read as a restart")
            )
        elif len(row.cells) > width or figures_share(row.cells) < 0.5:
            right = f"{width} columns of figures, as in the other rows"
            found = f"{len(row.cells)} columns: {', '.join(row.cells)[:60]}"
            last = at >= len(rows) - 2 and figures_share(row.cells) < 0.5
            (notes if last else faults).append(
                Finding("note" if last else "fault", file, path, "", found, right)
            )
        elif at == len(rows) - 1 and 0 < len(row.cells) < len(rows[at - 1].cells):
            found = f"a row cut short after {len(row.cells)} of {width} columns, left out"
            notes.append(Finding("note", file, path, "", found, "a whole row"))
        else:
            kept.append(Row(row.line, filled_up(row.cells, width)))
    if faults:
        raise LogFault(faults[:20])
    return kept, restarts, notes


def decimal_mark(rows: Sequence[Row], delimiter: str) -> str:
    """Comma or point, by what stands in most cells."""
    if delimiter == ",":
        quoted = sum(bool(re.fullmatch(r"[+-]?\d+,\d+", cell)) for row in rows[:400] for cell in row.cells)
        return "," if quoted else "."
    marks = Counter(
        match[1]
        for row in rows[:400]
        for cell in row.cells
        if (match := re.fullmatch(r"[+-]?\d+([.,])\d+(?:[eE][+-]?\d+)?\s*[A-Za-z°]*", cell))
    )
    return "," if marks[","] > marks["."] else "."
