from __future__ import annotations

from collections import Counter
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load, names
from midframe.faults import IllegalMove
from midframe.publish.cautions import CAUTIONS
from midframe.publish.refit import moves_of_log, refit
from midframe.record.model import Move
from midframe.ways.backward import close, put
from midframe.ways.rules import Rules, State
from midframe.ways.solve import solve
from midframe.ways.teardown import teardown
from ways.generators import phone_like, small


def walked(record, seed, length):
    """Legal moves at random from the closed device."""
    rules, state, random, moves = Rules(record), State(), Random(seed), []
    for _ in range(length):
        able = [move for move in rules.legal(state) if rules.apply(state, move) != state]
        if not able:
            break
        moves.append(random.choice(able))
        state = rules.apply(state, moves[-1])
    return moves, state


def assert_closes(record, moves):
    """The way back, replayed by the rules, ends at the closed device with every joint closed once."""
    rules = Rules(record)
    there = state = rules.replay(moves)
    back = refit(record, moves)
    assert back.state == there
    for line in back.lines:
        state = close(rules, state, line.joint) if line.joint else put(rules, state, line.parts)
    assert state == State()
    assert Counter(line.joint for line in back.lines if line.joint) == Counter(there.open)
    return back


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 400), st.integers(0, 1000), st.integers(0, 14))
def test_from_any_reachable_state_it_replays_to_the_closed_device(record_seed, walk_seed, length):
    record = small(record_seed)
    assert_closes(record, walked(record, walk_seed, length)[0])


def features(record, moves):
    """What a walk holds: groups that leave together, tethers hanging or opened, both faces."""
    rules, state, found = Rules(record), State(), set()
    for move in moves:
        if move.lift and len(rules.group(state, move.lift[0]) - state.aside) > 1:
            found.add("group")
        state = rules.apply(state, move)
        closed = (joint for joint in record.joints if joint.tether and joint.id not in state.open)
        found |= {"hanging" for joint in closed if state.aside & set(joint.holds)}
    opened = [joint for joint in record.joints if joint.id in state.open]
    tethers = [joint for joint in record.joints if joint.tether]
    found |= {joint.face for joint in opened if joint.face}
    found |= {"tether opened" for joint in tethers if joint in opened}
    return found


def test_the_states_walked_to_hold_groups_tethers_and_both_faces():
    seen = Counter()
    for seed in range(60):
        record = small(seed)
        for walk in range(2):
            moves = walked(record, walk, 14)[0]
            seen.update(features(record, moves))
            assert_closes(record, moves)
    assert min(seen[one] for one in ("group", "hanging", "tether opened", "front", "back", "edge")) >= 5


@pytest.mark.parametrize("linked", [False, True])
def test_from_any_state_of_a_phone_it_replays_to_the_closed_device(linked):
    record = phone_like(3, 40, linked=linked)
    for seed in range(6):
        assert_closes(record, walked(record, seed, 8 + 6 * seed)[0])


@pytest.mark.parametrize("name", names())
def test_from_every_line_of_the_log_of_a_demo_device_it_goes_back(name):
    record = load(name)
    for until in range(0, len(record.log) + 1, 20):
        assert_closes(record, moves_of_log(record, until))


@pytest.mark.parametrize("name", names())
def test_a_plug_is_looked_at_before_it_is_covered_and_only_once(name):
    record = load(name)
    back = refit(record, teardown(record))
    looked = [plug for line in back.lines for plug in line.look_at]
    assert looked
    assert len(looked) == len(set(looked))
    closed = {line.names[0]: line.number for line in back.lines if line.kind == "connector"}
    assert all(closed[plug] < line.number for line in back.lines for plug in line.look_at)


def test_no_trial_where_nothing_electrical_was_opened():
    record = load("tern-3")
    assert refit(record, moves_of_log(record, 2)).trial_before is None
    assert refit(record, ()).lines == ()


def test_the_battery_way_back_says_bond_torque_and_waits():
    record = load("tern-3")
    back = refit(record, solve(record, "battery", limit=20_000).moves, new_parts=["battery"])
    by_joint = {line.joint: line for line in back.lines if line.joint}
    rim = by_joint["back-bond"]
    assert rim.bond.area_mm2 == 730
    assert rim.adhesive.full_hours == back.full_hours == 72
    assert [one.item for one in rim.renewals]
    tight = by_joint["upper-cover-screws-short"].screws
    assert (tight.torque.torque_nm, tight.torque.rests_on) == (0.029, "record")
    assert {one.screw for one in tight.harmful} <= {
        line.screws.group.letter for line in back.lines if line.screws
    }
    assert tight.harmful[0].effect == "pierces"
    assert [part for line in back.lines for part in line.new_parts] == [
        "battery",
        "ground-tape",
    ]  # the way ruins the tape
    assert [line.screws.still_out for line in back.lines if line.screws][-1] == 0


def test_every_caution_that_is_named_has_its_words():
    for name in names():
        back = refit(load(name), teardown(load(name)))
        keys = {key for line in back.lines for key in line.cautions}
        assert {"cell", "glass", "static", "solvent"} <= keys <= CAUTIONS.keys()


def test_moves_that_are_not_legal_are_refused():
    with pytest.raises(IllegalMove):
        refit(load("tern-3"), [Move(open="battery-plug")])
    with pytest.raises(IllegalMove, match="no such joint"):
        refit(load("tern-3"), [Move(open="nothing")])
