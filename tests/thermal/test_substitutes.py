from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe import demo
from midframe.faults import BadSetting
from midframe.thermal import Pad, common_pads, substitutes, thermal_stack
from midframe.thermal.substitutes import ORDER

STACK = thermal_stack(demo.load("tern-3"), 3.0)


def pad(thickness, conductivity, **values):
    return Pad(thickness_mm=thickness, conductivity_w_mk=conductivity, **values)


def only(one, **options):
    return substitutes(STACK, "pad-processor", [one], **options).pads[0]


def test_twice_the_thickness_at_the_same_conductivity_adds_what_it_should():
    # [bench-physics-calc, pads]: 0.5 → 1.0 mm at k 3 adds 1.7e-4 m²·K/W; here on 260 mm² at 3 W.
    thin, thick = (only(pad(1.0, 3.0, kind="putty"), gap_mm=gap).drop_k.usual for gap in (0.5, 1.0))
    assert thick - thin == pytest.approx(1.667e-4 / 260e-6 * 3, rel=1e-3)


def test_a_pad_that_does_not_touch_is_far_warmer_and_does_not_fit():
    found = only(pad(0.3, 12.0))
    assert found.verdict == "does not fit"
    assert found.seat.air_mm == pytest.approx(0.2)
    assert found.warmer_k > 20


def test_a_pad_that_is_pressed_too_far_does_not_fit_though_it_conducts():
    found = only(pad(1.0, 12.0))
    assert found.warmer_k < 0
    assert found.verdict == "does not fit"


def test_within_means_also_with_the_worst_contacts():
    sure, unsure = only(pad(0.8, 8.0)), only(pad(0.8, 3.0))
    original = STACK.layers[0].drop_k.usual
    assert (sure.verdict, unsure.verdict) == ("within", "in doubt")
    assert sure.drop_k.high - original <= 1.0 < unsure.drop_k.high - original
    assert unsure.margin_k > 0


def test_the_least_conductivity_is_exactly_at_the_limit():
    found = substitutes(STACK, "pad-processor", [], limit_k=1.0)
    (needed,) = [one for one in found.needed if one.thickness_mm == 0.8]
    assert only(pad(0.8, needed.conductivity_w_mk), limit_k=1.0).margin_k == pytest.approx(0, abs=1e-9)
    assert [one.conductivity_w_mk for one in found.needed if one.seat.fit in ("no contact", "too thick")] == [
        None
    ] * 7


def test_a_measured_gap_goes_before_the_record():
    found = substitutes(STACK, "pad-processor", [pad(0.5, 6.0)], gap_mm=0.4)
    assert (found.gap_mm, found.gap_from) == (0.4, "given")
    assert found.pads[0].verdict == "within"


def test_common_pads_are_ranked_by_verdict_and_margin():
    found = substitutes(STACK, "pad-processor", common_pads()).pads
    order = [(ORDER.index(one.verdict), -one.margin_k) for one in found]
    assert order == sorted(order)
    assert len(found) == 63


@given(st.floats(0.1, 3), st.floats(0.5, 20), st.floats(1.01, 2))
def test_a_pad_that_conducts_better_is_never_warmer(thickness, conductivity, factor):
    worse, better = (only(pad(thickness, k)) for k in (conductivity, conductivity * factor))
    assert better.drop_k.usual <= worse.drop_k.usual
    assert better.seat == worse.seat


@pytest.mark.parametrize(
    ("layer", "options", "words"),
    [
        ("pad-procesor", {}, "found no 'pad-procesor' in Tern 3; right: one of pad-processor"),
        ("graphite-shield", {}, "a film spreads heat in its plane"),
        ("pad-processor", {"limit_k": -1}, "limit: found -1 K"),
        ("pad-processor", {"gap_mm": 500}, "gap: found 500 mm; right: 0.01 to 10 mm"),
    ],
)
def test_what_cannot_be_replaced_is_told(layer, options, words):
    with pytest.raises(BadSetting, match=words):
        substitutes(STACK, layer, [pad(1.0, 3.0)], **options)


def test_a_gap_may_be_filled():
    found = substitutes(STACK, "gap-battery", [pad(0.1, 1.0, kind="putty")])
    assert found.pads[0].warmer_k < 0
