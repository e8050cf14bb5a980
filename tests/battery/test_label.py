from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.battery.label import Figure, figures_in, label_of, labels_of, typed_label, volume_cm3
from midframe.faults import BadSetting
from midframe.record.model import Part, Spec


def short(figures):
    return [(one.quantity, one.kind, one.value) for one in figures]


def test_typed_figures_keep_their_kind_value_and_rounding():
    label = typed_label([("rated", "4404"), ("typical", "4.492 Ah")], [("nominal", "3,88 V")])
    assert short(label.figures) == [
        ("charge", "rated", 4404.0),
        ("charge", "typical", 4492.0),
        ("voltage", "nominal", 3.88),
    ]
    assert label.confirmed
    assert label.origin == "typed"


@pytest.mark.parametrize("text", ["3.88 V", "17 Wh", "0", "-5"])
def test_a_charge_in_the_unit_of_something_else_is_refused(text):
    with pytest.raises(BadSetting, match=r"charge|number"):
        typed_label([("rated", text)])


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (
            ["Rated Capacity: 4880mAh/18.93Wh", "Typical Capacity: 5,000 mAh 19.40Wh"],
            [
                ("charge", "rated", 4880.0),
                ("energy", "rated", 18.93),
                ("charge", "typical", 5000.0),
                ("energy", "typical", 19.4),
            ],
        ),
        (
            ["Nominal Voltage 3.88V Limited Charge Voltage 4.48V"],
            [("voltage", "nominal", 3.88), ("voltage", "limit", 4.48)],
        ),
        (
            ["Charge voltage: 4.45 V", "Li-ion 3.87V"],
            [("voltage", "limit", 4.45), ("voltage", "nominal", 3.87)],
        ),
        (
            ["额定容量:4404mAh", "典型容量:4492mAh", "标称电压:3.88V", "充电限制电压:4.48V"],
            [
                ("charge", "rated", 4404.0),
                ("charge", "typical", 4492.0),
                ("voltage", "nominal", 3.88),
                ("voltage", "limit", 4.48),
            ],
        ),
        (
            ["Nennspannung 3,7 V", "Nennkapazität 2600 mAh"],
            [("voltage", "nominal", 3.7), ("charge", "rated", 2600.0)],
        ),
        (["Rated capacity", "4880 mAh"], [("charge", "rated", 4880.0)]),
        (["4448 mAh"], [("charge", "further", 4448.0)]),
        (["Min 4404 mAh Typ 4492 mAh"], [("charge", "rated", 4404.0), ("charge", "typical", 4492.0)]),
        (["4880mAh (rated)"], [("charge", "further", 4880.0)]),
        (["Input 5V 2A", "Model 4880"], [("voltage", "nominal", 5.0)]),
        (["no figures here", ""], []),
    ],
)  # fmt: skip
def test_figures_are_found_in_lines_with_the_words_before_them(lines, expected):
    assert short(figures_in(lines)) == expected


def test_the_record_gives_every_battery_with_size_and_mass():
    labels = labels_of(demo.load("avocet-fold"))
    assert [label.part for label in labels] == ["battery-upper", "battery-lower"]
    assert all(label.volume_cm3 and label.mass_g and label.made for label in labels)
    (tablet,) = labels_of(demo.load("heron-tab"))
    assert tablet.cells_side_by_side == 2
    assert tablet.figure("voltage", "limit").value == 4.45


def test_a_spec_of_another_kind_is_left_alone():
    part = Part(id="b", name="B", role="battery", specs=(Spec(label="Code", value="TN-3880 V2"),))
    assert label_of(part).figures == ()


def test_a_spec_as_text_keeps_its_last_zero():
    part = Part(
        id="b", name="B", role="battery", specs=(Spec(label="Rated energy", value="19.40", unit="Wh"),)
    )
    assert label_of(part).figures[0].half == pytest.approx(0.005)


def test_energy_is_the_printed_one_else_rated_charge_times_nominal_voltage():
    assert typed_label([("rated", "4000")], [("nominal", "3.85")]).energy_wh == pytest.approx(15.4)
    assert typed_label([("rated", "5000")], [("nominal", "3.87")]).energy_wh == pytest.approx(19.35)
    assert typed_label([("typical", "5000")], [("nominal", "3.87")]).energy_wh is None
    assert typed_label(energies=[("typical", "19.4")]).energy_wh == 19.4


def test_the_volume_of_a_polygon_is_its_area_times_depth():
    part = Part(
        id="b",
        name="B",
        depth_mm=(2.0, 6.0),
        outline_mm=((0, 0), (40, 0), (40, 50), (20, 50), (20, 100), (0, 100)),
    )
    assert volume_cm3(part) == pytest.approx((40 * 50 + 20 * 50) * 4 / 1000)
    assert volume_cm3(msgspec.structs.replace(part, depth_mm=None)) is None


def test_a_figure_is_frozen():
    figure = Figure(quantity="charge", kind="rated", value=1.0, half=0.5, printed="1 mAh")
    with pytest.raises(AttributeError):
        figure.value = 2.0
