from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import BadSetting
from midframe.record.model import Layer
from midframe.thermal import layer_result
from midframe.thermal.figures import CONDUCTIVITIES, CONTACTS, conductivity_of

KINDS = sorted(CONTACTS)


def layer(kind="pad", **values):
    usual = {"thickness_mm": 1.0, "conductivity_w_mk": 3.0, "area_mm2": 100.0}
    return Layer(id="it", kind=kind, between=("board", "frame"), **{**usual, **values})


def test_a_pad_of_the_bench_in_all_three_figures():
    # [bench-physics-calc, pads]: 3.73e-4 m²·K/W, 3.73 K/W, 7.5 K at 2 W.
    found = layer_result(layer(), 2.0)
    assert found.unit_m2k_w.usual == pytest.approx(3.73e-4, rel=2e-3)
    assert found.resistance_k_w.usual == pytest.approx(3.73, abs=0.01)
    assert found.drop_k.usual == pytest.approx(7.5, abs=0.05)


@given(
    kind=st.sampled_from(KINDS),
    thickness=st.floats(0.01, 5),
    conductivity=st.none() | st.floats(0.02, 40),
    area=st.floats(1, 1e4),
    power=st.floats(0.01, 20),
)
def test_the_usual_figure_lies_between_both_ends(kind, thickness, conductivity, area, power):
    one = layer(kind, thickness_mm=thickness, conductivity_w_mk=conductivity, area_mm2=area)
    found = layer_result(one, power)
    for span in (found.unit_m2k_w, found.resistance_k_w, found.drop_k):
        assert 0 < span.low <= span.usual <= span.high
    assert found.drop_k.usual == pytest.approx(found.resistance_k_w.usual * power)


def test_a_film_is_not_taken_across_by_its_figure_in_the_plane():
    across, basis = conductivity_of(layer("graphite", conductivity_w_mk=1000.0))
    assert (across.low, across.high) == (5.0, 20.0)
    assert "the record says 1000, which is in the plane" in basis.text
    assert conductivity_of(layer("graphite", conductivity_w_mk=8.0))[0].usual == 8.0


@pytest.mark.parametrize("kind", KINDS)
def test_a_conductivity_that_the_record_does_not_say_is_assumed_and_marked(kind):
    span, basis = conductivity_of(layer(kind, conductivity_w_mk=None))
    assert span == CONDUCTIVITIES[kind][0]
    assert basis.kind == "assumed"
    assert "from memory" in basis.text or basis.sources


def test_radiation_helps_in_a_gap_at_its_low_end():
    found = layer_result(layer("gap", conductivity_w_mk=0.026, thickness_mm=1.0), 1.0)
    assert found.unit_m2k_w.usual == pytest.approx(1e-3 / 0.026)
    assert 1 / found.unit_m2k_w.low == pytest.approx(26 + 5.7, rel=1e-6)


@pytest.mark.parametrize(("lacks", "unit"), [("thickness_mm", False), ("area_mm2", True)])
def test_what_the_record_does_not_say_is_named(lacks, unit):
    found = layer_result(layer(**{lacks: None}), 2.0)
    assert found.missing == (lacks,)
    assert found.drop_k is None
    assert (found.unit_m2k_w is not None) == unit


def test_a_thickness_in_micrometres_is_told_with_the_layer():
    with pytest.raises(BadSetting, match="layer it: thickness: found 500 mm"):
        layer_result(layer(thickness_mm=500.0), 2.0)
