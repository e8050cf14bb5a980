from __future__ import annotations

import msgspec
import pytest

from midframe.faults import BadSetting
from midframe.ways.electrical import cell_connectors, live_joints
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS
from midframe.ways.power import power_first
from midframe.ways.rules import Rules
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound
from ways.brute import brute_all
from ways.generators import small
from ways.records import VECTOR_BENCH, joint, part, record, vector_phone, with_joint, work

PRY = ((work("pry", ["opening pick"], 60.0),),)
PLUG = ((work("unplug", ["spudger"], 4.0),),)
SCREWS = ((work("unscrew", ["cross recess 00 driver"], 12.0),),)


def phone():
    """A battery plug under a plate of its own, and a camera plug that is free at once."""
    return record(
        [
            part("lid"),
            part("plate", ["lid"]),
            part("camera", ["lid"], seat="frame"),
            part("battery", ["lid"], role="battery", seat="frame"),
            part("board", ["plate"], seat="frame"),
        ],
        [
            joint("lid-glue", "lid frame", "adhesive", work=PRY),
            joint("plate-screws", "plate frame", "screw", ["lid"], work=SCREWS),
            joint("camera-plug", "camera board", "connector", ["lid"], work=PLUG, tether=True),
            joint("battery-plug", "battery board", "connector", ["plate"], work=PLUG, tether=True),
            joint("board-screws", "board frame", "screw", ["plate"], work=SCREWS),
        ],
    )


def answered(whole, target, passing="passing", **more):
    planner = Planner(whole, **more)
    way = planner.way(target)
    return way, power_first(planner, way, passing)


def with_battery(whole, name):
    parts = tuple(
        msgspec.structs.replace(one, role="battery") if one.id == name else one for one in whole.parts
    )
    return msgspec.structs.replace(whole, parts=parts)


def drawn(seed):
    """A small record whose first part is a cell, with a connector wherever the first joint holds it."""
    whole = with_battery(small(seed), "p1")
    own = next((joint.id for joint in whole.joints if "p1" in joint.holds), None)
    return whole if own is None else with_joint(whole, own, kind="connector")


def order(found):
    return [move.open or " ".join(move.lift) for move in found.moves]


def battery_phone():
    return with_battery(vector_phone(), "battery")


def test_the_connector_of_a_cell_is_the_electrical_joint_to_what_is_no_cell():
    assert cell_connectors(phone()) == ("battery-plug",)
    assert cell_connectors(vector_phone()) == ()


def test_a_connector_that_the_way_comes_by_is_opened_first_and_counted_apart():
    way, found = answered(battery_phone(), "rear-camera", bench=VECTOR_BENCH)
    assert found.added == ("plug-battery",)
    assert (found.steps_without, found.seconds_without) == (3, 178)
    assert (found.steps_with, found.seconds_with) == (3, 182)
    assert found.cautions == ()
    names = order(found)
    assert names.index("plug-battery") == names.index("plug-rear-camera") - 1
    assert [name for name in names if name != "plug-battery"] == order(way)
    assert found.text == (
        "the battery is disconnected before other electrical joints: as many steps, 4 s more"
    )


def test_what_the_connector_waits_for_is_put_before_it_if_it_is_in_the_way_anyway():
    # The way to the board opens the camera's plug wherever it costs least; here it stands first on purpose.
    whole = phone()
    planner = Planner(whole, SECONDS)
    way = planner.way("board")
    first = next(move for move in way.moves if move.open == "camera-plug")
    rest = [move for move in way.moves if move != first]
    live_first = msgspec.structs.replace(way, moves=(*rest[:2], first, *rest[2:]))
    found = power_first(planner, live_first)
    names = order(found)
    assert names.index("plate") < names.index("battery-plug") < names.index("camera-plug")
    assert found.moved == ("battery-plug",)
    assert found.cautions == ()
    assert Rules(whole).out(Rules(whole).replay(found.moves), "board")


def test_a_way_that_does_not_come_by_is_left_and_carries_a_caution():
    way, found = answered(phone(), "camera")
    assert found.moves == way.moves
    (caution,) = found.cautions
    assert found.moves[caution.move - 1].open == caution.joint == "camera-plug"
    assert caution.text == "device off; this connector is opened live"
    assert found.text == "one electrical joint is opened before the battery is disconnected: device off"


def test_a_way_without_other_electrical_joints_needs_no_precaution():
    way, found = answered(phone(), "plate")
    assert (found.moves, found.cautions, found.added) == (way.moves, (), ())
    assert found.text == "no electrical joint but the battery's own is opened"


def glued(plug_behind):
    """A glued cell, and a plug of it that is free under the lid or under a plate of its own."""
    return record(
        [
            part("lid"),
            part("plate", ["lid"]),
            part("battery", ["lid"], role="battery", seat="frame"),
            part("board", ["lid"], seat="frame"),
        ],
        [
            joint("lid-glue", "lid frame", "adhesive", work=PRY),
            joint("plate-screws", "plate frame", "screw", ["lid"], work=SCREWS),
            joint("battery-glue", "battery frame", "adhesive", ["lid"], work=PRY),
            joint("battery-plug", "battery board", "connector", [plug_behind], work=PLUG, tether=True),
            joint("board-screws", "board frame", "screw", ["lid"], work=SCREWS),
        ],
    )


@pytest.mark.parametrize("plug_behind", ["lid", "plate"])
@pytest.mark.parametrize("passing", ["passing", "strict"])
def test_a_cell_is_unplugged_before_it_is_pried_or_lifted(plug_behind, passing):
    way, found = answered(glued(plug_behind), "battery", passing)
    names = order(found)
    assert names.index("battery-plug") < names.index("battery-glue") < names.index("battery")
    assert sorted(names) == sorted(order(way))
    assert found.cautions == ()
    assert found.text.startswith("the battery is disconnected before its own bonds are opened")
    assert found.proven == (STEPS_THEN_SECONDS.value(found.count) == way.value)


def test_a_plug_that_only_a_lifted_cell_lays_open_stays_where_it_was():
    way, found = answered(glued("battery"), "battery")
    assert found.moves == way.moves
    names = order(found)
    assert names.index("battery") < names.index("battery-plug")


def test_with_several_cells_each_connector_is_opened_first():
    whole = phone()
    cell = part("second", ["lid"], role="battery", seat="frame")
    plug = joint("second-plug", "second board", "connector", ["lid"], work=PLUG, tether=True)
    link = joint("cell-link", "battery second", "connector", ["lid"], work=PLUG, tether=True)
    two = msgspec.structs.replace(whole, parts=(*whole.parts, cell), joints=(*whole.joints, plug, link))
    assert cell_connectors(two) == ("battery-plug", "second-plug")
    _, found = answered(two, "board")
    names = order(found)
    assert max(names.index("battery-plug"), names.index("second-plug")) < names.index("camera-plug")
    _, camera = answered(two, "camera")
    assert camera.added == ("second-plug",)
    assert [caution.joint for caution in camera.cautions] == ["camera-plug"]


def test_switched_off_the_order_stays_and_the_cautions_too():
    way, found = answered(battery_phone(), "rear-camera", "off", bench=VECTOR_BENCH)
    assert found.moves == way.moves
    assert [caution.joint for caution in found.cautions] == ["plug-rear-camera"]


def test_a_record_without_a_battery_connector_says_so():
    _, found = answered(vector_phone(), "rear-camera", bench=VECTOR_BENCH)
    assert found.text == "the record names no connector of a battery: device off before the first move"
    assert [caution.joint for caution in found.cautions] == ["plug-rear-camera"]


def test_strict_adds_what_the_connector_needs():
    way, found = answered(phone(), "camera", "strict")
    assert "plate-screws" not in order(way)
    names = order(found)
    assert names.index("plate") < names.index("battery-plug") < names.index("camera-plug")
    assert (found.cautions, found.added) == ((), ("battery-plug",))
    assert found.seconds_with > found.seconds_without


def test_strict_goes_around_electrical_joints_where_that_is_cheaper():
    whole = with_joint(phone(), "plate-screws", work=((work("unscrew", ["cross recess 00 driver"], 80.0),),))
    either = msgspec.structs.replace(
        whole,
        parts=(*whole.parts, part("motor", ["camera", "plate"], seat="frame")),
        joints=(*whole.joints, joint("camera-pad", "camera frame", "adhesive", ["lid"], work=PRY)),
    )
    rigid = with_joint(either, "camera-plug", tether=False)
    way, found = answered(rigid, "motor", "strict", objective=SECONDS)
    assert "camera-plug" in order(way)
    names = order(found)
    assert "plate" in names
    assert "camera-plug" not in names
    assert (found.cautions, found.added, found.proven) == ((), (), True)


def test_strict_leaves_a_way_that_opens_no_electrical_joint():
    way, found = answered(phone(), "plate", "strict")
    assert (found.moves, found.proven) == (way.moves, True)


def test_a_part_that_hangs_on_its_cable_lets_the_connector_go_first():
    whole = with_joint(phone(), "battery-plug", behind=(("camera",),))
    _, found = answered(whole, "camera", "strict")
    names = order(found)
    assert names.index("camera") < names.index("battery-plug") < names.index("camera-plug")
    assert found.cautions == ()


def test_strict_says_where_no_way_comes_by_first():
    locked = with_joint(phone(), "battery-plug", behind=(("camera",),))
    rigid = with_joint(locked, "camera-plug", tether=False, holds=("camera", "board", "frame"))
    way, found = answered(rigid, "camera", "strict")
    assert found.moves == way.moves
    assert not found.proven
    assert [caution.joint for caution in found.cautions] == ["camera-plug"]


@pytest.mark.parametrize("seed", range(60))
def test_strict_agrees_with_brute_force_that_lets_live_joints_wait(seed):
    whole = drawn(seed)
    plugs, live = cell_connectors(whole), live_joints(whole)
    planner = Planner(whole)
    waiting = brute_all(whole, wait=dict.fromkeys(live, (plugs,)))
    for target, best in waiting.items():
        way = planner.way(target)
        if isinstance(way, NoWayFound):
            assert best is None
            continue
        found = power_first(planner, way, "strict")
        value = STEPS_THEN_SECONDS.value(found.count)
        assert planner.rules.out(planner.rules.replay(found.moves), target)
        if plugs:
            assert bool(found.cautions) == (best is None)
        if plugs and not found.cautions:
            assert value >= best.value
            assert not found.proven or value == best.value


@pytest.mark.parametrize("seed", range(30))
def test_in_passing_nothing_is_lost_and_cautions_do_not_grow(seed):
    whole = drawn(seed)
    planner = Planner(whole)
    for target, way in planner.ways().items():
        if isinstance(way, NoWayFound):
            continue
        off, found = power_first(planner, way, "off"), power_first(planner, way)
        assert planner.rules.out(planner.rules.replay(found.moves), target)
        assert set(way.moves) <= set(found.moves)
        assert {move.open for move in set(found.moves) - set(way.moves)} <= set(cell_connectors(whole))
        assert len(found.cautions) <= len(off.cautions)


def test_an_unknown_switch_is_refused():
    with pytest.raises(BadSetting, match="'always' is unknown"):
        answered(phone(), "camera", "always")


def test_the_answer_can_be_written_as_json():
    _, found = answered(phone(), "board")
    assert msgspec.json.decode(msgspec.json.encode(found))["passing"] == "passing"
