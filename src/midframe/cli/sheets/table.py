"""Tables and paragraphs in a given width; long text is wrapped, never cut."""

from __future__ import annotations

import shutil
import unicodedata
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from midframe.record.findings import one_line

NARROWEST, WIDEST = 60, 100
"""Columns that a sheet keeps to, whatever the terminal says."""

LEAST = 8
"""Columns that a wrapped column keeps at least."""

RULE = "─"


class Column(NamedTuple):
    """One column: its head, whether it holds figures (set to the right), whether its text may wrap."""

    head: str
    figures: bool = False
    wraps: bool = False


def sheet_width() -> int:
    """Columns of the terminal within limits; 80 where the output is no terminal."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((80, 24)).columns))


def cells(text: str) -> int:
    """Columns that a text takes on a terminal.

    >>> cells("glue"), cells("電池"), cells("e\u0301")
    (4, 4, 1)
    """
    return sum(
        0 if unicodedata.combining(sign) else 2 if unicodedata.east_asian_width(sign) in "WF" else 1
        for sign in text
    )


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` columns, broken inside a word only if it is longer.

    >>> wrapped("a plate of steel", 8), wrapped("interconnect", 8)
    (['a plate', 'of steel'], ['intercon', 'nect'])
    """
    lines = [""]
    for word in one_line(text).split(" "):
        joined = f"{lines[-1]} {word}" if lines[-1] else word
        if cells(joined) <= width:
            lines[-1] = joined
            continue
        lines += [word] if lines[-1] else []
        lines[-1] = word
        while cells(lines[-1]) > width:
            head = fitting(lines[-1], width)
            lines[-1:] = [head, lines[-1][len(head) :]]
    return lines


def fitting(word: str, width: int) -> str:
    """The longest beginning of a word that fits, at least one sign of it."""
    end = len(word)
    while end > 1 and cells(word[:end]) > width:
        end -= 1
    return word[:end]


def paragraph(text: str, width: int, indent: str = "", hanging: str | None = None) -> list[str]:
    """A paragraph, its first line indented by `indent`, the others by `hanging`."""
    rest = indent if hanging is None else hanging
    lines = wrapped(text, width - max(cells(indent), cells(rest)))
    return [f"{indent if number == 0 else rest}{line}" for number, line in enumerate(lines)]


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], width: int) -> list[str]:
    """Rows under their heads and a hairline; columns that may wrap share what room is left."""
    body = [[one_line(cell) for cell in row] for row in rows]
    widths = column_widths(columns, body, width)
    lines = [*row_lines([column.head for column in columns], columns, widths)]
    lines.append(RULE * (sum(widths) + 2 * (len(widths) - 1)))
    for row in body:
        lines += row_lines(row, columns, widths)
    return lines


def column_widths(columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int) -> list[int]:
    """The natural width of each column, the widest of those that may wrap made narrower until all fit."""
    widths = [
        max([cells(column.head), *(cells(row[at]) for row in rows)]) for at, column in enumerate(columns)
    ]
    soft = [at for at, column in enumerate(columns) if column.wraps]
    while sum(widths) + 2 * (len(widths) - 1) > width:
        widest = max(soft, key=lambda at: widths[at], default=None)
        if widest is None or widths[widest] <= LEAST:
            break
        widths[widest] -= 1
    return widths


def row_lines(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> list[str]:
    """One row, as many lines as its longest cell takes."""
    parts = [wrapped(cell, room) if cell else [""] for cell, room in zip(row, widths, strict=True)]
    lines = []
    for at in range(max(map(len, parts))):
        line = [
            padded(part[at] if at < len(part) else "", room, column.figures)
            for part, room, column in zip(parts, widths, columns, strict=True)
        ]
        lines.append("  ".join(line).rstrip())
    return lines


def padded(text: str, width: int, right: bool) -> str:
    """The text filled up with blanks to the width."""
    fill = " " * (width - cells(text))
    return fill + text if right else text + fill


def pairs(rows: Iterable[tuple[str, str]], width: int, indent: str = "") -> list[str]:
    """Word and text side by side, the texts aligned and wrapped; rows without a text are left out."""
    kept = [(word, text) for word, text in rows if text]
    room = max((cells(word) for word, _ in kept), default=0)
    lines = []
    for word, text in kept:
        first = f"{indent}{padded(word, room, False)}  "
        lines += paragraph(text, width, first, " " * cells(first))
    return lines
