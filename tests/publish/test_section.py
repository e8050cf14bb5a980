from __future__ import annotations

from xml.etree import ElementTree

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load, names
from midframe.faults import UnknownPart
from midframe.publish import plan_drawing, stack_drawing
from midframe.publish.places import places
from midframe.publish.section import WIDTH, Frame, stretch
from strategies import devices

SVG = "{http://www.w3.org/2000/svg}"


def boxes(svg, part):
    """Rectangles of the slab whose title is the name of the part."""
    return [
        {key: float(box.get(key)) for key in ("x", "y", "width", "height")} | {"class": box.get("class")}
        for group in ElementTree.fromstring(svg).iter(f"{SVG}g")
        if group.findtext(f"{SVG}title") == part
        for box in group.iter(f"{SVG}rect")
    ]


def texts(svg):
    return [node.text for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("device", names())
def test_the_section_of_every_demo_device_is_well_formed_and_stays_inside(device):
    record = load(device)
    for part in record.parts:
        root = ElementTree.fromstring(stack_drawing(record, target=part.id))
        assert root.findtext(f"{SVG}title") == f"Section through {record.device.name}"
        high = float(root.get("viewBox").split()[3])
        for box in root.iter(f"{SVG}rect"):
            assert 0 <= float(box.get("x")) <= float(box.get("x")) + float(box.get("width")) <= WIDTH
            assert 0 <= float(box.get("y")) <= float(box.get("y")) + float(box.get("height")) <= high


def test_a_raised_slab_stands_over_its_place_and_keeps_its_width():
    record = load("tern-3")
    (home,) = boxes(stack_drawing(record), "Back cover")
    raised = stack_drawing(record, raised=[["back-cover"]])
    (above,) = boxes(raised, "Back cover")
    (frame,) = boxes(raised, "Mid frame")
    assert (above["x"], above["width"]) == (home["x"], home["width"])
    assert above["y"] + above["height"] < frame["y"]
    assert "d-raised" in above["class"]
    assert "Back cover" in texts(raised)


def test_what_leaves_first_rises_highest():
    record = load("tern-3")
    svg = stack_drawing(record, raised=[["back-cover"], ["upper-mid-cover"], ["battery"]], target="battery")
    tops = [boxes(svg, name)[0]["y"] for name in ("Back cover", "Upper mid cover", "Battery")]
    assert tops == sorted(tops)


def test_what_leaves_through_the_edge_does_not_rise():
    record = load("tern-3")
    (home,) = boxes(stack_drawing(record, target="sim-tray"), "SIM tray")
    svg = stack_drawing(record, raised=[["sim-tray"]], target="sim-tray")
    (out,) = boxes(svg, "SIM tray")
    assert out["y"] == home["y"]
    assert "d-raised" in out["class"]
    assert "SIM tray, out at the edge" in texts(svg)


def test_what_is_gone_leaves_a_dotted_place():
    record = load("tern-3")
    svg = stack_drawing(record, gone=["back-cover"])
    assert boxes(svg, "Back cover") == []
    assert svg.count("d-ghost") == 1


def test_the_target_is_hatched_so_that_colour_is_not_needed():
    record = load("tern-3")
    assert "d-hatch" not in stack_drawing(record)
    svg = stack_drawing(record, target="battery")
    assert "d-hatch" in svg
    assert "Battery" in texts(svg)


def test_front_up_is_back_up_upside_down():
    record = load("tern-3")
    back, front = (boxes(stack_drawing(record, up=up), "Back cover")[0]["y"] for up in ("back", "front"))
    frame_back, frame_front = (
        boxes(stack_drawing(record, up=up), "Mid frame")[0]["y"] for up in ("back", "front")
    )
    assert back < frame_back
    assert front > frame_front


def test_marked_joints_are_named_while_they_are_few():
    record = load("tern-3")
    assert "Battery plug" in texts(stack_drawing(record, marked_joints=["battery-plug"]))
    many = [joint.id for joint in record.joints]
    assert "Battery plug" not in texts(stack_drawing(record, marked_joints=many))


def test_depth_is_stretched_by_a_stated_factor():
    record = load("tern-3")
    svg = stack_drawing(record)
    (cover,) = boxes(svg, "Back cover")
    part = next(part for part in record.parts if part.id == "back-cover")
    along = (part.outline_mm[1][1] - part.outline_mm[0][1]) / (part.depth_mm[1] - part.depth_mm[0])
    assert cover["width"] / cover["height"] == pytest.approx(along / stretch(record), rel=0.02)


@settings(max_examples=30)
@given(devices(), st.data())
def test_a_record_without_any_figure_is_drawn_by_its_order(record, data):
    parts = [part.id for part in record.parts if part.id != record.device.body]
    raised = data.draw(st.lists(st.sampled_from(parts), unique=True, max_size=3)) if parts else []
    svg = stack_drawing(
        record,
        raised=[[part] for part in raised],
        marked_joints=[joint.id for joint in record.joints],
        target=parts[0] if parts else "",
    )
    root = ElementTree.fromstring(svg)
    assert len(list(root.iter(f"{SVG}rect"))) >= len(record.parts)
    assert stretch(record) is None


def test_hostile_names_stay_text():
    record = load("tern-3")
    evil = tuple(msgspec.structs.replace(part, name='<script>"&x\x01') for part in record.parts)
    svg = stack_drawing(msgspec.structs.replace(record, parts=evil), target="battery")
    assert "<script" not in svg
    ElementTree.fromstring(svg)


def test_the_plan_shows_every_spot_in_proportion_and_mirrors_the_back():
    record = load("tern-3")
    joint = next(joint for joint in record.joints if joint.id == "upper-cover-screws-long")
    tall, wide, _ = record.device.size_mm
    seen = {}
    for up in ("front", "back"):
        root = ElementTree.fromstring(plan_drawing(record, [joint], joint.holds, up))
        (device,) = [box for box in root.iter(f"{SVG}rect") if box.get("class") == "d-device"]
        assert float(device.get("width")) / float(device.get("height")) == pytest.approx(
            tall / wide, rel=0.01
        )
        seen[up] = sorted((float(c.get("cx")), float(c.get("cy"))) for c in root.iter(f"{SVG}circle"))
        assert len(seen[up]) == joint.count
        middle = float(device.get("y")) + float(device.get("height")) / 2
        if up == "back":
            mirrored = sorted((x, 2 * middle - y) for x, y in seen["front"])
            for one, other in zip(seen["back"], mirrored, strict=True):
                assert one == pytest.approx(other, abs=0.2)


def test_each_screw_of_the_plan_stands_under_its_mark_in_the_section():
    record = load("tern-3")
    joint = next(joint for joint in record.joints if joint.id == "connector-plate-screws")
    plan = ElementTree.fromstring(plan_drawing(record, [joint], joint.holds, "back"))
    found = places(record)
    frame = Frame(found, "back", 0.0)
    across = sorted(float(circle.get("cx")) for circle in plan.iter(f"{SVG}circle"))
    assert across == pytest.approx(sorted(frame.x(y) for _, y in joint.spots_mm), abs=0.1)


def test_a_device_wider_than_long_keeps_its_plan_within_the_sheet():
    record = load("tern-3")
    tall, wide, thick = record.device.size_mm
    turned = msgspec.structs.replace(
        record, device=msgspec.structs.replace(record.device, size_mm=(wide, tall, thick))
    )
    joint = next(joint for joint in record.joints if joint.id == "connector-plate-screws")
    svg = ElementTree.fromstring(plan_drawing(turned, [joint]))
    assert float(svg.get("viewBox").split()[3]) < 250


def test_no_spots_no_plan():
    record = load("tern-3")
    joint = next(joint for joint in record.joints if joint.id == "battery-plug")
    assert plan_drawing(record, [joint]) == ""


def test_ids_that_the_record_does_not_hold_are_named_all_at_once():
    with pytest.raises(UnknownPart, match="nobody, nothing"):
        stack_drawing(load("tern-3"), target="nobody", marked_joints=["nothing"])
