from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.record import check
from midframe.record.layers import layer_faults, layer_notes

TERN = demo.load("tern-3")


def with_layer(**values):
    return msgspec.structs.replace(TERN, layers=(msgspec.structs.replace(TERN.layers[0], **values),))


@pytest.mark.parametrize(
    ("values", "path", "words"),
    [
        ({"thickness_mm": 500.0}, "layers[0].thickness_mm", "0.5, if 500 was in micrometres"),
        ({"thickness_mm": 20.0}, "layers[0].thickness_mm", "0.02, if 20 was in micrometres"),
        ({"conductivity_w_mk": 0.06}, "layers[0].conductivity_w_mk", "6, if 0.06 was in W/(cm·K)"),
        ({"conductivity_w_mk": 42.0}, "layers[0].conductivity_w_mk", "6.056, if 42 was in Btu·in/(h·ft²·°F)"),
        ({"area_mm2": 2.6}, "layers[0].area_mm2", "260, if 2.6 was in square centimetres"),
        ({"area_mm2": 26_000.0}, "layers[0].area_mm2", "a look at the figure and its unit"),
    ],
)
def test_a_figure_in_another_unit_is_noted_with_what_it_would_be(values, path, words):
    (found,) = layer_notes(with_layer(**values))
    assert (found.level, found.path, found.subject) == ("note", path, "pad-processor")
    assert words in found.right
    assert found in check(with_layer(**values))


def test_a_layer_between_a_part_and_itself_is_a_fault():
    record = with_layer(between=("main-board", "main-board"))
    (found,) = layer_faults(record)
    assert found.level == "fault"
    assert 'a layer between "main-board" and itself' in found.found
    assert found in check(record)


@pytest.mark.parametrize("name", demo.names())
def test_the_demo_devices_have_usual_layers(name):
    record = demo.load(name)
    assert [*layer_faults(record), *layer_notes(record)] == []


def test_a_device_without_a_size_takes_any_area_up_to_a_large_tablet():
    bare = msgspec.structs.replace(
        with_layer(area_mm2=26_000.0), device=msgspec.structs.replace(TERN.device, size_mm=None)
    )
    assert list(layer_notes(bare)) == []
