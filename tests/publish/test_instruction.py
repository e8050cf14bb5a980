from __future__ import annotations

import msgspec
import pytest

import midframe
from midframe.publish import instruction
from midframe.publish.cautions import cautions
from midframe.record import digest
from midframe.record.model import Layer, Operation, Renewal, Seal
from midframe.sources import sources
from midframe.ways.solve import solve

JOBS = [
    ("tern-3", "battery"),
    ("tern-2", "display"),
    ("heron-tab", "battery"),
    ("avocet-fold", "back-cover-lower"),
]


@pytest.mark.parametrize(("device", "target"), JOBS)
def test_every_move_is_there_once_in_order_with_its_drawing(way_of, device, target):
    record, way = way_of(device, target)
    sheet = instruction(record, way)
    assert [move.number for move in sheet.moves] == list(range(1, len(way.moves) + 1))
    names = {part.id: part.name for part in record.parts}
    for told, move in zip(sheet.moves, way.moves, strict=True):
        assert (told.kind is None) == bool(move.lift)
        if move.lift:
            assert told.name == names[move.lift[0]]
        assert told.section.startswith("<svg")
        assert told.whys


@pytest.mark.parametrize(("device", "target"), JOBS)
def test_every_counted_step_heads_one_group_and_ends_in_its_last_move(way_of, device, target):
    record, way = way_of(device, target)
    sheet = instruction(record, way)
    assert [step for group in sheet.groups for step in group.steps] == list(range(1, way.steps + 1))
    ends = {step.number: step.move for step in way.count.steps}
    for group in sheet.groups:
        assert all(ends[step] == group.moves[-1].number for step in group.steps)
    assert len(sheet.steps) == way.steps


def test_the_screw_tally_counts_every_screw_on_the_way(way_of):
    record, way = way_of("tern-3", "battery")
    counts = {joint.id: joint.count for joint in record.joints if joint.kind == "screw"}
    wanted = [counts[move.open] for move in way.moves if move.open in counts]
    told = [move.screws for move in instruction(record, way).moves if move.screws]
    assert [group.count for group in told] == wanted
    assert told[-1].out_after == told[0].out_in_all == sum(wanted)
    assert [group.out_after for group in told] == [sum(wanted[: n + 1]) for n in range(len(wanted))]


def test_like_screws_of_another_length_are_pointed_out(way_of):
    record, way = way_of("tern-3", "battery")
    told = {move.name: move.screws for move in instruction(record, way).moves if move.screws}
    assert told["Upper cover screws long"].length_mm == 4.0
    assert told["Upper cover screws long"].mixed_lengths_mm == (2.5,)


def test_the_summary_is_that_of_the_way(way_of):
    record, way = way_of("tern-3", "battery")
    summary = instruction(record, way).summary
    assert (summary.steps, summary.moves, summary.seconds) == (way.steps, len(way.moves), way.seconds)
    assert summary.low_seconds < way.seconds < summary.high_seconds
    assert summary.minimised == "steps, then seconds"


def test_the_sheet_says_where_it_comes_from(way_of):
    record, way = way_of("tern-3", "battery")
    sheet = instruction(record, way)
    assert sheet.digest == digest(record)
    assert sheet.program == f"midframe {midframe.__version__}"
    assert sheet.date == ""
    assert sheet.invented
    assert sheet == instruction(record, way)


def test_renewals_carry_bonds_spoilt_parts_and_prices_once(way_of):
    record, way = way_of("tern-3", "battery")
    items = {line.item: line for line in instruction(record, way).renewals}
    assert items["Back cover adhesive frame"].price == 4.5
    assert items["Battery strips"].amount == 2
    assert "Grounding tape" in items
    assert "Display adhesive frame" not in items


def test_what_two_joints_need_adds_up(way_of):
    record, way = way_of("tern-3", "battery")
    tape = Renewal(item="Thread lock", amount=2, unit="ml", price=0.5)
    screws = {"upper-cover-screws-long", "lower-cover-screws-long"}
    joints = tuple(
        msgspec.structs.replace(joint, renew=tape) if joint.id in screws else joint for joint in record.joints
    )
    twice = msgspec.structs.replace(record, joints=joints)
    way = solve(twice, "battery")
    line = next(line for line in instruction(twice, way).renewals if line.item == "Thread lock")
    assert (line.amount, line.price) == (4, 1.0)
    assert sum(line.price for line in instruction(twice, way).renewals) == pytest.approx(
        way.count.renewals_price
    )


def test_seals_and_thermal_layers_are_renewed_where_the_refit_closes_them(way_of):
    record, way = way_of("tern-3", "battery")
    pad = Layer(
        id="pad", kind="pad", between=("upper-mid-cover", "main-board"), renew=Renewal(item="Soft pad")
    )
    plug = Seal(id="plug", kind="plug", at=("battery-plug",), renew=Renewal(item="Plug seal"))
    sealed = msgspec.structs.replace(record, layers=(*record.layers, pad), seals=(*record.seals, plug))
    sheet = instruction(sealed, way)
    at = {item: line for line in sheet.back for item in line.renewals}
    told = [item for line in sheet.back for item in line.renewals]
    assert told.count("Back cover adhesive frame") == 1
    assert sheet.moves[at["Soft pad"].of - 1].name == "Upper mid cover"
    assert sheet.moves[at["Plug seal"].of - 1].name == "Battery plug"
    assert {"Soft pad", "Plug seal"} <= {line.item for line in sheet.renewals}


def test_cautions_follow_what_is_done(way_of):
    record, way = way_of("tern-3", "battery")
    found = {hazard.key: hazard.moves for hazard in instruction(record, way).hazards}
    assert found["heat"] == (1,)
    assert {"cell", "swollen", "glass", "static", "solvent", "local"} <= set(found)
    calm, out = way_of("tern-3", "sim-tray")
    assert not {"heat", "solvent", "mains", "live"} & {h.key for h in instruction(calm, out).hazards}


def test_a_move_names_the_cautions_that_are_about_it(way_of):
    record, way = way_of("tern-3", "battery")
    sheet = instruction(record, way)
    bond = next(number for number, move in enumerate(way.moves, 1) if move.open == "battery-bond")
    assert sheet.hazards_of(1) == ("cell", "heat", "glass", "mains")
    assert sheet.hazards_of(bond) == ("cell", "solvent")
    assert sheet.hazards_of(3) == ()


def test_every_tool_is_told_with_the_moves_that_use_it(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    used = [sheet.moves_with(tool) for tool in sheet.tools]
    assert all(used)
    assert [numbers[0] for numbers in used] == sorted(numbers[0] for numbers in used)
    for tool, numbers in zip(sheet.tools, used, strict=True):
        for move in sheet.moves:
            assert (move.number in numbers) == any(tool in work.tools for work in move.work)


def test_screws_are_counted_back_to_none(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    out = sheet.summary.screws
    for line in sheet.back:
        out -= line.screws.count if line.screws else 0
        assert line.still_out == out
    assert out == 0


def test_the_prices_of_renewals_add_up_to_what_the_way_counts(way_of):
    record, way = way_of("tern-3", "battery")
    sheet = instruction(record, way)
    assert sum(line.price for line in sheet.renewals) == pytest.approx(way.count.renewals_price)


def test_solvent_in_another_way_of_opening_is_cautioned_too(way_of):
    record, way = way_of("tern-3", "battery")
    bond = next(number for number, move in enumerate(way.moves, 1) if move.open == "battery-bond")
    sheet = instruction(record, way)
    assert ("solvent", (bond,)) in [(hazard.key, hazard.moves) for hazard in sheet.hazards]
    assert "isopropanol" in sheet.standby


def test_a_plug_opened_with_the_battery_connected_is_marked_on_both_ways():
    record = midframe_record_with_live_plug()
    sheet = instruction(record, solve(record, "camera"))
    (live,) = [move for move in sheet.moves if move.live]
    assert live.name == "Camera plug"
    assert [line.of for line in sheet.back if line.live] == [live.number]
    assert ("live", (live.number,)) in [(hazard.key, hazard.moves) for hazard in sheet.hazards]


def midframe_record_with_live_plug():
    from midframe.record import read

    return read(
        """
format = 1
[device]
name = "Small"
kind = "phone"
body = "frame"
[[parts]]
id = "frame"
name = "Frame"
[[parts]]
id = "battery"
name = "Battery"
role = "battery"
[[parts]]
id = "camera"
name = "Camera"
[[joints]]
id = "battery-plug"
kind = "connector"
holds = ["battery", "frame"]
[[joints]]
id = "camera-plug"
kind = "connector"
holds = ["camera", "frame"]
"""
    )


def test_missing_tools_are_told_only_where_a_toolbox_was_compared(way_of):
    record, way = way_of("tern-3", "battery")
    assert instruction(record, way).missing_tools is None
    assert instruction(record, way, missing_tools=["spudger"]).missing_tools == ("spudger",)


def test_the_way_back_closes_what_was_opened_and_names_new_parts(way_of):
    record, way = way_of("tern-3", "battery")
    back = instruction(record, way).back
    assert len(back) == len(way.moves)
    assert back[0].new_parts == ("Battery",)
    bond = next(line for line in back if line.names == ("Back cover bond",))
    assert bond.renewals == ("Back cover adhesive frame",)


def test_only_sources_that_are_used_are_listed_and_every_caution_names_known_ones(way_of):
    record, way = way_of("tern-3", "sim-tray")
    listed = {source.key for source in instruction(record, way).sources}
    assert "lbl-2023-1669" in listed
    assert "niosh-npg-0359" not in listed
    for caution in cautions().values():
        assert set(caution.sources) <= sources().keys()
        for key in caution.sources:
            assert any(f"[{key}, " in line for line in caution.lines)


def test_a_set_of_targets_makes_one_sheet():
    from midframe.demo import load
    from midframe.ways.solve import solve_set

    record = load("tern-3")
    sheet = instruction(record, solve_set(record, ["sim-tray", "back-cover"]))
    assert sheet.target == "SIM tray and Back cover"
    assert all(move.whys for move in sheet.moves)


def test_a_heating_operation_is_ruled_by_the_clock(way_of):
    record, way = way_of("tern-3", "battery")
    first = instruction(record, way).moves[0]
    assert [work.clock for work in first.work] == ["heat", "", ""]
    assert isinstance(msgspec.structs.asdict(first)["otherwise"], tuple)
    assert all(isinstance(step, Operation) for work in first.otherwise for step in work)


def test_a_way_with_power_first_is_told_with_its_precautions_and_no_live_plug_where_it_helps():
    from midframe.demo import load
    from midframe.ways.power import power_first
    from midframe.ways.solve import Planner

    planner = Planner(load("tern-3"), limit=5_000)
    way = planner.way("main-board")
    safe = power_first(planner, way)
    assert not safe.cautions
    sheet = instruction(planner.record, msgspec.structs.replace(way, moves=safe.moves, count=safe.count))
    assert len(sheet.moves) == len(sheet.back) == len(safe.moves)
    assert any(move.live for move in instruction(planner.record, way).moves)
    assert not any(move.live for move in sheet.moves)
    assert "live" not in {hazard.key for hazard in sheet.hazards}
