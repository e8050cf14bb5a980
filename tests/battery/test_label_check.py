from __future__ import annotations

import pytest

from midframe import demo
from midframe.battery.label import labels_of, typed_label
from midframe.battery.label_check import check_label
from midframe.sources import cited


def outcomes(label, key):
    return [found.outcome for found in check_label(label).findings if found.key == key]


def text_of(label, key):
    return "; ".join(found.text for found in check_label(label).findings if found.key == key)


@pytest.mark.parametrize(
    ("charge", "voltage", "energy", "outcome"),
    [
        ("680 mAh", "7.2 V", "4.9 Wh", "agrees"),  # [iata-2016-press, row]
        ("1800 mAh", "7.2 V", "13 Wh", "agrees"),  # [iata-2016-press, row]
        ("6000 mAh", "3.7 V", "22.2 Wh", "agrees"),  # [dangerous-goods-wiki, entry]
        ("1650 mAh", "3.8 V", "6.7 Wh", "differs"),  # a trade page's slip: 1650 mAh × 3.8 V is 6.27 Wh
        ("1650 mAh", "3.8 V", "6.27 Wh", "agrees"),
        ("4000 mAh", "3.85 V", "15.4 Wh", "agrees"),
        ("5000 mAh", "3.87 V", "19.35 Wh", "agrees"),
        ("5000 mAh", "3.87 V", "19.3 Wh", "agrees"),  # cut off
        ("5000 mAh", "3.87 V", "19.5 Wh", "differs"),
        ("5000 mAh", "3.87 V", "19350 mWh", "agrees"),
        ("5 Ah", "3.87 V", "19.35 Wh", "agrees"),
    ],
)
def test_printed_watt_hours_are_voltage_times_charge_within_rounding(charge, voltage, energy, outcome):
    label = typed_label([("rated", charge)], [("nominal", voltage)], [("rated", energy)])
    assert outcomes(label, "energy") == [outcome]


def test_the_wrong_page_is_told_by_how_much():
    label = typed_label([("rated", "1650")], [("nominal", "3.8")], [("rated", "6.7")])
    assert "6.27 Wh" in text_of(label, "energy")
    assert "+6.9 %" in text_of(label, "energy")


def test_watt_hours_without_a_word_may_be_of_either_capacity():
    charges = [("rated", "4880"), ("typical", "5000")]
    for energy in ("18.93", "19.40"):
        assert outcomes(typed_label(charges, [("nominal", "3.88")], [("further", energy)]), "energy") == [
            "agrees"
        ]
    assert outcomes(typed_label(charges, [("nominal", "3.88")], [("further", "18.4")]), "energy") == [
        "differs"
    ]


def test_watt_hours_reckoned_with_the_charge_limit_are_told():
    label = typed_label([("rated", "5000")], [("nominal", "3.88"), ("limit", "4.48")], [("rated", "22.4")])
    assert outcomes(label, "energy") == ["differs"]
    assert "charge limit" in text_of(label, "energy")


@pytest.mark.parametrize("energy", ["19350 Wh", "0.01935 Wh"])
def test_a_thousandfold_is_called_a_mix_up_of_units(energy):
    label = typed_label([("rated", "5000")], [("nominal", "3.87")], [("rated", energy)])
    assert "mixed up" in text_of(label, "energy")


@pytest.mark.parametrize(
    ("rated", "typical", "outcome"),
    [
        ("4404", "4492", "agrees"),
        ("5000", "5000", "agrees"),
        ("5000", "4880", "differs"),
        ("4000", "4500", "note"),
    ],
)
def test_rated_is_at_most_typical(rated, typical, outcome):
    assert outcomes(typed_label([("rated", rated), ("typical", typical)]), "order") == [outcome]


@pytest.mark.parametrize(
    ("third", "outcome", "words"),
    [
        ("4448", "agrees", "mean of rated 4404 and typical 4492"),  # common practice, no source
        ("4446", "note", "not explained"),
        ("4.404 Ah", "agrees", "rated 4404 in another unit"),
        ("4.404", "agrees", "in another unit"),  # a point of thousands
        ("4404 Ah", "agrees", "unit mixed up"),
        ("4.40 mAh", "agrees", "unit mixed up"),
        ("3418", "agrees", "counted at 5 V"),  # 17.09 Wh / 5 V
        ("17.09 mAh", "agrees", "energy 17.09 Wh as a number"),
        ("4600", "note", "not explained by 4404 or 4492"),
    ],
)
def test_a_third_capacity_is_recognised_or_called_unexplained(third, outcome, words):
    label = typed_label(
        [("rated", "4404"), ("typical", "4492"), ("further", third)],
        [("nominal", "3.88")],
        [("rated", "17.09 Wh")],
    )
    assert outcomes(label, "further") == [outcome]
    assert words in text_of(label, "further")


def test_one_cell_of_two_is_recognised():
    label = typed_label([("rated", "7530"), ("further", "3765")], cells_in_series=2)
    assert "of one of 2 cells" in text_of(label, "further")


@pytest.mark.parametrize(
    ("charges", "voltages", "words"),
    [
        ([("rated", "4.4 mAh")], [], "Ah?"),
        ([("rated", "4404 Ah")], [], "µAh"),
        ([("rated", "4404")], [("nominal", "3880 V")], "mV or V?"),
        ([("rated", "4404")], [("nominal", "3.88 mV")], "mV or V?"),
    ],
)
def test_a_figure_in_the_wrong_unit_is_questioned(charges, voltages, words):
    label = typed_label(charges, voltages)
    assert "differs" in outcomes(label, "unit")
    assert words in text_of(label, "unit")


@pytest.mark.parametrize(
    ("nominal", "limit", "outcome"),
    [
        ("3.88", "4.48", "agrees"),
        ("3.7", "4.2", "agrees"),
        ("3.7", "4.48", "note"),
        ("4.48", "3.88", "differs"),
    ],
)
def test_the_charge_limit_fits_the_nominal_voltage(nominal, limit, outcome):
    assert outcomes(typed_label([], [("nominal", nominal), ("limit", limit)]), "limit") == [outcome]


def test_a_nominal_voltage_that_no_cell_has_is_told():
    assert outcomes(typed_label([], [("nominal", "4.6")]), "voltage") == ["differs"]
    assert "2 cells in series" in text_of(typed_label([], [("nominal", "7.7")]), "voltage")


@pytest.mark.parametrize(
    ("size_mm", "outcome"),
    [((91, 64, 4.7), "agrees"), ((91, 64, 47), "differs"), ((91, 64, 0.47), "differs")],
)
def test_energy_for_the_size_is_that_of_a_pouch_cell_or_questioned(size_mm, outcome):
    label = typed_label([("rated", "4880")], [("nominal", "3.88")], size_mm=size_mm, mass_g=67)
    assert outcomes(label, "density") == [outcome, "agrees"]


def test_a_density_a_thousandfold_off_names_the_unit():
    label = typed_label([("rated", "4.88 mAh")], [("nominal", "3.88")], size_mm=(91, 64, 4.7))
    assert "Ah read as mAh" in text_of(label, "density")


def test_what_is_missing_is_said():
    report = check_label(typed_label([("typical", "5000")]))
    missing = [found.key for found in report.findings if found.outcome == "missing"]
    assert missing == ["density", "density", "rated", "voltage", "energy"]
    assert report.energy_wh is None
    assert report.energy_density_wh_l is None


@pytest.mark.parametrize("name", demo.names())
def test_the_labels_of_the_demo_devices_agree(name):
    for label in labels_of(demo.load(name)):
        report = check_label(label)
        assert [found for found in report.findings if found.outcome in ("differs", "missing")] == []
        assert len(report.meanings) == len(label.figures)
        assert cited(report.sources)


def test_a_demo_label_with_three_capacities_has_the_mean_of_two_as_its_third():
    (label,) = labels_of(demo.load("heron-tab"))
    assert "7615 mAh is the mean of rated 7530 mAh and typical 7700 mAh" in text_of(label, "further")
