from __future__ import annotations

import pytest

from battery.logs import excerpt, whole
from midframe.battery.log_table import read_table
from midframe.faults import LogFault

ROWS = "0;5,02;1,20\n1;5,01;1,21\n2;5,01;1,22\n"


def faults_of(data, file="log.csv"):
    with pytest.raises(LogFault) as fault:
        read_table(data, file)
    return fault.value.findings


@pytest.mark.parametrize(
    ("text", "delimiter", "decimal"),
    [
        ("t;U;I\n" + ROWS, ";", ","),
        ("t\tU\tI\n" + ROWS.replace(";", "\t"), "\t", ","),
        ("t,U,I\n" + ROWS.replace(",", ".").replace(";", ","), ",", "."),
        ("t;U;I\n" + ROWS.replace(",", "."), ";", "."),
        ("t|U|I\n" + ROWS.replace(";", "|"), "|", ","),
        ('t,U,I\n0,"5,02","1,20"\n1,"5,01","1,21"\n', ",", ","),
    ],
)
def test_delimiter_and_decimal_mark_are_recognised(text, delimiter, decimal):
    table = read_table(text.encode())
    assert (table.delimiter, table.decimal) == (delimiter, decimal)
    assert table.headers == ("t", "U", "I")
    assert table.rows[0].cells[1] in ("5,02", "5.02")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_byte_order_mark_and_other_encodings_are_read(encoding):
    table = read_table(("Zeit;Spannung;Temperatur °C\n" + ROWS).encode(encoding))
    assert table.headers[0] == "Zeit"
    assert table.headers[2] == "Temperatur °C"
    assert bool(table.findings) == (encoding == "cp1252")


def test_units_in_a_second_header_row_are_kept_apart():
    table = read_table(("Time;Voltage;Current\ns;V;[mA]\n" + ROWS).encode())
    assert table.headers == ("Time", "Voltage", "Current")
    assert table.units == ("s", "V", "mA")
    assert len(table.rows) == 3


def test_lines_before_the_header_and_comments_are_passed_over():
    text = "Meter log\nSerial: 4711\n\n# exported\nTime (s);U (V);I (A)\n" + ROWS
    table = read_table(text.encode())
    assert table.headers == ("Time (s)", "U (V)", "I (A)")
    assert table.rows[0].line == 6


def test_a_delimiter_at_the_end_of_the_lines_is_no_column():
    table = read_table(("t;U;I;\n" + ROWS.replace("\n", ";\n")).encode())
    assert table.headers == ("t", "U", "I")


def test_without_a_header_the_columns_have_numbers():
    table = read_table(ROWS.encode())
    assert table.headers == ("column 1", "column 2", "column 3")
    assert "no header row" in table.findings[0].found


def test_a_header_that_comes_again_is_a_restart_of_the_meter():
    table = read_table(("t;U;I\n" + ROWS + "t;U;I\n" + ROWS).encode())
    assert table.restarts == (5,)
    assert len(table.rows) == 6


def test_a_last_row_cut_short_is_left_out_with_a_note():
    table = read_table(("t;U;I\n" + ROWS + "3;5,").encode())
    assert len(table.rows) == 3
    assert "line 5" in str(table.findings[0])


def test_a_last_line_of_words_is_left_out_with_a_note():
    table = read_table(("t;U;I\n" + ROWS + "end of log;by;meter\n").encode())
    assert len(table.rows) == 3
    assert table.findings[0].level == "note"


def test_rows_of_words_or_of_another_width_are_faults_with_their_lines():
    text = "t;U;I\n" + ROWS + "broken by;a power;cut\n3;5,01;1;9;9\n" + ROWS
    found = faults_of(text.encode())
    assert [fault.path for fault in found] == ["line 5", "line 6"]
    assert all("3 columns" in fault.right for fault in found)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "an empty file"),
        (b" \n\n", "an empty file"),
        (b"# meter 7\n#\n", "nothing but blank lines and comments"),
        (b"\xef\xbb\xbf", "no row of figures|an empty file"),
        (b"PK\x03\x04rest of a sheet", "a spreadsheet"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 old sheet", "a spreadsheet"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "no text"),
        (bytes(range(128, 256)) * 20, "no text|no row of figures"),
        (b"just some words\nand more of them\n", "no row of figures"),
        (b"t,U,I\n", "no row of figures|a header without rows"),
        (b"\xff\xfeA", "UTF-16"),
    ],
)
def test_what_is_no_log_is_refused_with_what_would_be_right(data, words):
    import re

    (finding,) = faults_of(data, "meter.bin")
    assert finding.file == "meter.bin"
    assert re.search(words, finding.found), finding.found
    assert finding.right


def test_the_open_logs_are_split():
    assert len(read_table(excerpt()).rows) == 50
    assert len(read_table(whole("cycler_two_cycles.csv")).rows) == 2142
    assert len(read_table(whole("capacity_over_cycles.csv")).rows) == 267
