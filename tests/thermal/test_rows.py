from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import BadSetting, Fault
from midframe.thermal import conductivity, pads_from, samples_from_csv
from midframe.thermal.rows import csv_rows

TEXTS = st.text(
    alphabet="01.5,;\n\r\"'[]= abthickness_mmconductivity_w_mkpercent_at_\0\x85\ufeff", max_size=80
)
HEADED = TEXTS.map(lambda text: "thickness_mm,conductivity_w_mk,percent_at_10_psi\n" + text)


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_any_line_ends_and_a_mark_at_the_beginning(ends):
    text = "\ufeff" + ends.join(("a,b", "1,2", "3,4", ""))
    assert [row for _, row in csv_rows(text, "x")] == [{"a": "1", "b": "2"}, {"a": "3", "b": "4"}]


def test_a_field_without_end_is_told():
    with pytest.raises(BadSetting, match="x, line 2: found field larger than field limit"):
        list(csv_rows("a\n" + "1" * 200_000, "x"))


@given(TEXTS | HEADED)
def test_whatever_is_pasted_ends_in_pads_or_in_a_fault(text):
    with suppress(Fault):
        assert pads_from(text)


@given(TEXTS | TEXTS.map(lambda text: "thickness_mm,impedance_cm2k_w\n" + text))
def test_whatever_is_pasted_ends_in_a_fit_or_in_a_fault(text):
    with suppress(Fault):
        assert conductivity(*samples_from_csv(text)).conductivity_w_mk > 0
