from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load
from midframe.faults import IllegalMove
from midframe.record.model import Move
from midframe.ways.backward import BackMove, backward, replay_back
from midframe.ways.rules import Rules, State
from midframe.ways.solve import solve_all
from midframe.ways.way import Way
from strategies import devices


def assert_goes_back(record, moves):
    rules = Rules(record)
    there = rules.replay(moves)
    back = backward(record, moves)
    assert replay_back(rules, there, back) == State()
    assert Counter(move.close for move in back if move.close) == Counter(there.open)
    assert Counter(part for move in back for part in move.place) == Counter(there.aside)
    assert [move.of for move in back] == list(range(len(moves), 0, -1))


@pytest.mark.parametrize("device", ["tern-2", "tern-3", "heron-tab"])
def test_every_way_into_a_demo_device_goes_back_to_the_closed_device(device):
    record = load(device)
    ways = [way for way in solve_all(record, limit=2_000).values() if isinstance(way, Way)]
    assert len(ways) > 30
    for way in ways:
        assert_goes_back(record, way.moves)


@settings(max_examples=60)
@given(devices(), st.data())
def test_any_legal_sequence_goes_back_to_the_closed_device(record, data):
    rules, state, moves = Rules(record), State(), []
    for _ in range(data.draw(st.integers(0, 10))):
        legal = rules.legal(state)
        if not legal:
            break
        moves.append(data.draw(st.sampled_from(legal)))
        state = rules.apply(state, moves[-1])
    assert_goes_back(record, moves)


def test_documented_orders_go_back_too():
    record = load("tern-3")
    assert record.orders
    for order in record.orders:
        assert_goes_back(record, order.moves)


def test_a_joint_is_not_closed_behind_a_part_that_is_back_already():
    record = load("tern-3")
    rules = Rules(record)
    moves = next(order.moves for order in record.orders if order.target == "battery")
    there = rules.replay(moves)
    back = list(backward(record, moves))
    plug = next(move for move in back if move.close == "battery-plug")
    back.remove(plug)
    with pytest.raises(IllegalMove, match="close battery-plug: battery-plug lies behind"):
        replay_back(rules, there, [*back, plug])


def test_a_joint_is_not_closed_twice_and_a_part_not_placed_twice():
    record = load("tern-3")
    rules = Rules(record)
    with pytest.raises(IllegalMove, match="close battery-plug: it is not open"):
        replay_back(rules, State(), [BackMove(1, close="battery-plug")])
    with pytest.raises(IllegalMove, match="battery is in its place already"):
        replay_back(rules, State(), [BackMove(1, place=("battery",))])


def test_moves_that_are_no_way_in_have_no_way_back():
    with pytest.raises(IllegalMove):
        backward(load("tern-3"), [Move(lift=("battery",))])
