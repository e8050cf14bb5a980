from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.fleet.cells import FORMULA_BEGINNINGS, cell, csv_text

texts = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=20)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\rx", "\nx", '=cmd|" /C calc"!A0'])
def test_a_text_that_a_spreadsheet_might_run_is_shown_as_text(text):
    assert cell(text) == "'" + text


def test_numbers_keep_their_sign_and_every_digit():
    assert [cell(value) for value in (-0.1, -3, 1e-7, 0.1 + 0.2)] == [
        "-0.1",
        "-3",
        "1e-07",
        "0.30000000000000004",
    ]


@given(st.lists(st.fixed_dictionaries({"a": texts, "b": st.none() | st.integers() | texts}), min_size=1))
def test_a_csv_reader_gets_the_cells_back_and_none_begins_a_formula(rows):
    head, *lines = csv.reader(io.StringIO(csv_text(rows), newline=""))
    assert head == list(rows[0])
    assert lines == [[cell(row[name]) for name in head] for row in rows]
    assert not any(
        row["a"] and line[head.index("a")].startswith(FORMULA_BEGINNINGS)
        for row, line in zip(rows, lines, strict=True)
    )


def test_a_column_that_some_rows_lack_is_empty_there():
    assert csv_text([{"a": 1}, {"b": 2}]) == "a,b\r\n1,\r\n,2\r\n"
