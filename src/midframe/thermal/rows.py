"""Lines of CSV with their place, from what people paste: any line ends, commas or semicolons."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping

from midframe.faults import BadSetting


def csv_rows(text: str, file: str) -> Iterator[tuple[str, Mapping[str, object]]]:
    r"""The lines under a line of heads, each with its place; where semicolons separate, commas are decimal.

    Raises
    ------
    BadSetting
        A line with more fields than heads, or what is no CSV.

    Examples
    --------
    >>> [*csv_rows("a;b\r\n1,5;2\r\n", "mine.csv")]
    [('mine.csv, line 2', {'a': '1,5', 'b': '2'})]
    """
    lines = text.lstrip("\ufeff").strip().splitlines()
    separator = ";" if lines and ";" in lines[0] else ","
    reader = csv.DictReader(lines, delimiter=separator, skipinitialspace=True)
    try:
        for row in reader:
            where = f"{file}, line {reader.line_num}"
            if None in row:
                raise BadSetting(f"{where}: found more fields than heads; right: one for each head")
            yield where, {str(key).strip(): value for key, value in row.items()}
    except csv.Error as error:
        raise BadSetting(f"{file}, line {reader.line_num + 1}: found {error}; right: CSV") from None
