from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.faults import BadSetting
from midframe.record.model import Layer
from midframe.sources import cited
from midframe.thermal import thermal_stack

TERN = demo.load("tern-3")


def with_layers(*layers):
    return msgspec.structs.replace(TERN, layers=layers)


def pad(name, area=100.0, **values):
    usual = {"thickness_mm": 1.0, "conductivity_w_mk": 3.0, "between": ("main-board", "frame")}
    return Layer(id=name, kind="pad", area_mm2=area, **{**usual, **values})


def test_pads_on_different_chips_lie_beside_one_another():
    one = thermal_stack(with_layers(pad("a")), 1.0).pairs[0]
    two = thermal_stack(with_layers(pad("a"), pad("b", between=("frame", "main-board"))), 1.0).pairs[0]
    assert two.resistance_k_w.usual == pytest.approx(one.resistance_k_w.usual / 2)
    assert two.area_mm2 == 200


def test_stacked_layers_add_up_and_lie_beside_the_others():
    one = thermal_stack(with_layers(pad("a")), 1.0).pairs[0].resistance_k_w.usual
    found = thermal_stack(with_layers(pad("a", stacked=True), pad("b", stacked=True), pad("c")), 1.0).pairs[0]
    assert (found.stacked, found.beside) == (("a", "b"), ("c",))
    assert found.resistance_k_w.usual == pytest.approx(2 * one * one / (3 * one))


def test_a_pair_with_a_layer_that_is_not_known_has_no_sum():
    found = thermal_stack(with_layers(pad("a"), pad("b", thickness_mm=None)), 1.0).pairs[0]
    assert found.resistance_k_w is None
    assert found.missing == ("b",)


def test_the_power_is_two_watts_where_none_is_given_and_that_is_said():
    assert (thermal_stack(TERN).power_w, thermal_stack(TERN).power_given) == (2.0, False)
    assert thermal_stack(TERN, 3.0).power_given


def test_a_power_in_milliwatts_is_told_even_without_layers():
    with pytest.raises(BadSetting, match=r"500 mW are 0\.5 W"):
        thermal_stack(with_layers(), 2500.0)


@pytest.mark.parametrize("name", demo.names())
def test_every_demo_device_has_layers_with_all_their_figures(name):
    found = thermal_stack(demo.load(name))
    assert len(found.layers) >= 3
    assert [layer.id for layer in found.layers if layer.missing] == []
    assert cited(found.sources)
