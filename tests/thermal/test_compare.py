from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.thermal import compare_layers, thermal_stack

NOW, BEFORE = demo.load("tern-3"), demo.load("tern-2")


def rows(now=NOW, before=BEFORE, power=3.0):
    return {row.id: row for row in compare_layers(now, before, power).rows}


def test_what_changed_is_told_figure_by_figure():
    row = rows()["paste-shield"]
    assert row.change == "changed"
    assert row.differs == ("conductivity 3 → 4.5 W/(m·K)", "area 150 → 180 mm²")


def test_the_drop_is_at_the_same_power_on_both_sides():
    row = rows(power=3.0)["pad-processor"]
    assert row.now_drop_k == thermal_stack(NOW, 3.0).layers[0].drop_k
    assert row.before_drop_k == thermal_stack(BEFORE, 3.0).layers[0].drop_k
    assert row.colder_k == pytest.approx(row.before_drop_k.usual - row.now_drop_k.usual)


def test_new_layers_and_gone_ones_are_told():
    assert rows()["pad-radio"].change == "new"
    assert rows(BEFORE, NOW)["pad-radio"].change == "gone"
    assert rows()["graphite-shield"].change == "same"


def test_a_layer_with_another_id_is_known_by_kind_and_parts():
    renamed = msgspec.structs.replace(
        BEFORE,
        layers=tuple(
            msgspec.structs.replace(one, id="film") if one.id == "graphite-shield" else one
            for one in BEFORE.layers
        ),
    )
    row = rows(before=renamed)["graphite-shield"]
    assert (row.id_before, row.change) == ("film", "same")


def test_a_figure_that_lacks_is_told_with_its_device():
    bare = msgspec.structs.replace(
        BEFORE, layers=tuple(msgspec.structs.replace(one, area_mm2=None) for one in BEFORE.layers)
    )
    row = rows(before=bare)["pad-processor"]
    assert row.missing == ("Tern 2: no area_mm2",)
    assert row.colder_k is None
    assert "area not known → 260 mm²" in row.differs


def test_a_record_beside_itself_has_changed_nothing():
    assert {row.change for row in rows(NOW, NOW).values()} == {"same"}
