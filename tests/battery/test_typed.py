from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe import demo
from midframe.battery import check_label, fields_of, fields_read, figures_in, label_of, typed_figures
from midframe.battery.label import size_in
from midframe.battery.typed import FIELDS, kept_specs
from midframe.record.model import Part, Spec

BATTERIES = [
    pytest.param(part, id=f"{name} {part.id}")
    for name in demo.names()
    for part in demo.load(name).parts
    if part.role == "battery"
]


def test_typed_figures_make_the_label_that_the_record_then_has():
    fields = {"nominal": "3.88", "rated": "4404", "typical": "4492 mAh", "further": "4448; 4,5 Ah"}
    found = typed_figures({**fields, "rated_energy": "17.10", "series": "1", "size": "4,4x63,8x90,4"})
    assert found.faults == {}
    kept = label_of(Part(id="b", name="Battery", specs=found.specs))
    assert [(one.quantity, one.kind, one.value) for one in kept.figures] == [
        (one.quantity, one.kind, one.value) for one in found.label.figures
    ]
    assert kept.volume_cm3 == found.label.volume_cm3 == pytest.approx(25.38, abs=0.01)
    assert kept.cells_in_series == 1


@pytest.mark.parametrize("part", BATTERIES)
def test_the_label_of_a_record_goes_through_the_form_unchanged(part):
    found = typed_figures(fields_of(part.specs), mass_g=part.mass_g)
    assert found.faults == {}
    before, after = label_of(part).figures, found.label.figures
    assert sorted((one.label, one.value, one.half) for one in before) == sorted(
        (one.label, one.value, one.half) for one in after
    )
    assert set(kept_specs(part.specs, found.specs)) == set(part.specs)


def test_the_last_zero_stays_since_rounding_is_judged_by_it():
    coarse, fine = (typed_figures({"energy": text}).label.figures[0] for text in ("19.4", "19.40"))
    assert (coarse.half, fine.half) == (0.05, 0.005)


@pytest.mark.parametrize(
    ("key", "text", "words"),
    [
        ("rated", "many", "a number with its unit"),
        ("rated", "0", "above zero in mAh or Ah"),
        ("rated", "3.88 V", "above zero in mAh or Ah"),
        ("nominal", "4880 mAh", "above zero in V or mV"),
        ("energy", "99999999", "above zero in Wh or mWh"),
        ("series", "0", "a number of cells from 1 to 20"),
        ("side", "two", "a number of cells from 1 to 20"),
        ("size", "4.4 x 64", "thickness, width and height"),
        ("size", "4.4 x 64 x 9000", "thickness, width and height"),
    ],
)
def test_what_is_wrong_is_told_by_field_and_the_others_stay(key, text, words):
    found = typed_figures({"typical": "5000", key: text})
    assert list(found.faults) == [key]
    assert words in found.faults[key]
    assert [one.value for one in found.label.figures] == [5000.0]


def test_specs_of_another_kind_stay_behind_the_label():
    before = (Spec(label="Charge cycles", value=12), Spec(label="Rated capacity", value=4000, unit="mAh"))
    typed = typed_figures({"rated": "4880"}).specs
    assert [one.value for one in kept_specs(before, typed)] == [4880, 12]


def test_the_size_typed_wins_over_the_box_of_the_record():
    part = Part(id="b", name="B", depth_mm=(0, 5), outline_mm=((0, 0), (50, 100)))
    sized = Part(id="b", name="B", depth_mm=(0, 5), outline_mm=((0, 0), (50, 100)), specs=(
        Spec(label="Size", value="4 × 50 × 100", unit="mm"),))  # fmt: skip
    assert (label_of(part).volume_cm3, label_of(sized).volume_cm3) == (25.0, 20.0)


@pytest.mark.parametrize("text", ["", "x", "1 2 3", "0 x 5 x 5", "-1 x 5 x 5", "5", 4.4])
def test_what_is_no_size_gives_none(text):
    assert size_in(text) is None


def test_figures_read_from_a_photo_fill_the_fields():
    lines = ["Rated capacity: 4404mAh 17.08Wh", "Typical: 4492mAh", "Li-ion 3.88V", "4448mAh"]
    fields = fields_read(figures_in(lines))
    assert fields["rated"] == "4404mAh"
    assert typed_figures(fields).faults == {}


@given(st.dictionaries(st.sampled_from([one.key for one in FIELDS]), st.text(max_size=12)))
def test_any_text_is_read_or_told_and_never_breaks(fields):
    found = typed_figures(fields)
    assert set(found.faults) <= set(fields)
    assert check_label(found.label)
