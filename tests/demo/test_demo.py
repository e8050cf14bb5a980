from __future__ import annotations

import re
from collections import Counter
from itertools import combinations

import pytest

from midframe import demo
from midframe.faults import UnknownPart
from midframe.record import check, faults, read, write
from midframe.record.model import PRIORITY_ROLES, Move
from midframe.ways.reach import reach
from midframe.ways.rules import Rules

SIZES = {"tern-3": (45, 60), "tern-2": (40, 55), "heron-tab": (35, 50), "avocet-fold": (50, 60)}
"""Least number of parts and joints."""

# Of the metric coarse threads, from memory.
STRESS_AREA_MM2 = {"M1.2": 0.732, "M1.4": 0.983, "M1.6": 1.27}
PROUD = {"lens-cover"}
"""Parts that stand proud of the closed device, and are meant to."""


@pytest.fixture(params=sorted(SIZES))
def name(request):
    return request.param


@pytest.fixture
def record(name):
    return demo.load(name)


def by_id(things):
    return {thing.id: thing for thing in things}


def inside(point, polygon):
    """Ray casting; a polygon of two points is a box."""
    x, y = point
    if len(polygon) == 2:
        (x0, y0), (x1, y1) = polygon
        return x0 < x < x1 and y0 < y < y1
    crossings = 0
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            crossings += 1
    return crossings % 2 == 1


def test_there_are_four_demo_devices():
    assert set(demo.names()) == set(SIZES)


def test_an_unknown_name_is_refused_with_the_names_that_there_are():
    with pytest.raises(UnknownPart, match=r"no demo device 'gull'; there are .*tern-3"):
        demo.text("gull")


def test_a_file_name_finds_the_same_device():
    assert demo.load("tern-2.device.toml") == demo.load("tern-2")


def test_every_device_says_that_it_is_invented_in_the_file_and_in_the_record(name, record):
    assert "invented" in demo.text(name).splitlines()[0]
    assert record.device.invented
    assert record.device.note.startswith("Invented scenario")


def test_a_file_is_its_comments_and_the_canonical_text(name, record):
    text = demo.text(name)
    head = re.match(r"(# .*\n)+\n", text)
    assert head is not None
    assert text[head.end() :] == write(record)
    assert read(text) == record


def test_a_device_has_as_many_parts_and_joints_as_a_real_one(name, record):
    parts, joints = SIZES[name]
    assert len(record.parts) >= parts
    assert len(record.joints) >= joints


def test_no_device_has_a_fault_and_its_only_notes_are_parts_that_come_more_than_once(record):
    found = (*check(record), *reach(record))
    assert faults(found) == ()
    assert [note.found for note in found if "parts carry the role" not in note.found] == []


def test_every_part_comes_out_under_the_rules(record):
    rules = Rules(record)
    state = rules.replay(())
    while moves := rules.legal(state):
        for move in moves:
            if move.lift or move.open not in state.open:
                state = rules.apply(state, move) if move in rules.legal(state) else state
    stuck = [part.id for part in record.parts if part.id != rules.body and not rules.out(state, part.id)]
    assert stuck == []
    assert state.open == set(rules.joints)


def test_every_priority_part_is_there_or_named_absent(record):
    roles = {role for part in record.parts for role in (part.role, *part.also)}
    assert set(PRIORITY_ROLES) - set(record.device.absent) <= roles
    assert roles.isdisjoint(record.device.absent)


def test_documented_orders_are_legal_and_end_with_the_target_out(record):
    rules = Rules(record)
    assert len(record.orders) >= 2
    for order in record.orders:
        assert rules.out(rules.replay(order.moves), order.target), order.title


def test_the_bench_log_is_legal_and_leaves_only_what_is_soldered(record):
    rules = Rules(record)
    entries = [entry for entry in record.log if entry.open or entry.lift]
    state = rules.replay(Move(open=entry.open, by=entry.by, lift=entry.lift) for entry in entries)
    soldered = {joint.id for joint in record.joints if joint.kind == "solder"}
    assert set(rules.joints) - state.open == soldered
    assert [entry.seconds for entry in record.log] == sorted(entry.seconds for entry in record.log)


def test_log_and_orders_name_ways_of_opening_that_the_joint_has(record):
    joints = by_id(record.joints)
    moves = [*record.log, *(move for order in record.orders for move in order.moves)]
    assert [move.open for move in moves if move.open and move.by > max(1, len(joints[move.open].work))] == []


def test_the_parts_weigh_what_the_device_weighs_within_four_percent(record):
    """The rest is screws, adhesive and foils that are no parts of their own."""
    total = sum(part.mass_g for part in record.parts)
    assert 0.96 * record.device.mass_g <= total <= record.device.mass_g


def test_energy_on_the_battery_label_is_voltage_times_charge(record):
    batteries = [part for part in record.parts if part.role == "battery"]
    assert batteries
    for battery in batteries:
        value = {spec.label: spec.value for spec in battery.specs}
        for kind in ("Rated", "Typical"):
            energy = value["Nominal voltage"] * value[f"{kind} capacity"] / 1000
            assert value[f"{kind} energy"] == pytest.approx(energy, abs=0.006), battery.id
        assert value["Rated capacity"] < value["Typical capacity"]
        assert value["Nominal voltage"] < value["Charge limit voltage"]


def test_a_battery_has_the_energy_density_of_a_pouch_cell(record):
    """Between 400 and 800 Wh a litre, common practice, no source."""
    for battery in (part for part in record.parts if part.role == "battery"):
        (x0, y0), (x1, y1) = battery.outline_mm
        litres = (x1 - x0) * (y1 - y0) * (battery.depth_mm[1] - battery.depth_mm[0]) / 1e6
        energy = next(spec.value for spec in battery.specs if spec.label == "Typical energy")
        assert 400 <= energy / litres <= 800, battery.id


def test_every_part_has_a_place_within_the_device(record):
    height, width, thickness = record.device.size_mm
    for part in record.parts:
        assert part.outline_mm, part.id
        assert all(0 <= x <= width and 0 <= y <= height for x, y in part.outline_mm), part.id
        near, far = part.depth_mm
        assert 0 <= near < far, part.id
        assert far <= thickness or part.id in PROUD, part.id


def test_every_screw_has_its_spot_drive_thread_and_a_hole_that_is_deep_enough(record):
    for joint in (joint for joint in record.joints if joint.kind == "screw"):
        assert len(joint.spots_mm) == joint.count, joint.id
        assert all((joint.drive, joint.thread, joint.head, joint.length_mm)), joint.id
        assert joint.length_mm < joint.hole_depth_mm, joint.id


def test_screws_of_one_device_do_not_share_a_spot(record):
    spots = [(joint, spot) for joint in record.joints for spot in joint.spots_mm]
    near = [
        (a.id, b.id)
        for (a, (xa, ya)), (b, (xb, yb)) in combinations(spots, 2)
        if (xa - xb) ** 2 + (ya - yb) ** 2 < 1.2**2
    ]
    assert near == []


def test_a_screw_sits_on_a_part_that_it_holds(record):
    """On its plan, give or take 1.5 mm for an ear that the outline leaves out."""
    parts = by_id(record.parts)
    around = ((0, 0), (1.5, 0), (-1.5, 0), (0, 1.5), (0, -1.5))
    for joint in record.joints:
        held = [parts[part].outline_mm for part in joint.holds if part != record.device.body]
        for x, y in joint.spots_mm:
            reach_of = [(x + dx, y + dy) for dx, dy in around]
            assert all(any(inside(point, outline) for point in reach_of) for outline in held), (
                joint.id,
                x,
                y,
            )


def test_torques_are_those_of_threads_in_soft_material(record):
    """Half of 0.2 d A 210 N/mm², A the stress area: as in a trade chart, within three percent."""
    for joint in (joint for joint in record.joints if joint.torque_nm is not None):
        d_mm = float(joint.thread.removeprefix("M"))
        expected = 0.5 * 0.2 * d_mm * STRESS_AREA_MM2[joint.thread] * 210 / 1000
        assert joint.torque_nm == pytest.approx(expected, rel=0.03), joint.id


@pytest.mark.parametrize("name", ["tern-3", "tern-2", "heron-tab"])
def test_a_bond_is_as_long_as_the_device_is_round(name):
    """Area over width of the big bonds is the rim of the device within a quarter."""
    record = demo.load(name)
    height, width, _ = record.device.size_mm
    bonds = [joint for joint in record.joints if joint.id in ("display-bond", "back-bond")]
    assert bonds
    for joint in bonds:
        assert joint.area_mm2 / joint.width_mm == pytest.approx(2 * (height + width), rel=0.25), joint.id


def test_layers_seals_and_checks_speak_of_parts_of_the_record(record):
    ids = {part.id for part in record.parts}
    named = [part for layer in record.layers for part in layer.between]
    named += [part for seal in record.seals for part in seal.at]
    named += [part for one in record.checks for part in one.parts]
    assert set(named) <= ids
    assert len(record.layers) >= 3
    assert len(record.seals) >= 5
    assert len(record.checks) >= 10


def test_every_device_shows_what_the_rules_can_say(name, record):
    """Two ways of opening a bond, a tether, an assumed condition, a bundle, something renewed."""
    battery_bonds = [
        joint for joint in record.joints if joint.id.startswith("battery") and joint.kind == "adhesive"
    ]
    assert battery_bonds
    assert all(len(joint.work) == 2 for joint in battery_bonds)
    assert any(joint.tether for joint in record.joints)
    assert any(thing.assumed for thing in (*record.parts, *record.joints))
    assert any(part.bundle for part in record.parts)
    assert any(joint.renew and joint.renew.price for joint in record.joints)


@pytest.mark.parametrize("name", ["tern-3", "tern-2"])
def test_a_phone_is_as_large_as_phones_of_its_years_are(name):
    """Between the 5th and 95th percentile of phones of 2022 to 2026 [lineage-geometry, _data/devices]."""
    record = demo.load(name)
    height, width, thickness = record.device.size_mm
    charge = next(
        spec.value for part in record.parts for spec in part.specs if spec.label == "Typical capacity"
    )
    assert 152.2 <= height <= 165.7
    assert 70.8 <= width <= 76.5
    assert 7.6 <= thickness <= 9.29
    assert 4020 <= charge <= 5500
    assert 40.2 <= charge / (height * width * thickness / 1000) <= 56.6


@pytest.mark.parametrize("name", ["tern-3", "tern-2"])
def test_a_phone_has_joints_and_small_parts_within_reach_from_either_face(name):
    record = demo.load(name)
    either = (("display",), ("main-board",))
    assert [joint.id for joint in record.joints if joint.kind == "connector" and joint.behind == either]
    assert [part.id for part in record.parts if part.under == either]


def test_the_lens_cover_comes_off_without_opening_the_device(record):
    rules = Rules(record)
    state = rules.replay((Move(open="lens-bond"), Move(lift=("lens-cover",))))
    assert rules.out(state, "lens-cover")
    assert state.aside == {"lens-cover"}


def test_tern_2_is_named_as_the_predecessor_and_shares_most_ids():
    now, before = demo.load("tern-3"), demo.load("tern-2")
    assert now.device.predecessor == "tern-2.device.toml"
    assert demo.load(now.device.predecessor).device.name == "Tern 2"
    shared = {part.id for part in now.parts} & {part.id for part in before.parts}
    assert len(shared) > 0.7 * len(before.parts)


def test_the_foldable_has_a_hinge_two_displays_two_batteries_and_two_back_covers():
    record = demo.load("avocet-fold")
    roles = Counter(part.role for part in record.parts)
    assert record.device.foldable
    assert (roles["hinge"], roles["display"], roles["battery"], roles["back_cover"]) == (1, 2, 2, 2)


def test_the_tablet_is_opened_from_the_front_only():
    record = demo.load("heron-tab")
    first = [
        joint for joint in record.joints if not joint.behind and joint.id not in ("lens-bond", "card-latch")
    ]
    assert [(joint.id, joint.face) for joint in first] == [("display-bond", "front")]
