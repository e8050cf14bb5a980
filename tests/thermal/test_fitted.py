from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.faults import BadSetting
from midframe.record import check, read, write
from midframe.record.model import Renewal
from midframe.thermal import Pad, conductivity, thermal_stack, with_pad, with_tested

TERN = demo.load("tern-3")


def pad(thickness, **values):
    return Pad(thickness_mm=thickness, conductivity_w_mk=5.0, **values)


def layer(record, name="pad-processor"):
    return next(one for one in record.layers if one.id == name)


def test_a_pressed_pad_is_as_thick_as_the_gap_and_renewed_as_it_is_sold():
    made = layer(with_pad(TERN, "pad-processor", pad(0.8)))
    assert (made.thickness_mm, made.conductivity_w_mk) == (0.5, 5.0)
    assert made.renew == Renewal(item="Thermal pad 0.8 mm, 5 W/(m·K)", amount=260.0, unit="mm2")


def test_a_pad_that_does_not_reach_keeps_its_own_thickness():
    assert layer(with_pad(TERN, "pad-processor", pad(0.3))).thickness_mm == 0.3


def test_a_measured_gap_becomes_the_thickness():
    assert layer(with_pad(TERN, "pad-processor", pad(0.8), gap_mm=0.6)).thickness_mm == 0.6


def test_a_name_and_a_kind_are_kept():
    made = layer(with_pad(TERN, "pad-processor", pad(0.8, name="Grey", kind="putty")))
    assert (made.kind, made.renew.item) == ("putty", "Grey, 0.8 mm, 5 W/(m·K)")


def test_nothing_else_changes_and_the_record_stays_sound():
    made = with_pad(TERN, "pad-processor", pad(0.8))
    assert [one for one in made.layers if one.id != "pad-processor"] == list(TERN.layers[1:])
    assert made.parts == TERN.parts
    assert read(write(made)) == made
    assert check(made) == check(TERN)
    assert thermal_stack(made).layers[0].drop_k.usual > thermal_stack(TERN).layers[0].drop_k.usual


@pytest.mark.parametrize(
    ("name", "thickness", "words"), [("pad", 0.8, "found no 'pad'"), ("pad-processor", 500.0, "500 µm")]
)
def test_what_cannot_be_is_refused(name, thickness, words):
    with pytest.raises(BadSetting, match=words):
        with_pad(TERN, name, pad(thickness))


SAMPLES = ([0.5, 1.0, 2.0], (2.1e-4, 3.7e-4, 7.1e-4))


def test_a_tested_conductivity_keeps_the_note_that_was_there():
    record = msgspec.structs.replace(
        TERN, layers=(msgspec.structs.replace(TERN.layers[2], note="From the shop."),)
    )
    (made,) = with_tested(record, "pad-radio", conductivity(*SAMPLES)).layers
    assert made.note == "From the shop. Bar test of 3 samples: 2.99 W/(m·K), 2.52 to 3.68 (95 %)."


def test_two_samples_are_noted_without_an_interval():
    made = layer(with_tested(TERN, "pad-radio", conductivity([0.5, 1.0], (2.1e-4, 3.8e-4))), "pad-radio")
    assert made.note == "Bar test of 2 samples: 2.94 W/(m·K)."


def test_a_film_is_not_told_by_a_bar_test():
    with pytest.raises(BadSetting, match="found graphite; right: a pad, putty or paste"):
        with_tested(TERN, "graphite-plate", conductivity(*SAMPLES))


@pytest.mark.parametrize("gap", [0.0, -1.0, 500.0])
def test_a_gap_that_cannot_be_is_refused_where_a_pad_is_put_in(gap):
    with pytest.raises(BadSetting, match=r"gap: found .* mm; right: 0\.01 to 10 mm"):
        with_pad(TERN, "pad-processor", pad(0.8), gap_mm=gap)
