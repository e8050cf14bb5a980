from __future__ import annotations

import pytest

from midframe.battery.amount import amount
from midframe.faults import BadSetting


@pytest.mark.parametrize(
    ("text", "usual", "value", "half"),
    [
        ("4404 mAh", "", 4404, 0.5),
        ("4404", "mah", 4404, 0.5),
        ("4.404 Ah", "", 4404, 0.5),
        ("4,404 Ah", "", 4404, 0.5),
        ("4,404 mAh", "", 4404, 0.5),
        ("4.404 mAh", "", 4404, 0.5),
        ("4 404 mAh", "", 4404, 0.5),
        ("4’404mAh", "", 4404, 0.5),
        ("4.4Ah", "", 4400, 50),
        ("3.88V", "", 3.88, 0.005),
        ("3,88 V", "", 3.88, 0.005),
        ("3880 mV", "", 3.88, 0.0005),
        ("3.7 Vdc", "", 3.7, 0.05),
        ("17.09Wh", "", 17.09, 0.005),
        ("17 090 mWh", "", 17.09, 0.0005),
        ("17,090 mWh", "", 17.09, 0.0005),
        ("13 W·h", "", 13, 0.5),
        ("19.40 Wh", "", 19.4, 0.005),
        ("1,234.5 mAh", "", 1234.5, 0.05),
        ("1.234,5 mAh", "", 1234.5, 0.05),
    ],
)
def test_a_printed_figure_is_read_in_any_unit_and_spelling(text, usual, value, half):
    read = amount(text, usual)
    assert (read.value, read.half) == (pytest.approx(value), pytest.approx(half))


def test_a_mark_of_thousands_is_said():
    assert "thousands" in amount("5,000 mAh").note
    assert amount("5.25 V").note == ""


@pytest.mark.parametrize("text", ["", "mAh", "4404 mAh each", "about 4404", "4404 mA h x"])
def test_what_is_no_figure_is_refused_with_an_example(text):
    with pytest.raises(BadSetting, match=r"right: a number with its unit"):
        amount(text)
