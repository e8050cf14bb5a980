from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.cli.sheets.table import (
    LEAST,
    Column,
    cells,
    column_widths,
    pairs,
    paragraph,
    sheet_width,
    table,
    wrapped,
)
from midframe.record.findings import one_line

TEXTS = st.text(max_size=60)
WIDTHS = st.integers(8, 100)


def squeezed(text):
    return "".join(one_line(text).split())


@given(TEXTS, WIDTHS)
def test_wrapping_loses_no_sign_and_keeps_the_width(text, width):
    lines = wrapped(text, width)
    assert squeezed("".join(lines)) == squeezed(text)
    assert all(cells(line) <= width for line in lines)


@given(TEXTS, st.integers(30, 100))
def test_a_paragraph_keeps_the_width_with_its_indent(text, width):
    assert all(cells(line) <= width for line in paragraph(text, width, "  ", "      "))


@given(st.lists(st.tuples(TEXTS, st.integers(0, 10**6).map(str)), max_size=6), st.integers(60, 100))
def test_a_table_keeps_the_width_and_loses_nothing(rows, width):
    lines = table([Column("part", wraps=True), Column("figure", figures=True)], rows, width)
    assert all(cells(line) <= width for line in lines)
    everything = squeezed("".join(lines))
    for row in rows:
        for sign in squeezed("".join(row)):
            assert sign in everything


def test_figures_stand_to_the_right_under_their_head():
    lines = table([Column("part"), Column("min", figures=True)], [["lid", "8.1"], ["cell", "10.9"]], 80)
    assert lines == ["part   min", "──────────", "lid    8.1", "cell  10.9"]


def test_a_long_name_goes_on_in_the_next_line():
    lines = table([Column("part", wraps=True), Column("s")], [["a very long name of a part", "9"]], 17)
    assert lines[2:] == ["a very long     9", "name of a part"]


def test_columns_that_may_not_wrap_keep_their_width():
    columns = [Column("a", wraps=True), Column("b")]
    assert column_widths(columns, [["x" * 50, "y" * 20]], 40) == [18, 20]
    assert column_widths(columns, [["x" * 50, "y" * 50]], 40) == [LEAST, 50]


def test_signs_of_two_columns_and_of_none_are_counted():
    assert [cells(text) for text in ("電池", "e\u0301", "")] == [4, 1, 0]


def test_pairs_without_a_text_are_left_out():
    assert pairs([("one", "1"), ("two", ""), ("three", "3")], 80) == ["one    1", "three  3"]


@pytest.mark.parametrize(("columns", "width"), [("20", 60), ("80", 80), ("300", 100)])
def test_a_sheet_is_neither_too_narrow_nor_too_wide(columns, width, monkeypatch):
    monkeypatch.setenv("COLUMNS", columns)
    assert sheet_width() == width
