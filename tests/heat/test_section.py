"""The section of a bond out of a record: which edge, which parts, what is assumed, what is refused."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest

from midframe import demo
from midframe.faults import BadSetting, RecordFault, UnknownPart
from midframe.heat.grid import grid_of
from midframe.heat.heat_sources import settings_of
from midframe.heat.integrate import Steps, integrate
from midframe.heat.model import Bench, heat_model
from midframe.heat.section import section
from midframe.record.model import Part

TERN = demo.load("tern-3")


def bonds():
    for name in demo.names():
        for joint in demo.load(name).joints:
            if joint.kind == "adhesive" and joint.area_mm2 is not None and joint.soft_c is not None:
                yield name, joint.id


def column_at(found, across):
    place = int(np.searchsorted(found.across_mm, across)) - 1
    keys = [found.regions[n].key if n >= 0 else "" for n in found.cells[place]]
    return [key for key, before in zip(keys, ["", *keys], strict=False) if key != before]


def test_at_the_rim_the_cover_rests_on_bond_and_rim_and_in_the_middle_on_the_cell():
    found = section(TERN, "back-bond")
    assert column_at(found, 1.5)[-3:] == ["frame:rim", "bond:back-bond", "back-cover"]
    middle = column_at(found, 20.0)
    assert middle.index("battery") < middle.index("charging-coil") < middle.index("back-cover")


def test_the_rim_is_as_full_as_the_mass_of_the_frame_says():
    assert any("rim of frame" in note and "74%" in note for note in section(TERN, "back-bond").rests_on)


def test_the_display_side_is_heated_from_the_front():
    found = section(TERN, "display-bond")
    assert (found.side, found.bond.cover) == ("front", "display")


def test_what_has_left_before_the_bond_is_reached_is_not_in_its_section():
    found = section(TERN, "battery-bond")
    assert {"back-cover", "upper-mid-cover", "charging-coil"} <= set(found.gone)
    assert not {region.part for region in found.regions} & set(found.gone)


@pytest.mark.parametrize(("device", "joint"), list(bonds()))
def test_every_sized_bond_of_every_demo_device_has_a_model(device, joint):
    model = heat_model(demo.load(device), joint)
    assert len(model.watched["bond"]) > 0
    heat = model.grid.network(*(np.ones(len(model.found.regions)) for _ in range(3))).capacity_jk.sum()
    assert heat > 0


def test_a_joint_that_is_no_bond_is_refused_with_the_bonds_there_are():
    with pytest.raises(RecordFault, match="found a screw; right: an adhesive joint"):
        section(TERN, next(joint.id for joint in TERN.joints if joint.kind == "screw"))


def test_an_unknown_joint_is_refused_with_the_bonds_there_are():
    with pytest.raises(UnknownPart, match="display-bond"):
        section(TERN, "porridge")


def test_a_record_without_depths_says_every_part_that_lacks_one():
    bare = tuple(msgspec.structs.replace(part, depth_mm=None, outline_mm=()) for part in TERN.parts)
    with pytest.raises(RecordFault) as caught:
        section(msgspec.structs.replace(TERN, parts=bare), "back-bond")
    assert {finding.subject for finding in caught.value.findings} == {"back-cover", "frame", "battery"}
    assert len(caught.value.findings) == 6


def test_a_bond_that_no_class_knows_asks_for_its_softening_temperature():
    with pytest.raises(RecordFault, match="soft_c"):
        section(demo.load("avocet-fold"), "foil-bond")


def test_parts_beside_one_another_have_no_section():
    with pytest.raises(RecordFault, match="beside one another"):
        section(TERN, "loudspeaker-gasket-bond")


def test_a_grid_of_no_refinement_is_refused():
    with pytest.raises(BadSetting, match="refine: found 0"):
        grid_of(section(TERN, "back-bond"), refine=0)


def test_the_usual_grid_and_tolerance_are_within_two_kelvin_of_four_times_as_many_cells(back_bond):
    setting = settings_of("heat-gun")[1]
    fine = heat_model(TERN, "back-bond", refine=2)
    ends = []
    for model, tolerance in ((back_bond, 5e-3), (fine, 5e-4)):
        figures = model.figures(setting, Bench())
        run = integrate(
            model.network(figures),
            22.0,
            model.heating(setting, figures),
            120.0,
            steps=Steps(tolerance_k=tolerance),
        )
        curves = model.curves(run)
        ends.append([curves.bond[-1], curves.cell[-1], curves.cover[-1]])
    assert np.abs(np.array(ends[0]) - ends[1]).max() < 2.0


def test_the_section_keeps_within_the_temperatures_that_drive_it_and_balances(back_bond):
    setting = settings_of("hairdryer")[3]
    figures = back_bond.figures(setting, Bench())
    run = back_bond.run(setting, 300.0, figures)
    assert run.balance < 1e-6
    assert run.temperature_c.min() > 22.0 - 0.05
    assert run.temperature_c.max() < 95.0


def test_the_middle_of_a_wide_section_is_the_stack_through_its_thickness(strip):
    from midframe.heat.stack import Layer, stack_network

    found = strip.found
    layers = []
    cells = found.cells[-1]
    for row in range(len(cells) - 1, -1, -1):
        region = found.regions[cells[row]]
        thick = (found.depth_mm[row + 1] - found.depth_mm[row]) / 1000.0
        layers.append(Layer(region.key, thick, region.through_w_mk.usual, region.capacity_j_m3k.usual, 1.0))
    setting = settings_of("hairdryer")[0]
    figures = strip.figures(setting, Bench())
    figures = msgspec.structs.replace(figures, plane_w_mk=1e-9 * figures.plane_w_mk)  # nothing flows across
    around = strip.heating(setting, figures)
    stack = integrate(stack_network(layers), 22.0, {"hot": around["hot"], "far": around["far"]}, 120.0)
    run = strip.run(setting, 120.0, figures)
    middle = strip.grid.across_mm > found.across_mm[-1] - 1e-6
    assert stack.final_c[[0, -1]] == pytest.approx(run.final_c[middle][[-1, 0]], abs=0.1)


def test_a_part_that_is_no_battery_is_no_cell():
    from midframe.heat.cut import is_cell

    assert is_cell(Part(id="b", name="B", also=("battery",)))
    assert not is_cell(Part(id="b", name="B", role="display"))
