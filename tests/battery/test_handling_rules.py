from __future__ import annotations

import pytest

from midframe import demo
from midframe.battery.handling_rules import handling, handling_of
from midframe.battery.label import labels_of
from midframe.faults import BadSetting
from midframe.sources import cited


def topics(found):
    return [one.topic for one in found.advice]


@pytest.mark.parametrize(
    ("energy", "cells", "small"),
    [
        (18.93, 1, True),
        (20.0, 1, True),
        (20.1, 1, False),
        (29.07, 2, True),
        (99.0, 6, True),
        (101.0, 6, False),
    ],
)
def test_the_class_follows_from_the_energy_of_cell_and_battery(energy, cells, small):
    found = handling(energy, cells)
    assert found.small == small
    assert found.advice[0].certainty == "from memory"


@pytest.mark.parametrize(
    ("packing", "number", "percent"),
    [("alone", "UN 3480", 30.0), ("with_equipment", "UN 3481", None), ("in_equipment", "UN 3481", None)],
)
def test_number_and_charge_rule_follow_from_the_packing(packing, number, percent):
    found = handling(18.93, packing=packing)
    assert (found.un_number, found.highest_charge_percent) == (number, percent)


@pytest.mark.parametrize(
    ("energy", "words"), [(18.9, "up to 100 Wh"), (120, "approval"), (170, "not in passenger")]
)
def test_a_passenger_may_take_what_is_small(energy, words):
    (advice,) = [one for one in handling(energy, 4).advice if one.topic == "passenger"]
    assert words in advice.text


@pytest.mark.parametrize("condition", ["damaged", "swollen"])
def test_a_damaged_battery_never_flies_and_is_never_pierced(condition):
    found = handling(18.93, condition=condition)
    text = " ".join(one.text for one in found.advice)
    assert "never by air" in text
    assert "never pierce" in text
    assert "do not charge" in text
    assert found.highest_charge_percent is None
    assert "passenger" not in topics(found)
    assert {"signs", "do", "do not", "store", "send", "ask"} <= set(topics(found))


@pytest.mark.parametrize("condition", ["damaged", "swollen"])
def test_the_eased_rules_for_small_batteries_are_not_for_a_damaged_one(condition):
    """Damaged or defective ones go by special provision 376 [adr-2025, special provision 376]."""
    found = handling(18.93, condition=condition)
    assert found.small is False
    assert f"do not apply to one that is {condition}" in found.advice[0].text


def test_without_energy_no_class_is_told():
    found = handling(None)
    assert found.small is None
    assert "rated Ah times nominal V" in found.advice[0].text


def test_every_rule_has_a_source_or_a_mark_and_defers_to_the_local_authority():
    for condition in ("sound", "damaged"):
        found = handling(18.93, condition=condition)
        assert all(one.sources or one.certainty != "source" for one in found.advice)
        assert "local authority" in found.ask
        assert cited(found.sources)


@pytest.mark.parametrize(("energy", "cells"), [(0, 1), (18930, 1), (18.9, 0)])
def test_figures_that_cannot_be_are_refused(energy, cells):
    with pytest.raises(BadSetting, match="right:"):
        handling(energy, cells)


def test_the_cells_of_the_record_are_counted():
    (label,) = labels_of(demo.load("heron-tab"))
    found = handling_of(label)
    assert (found.cells, found.small) == (2, True)
    assert found.cell_wh == pytest.approx(29.07 / 2)
