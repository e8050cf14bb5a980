from __future__ import annotations

import pytest

from midframe.demo import load, names
from midframe.faults import IllegalMove
from midframe.record.model import Move
from midframe.ways.rules import Rules
from midframe.ways.teardown import teardown
from ways.generators import small


@pytest.mark.parametrize("name", names())
def test_a_demo_device_comes_wholly_apart(name):
    record = load(name)
    state = Rules(record).replay(teardown(record))
    assert state.open == {joint.id for joint in record.joints}
    assert state.aside == {part.id for part in record.parts} - {record.device.body}


def test_it_stops_only_where_no_move_is_left_that_changes_anything():
    for seed in range(40):
        record = small(seed)
        rules = Rules(record)
        state = rules.replay(teardown(record))
        assert all(rules.apply(state, move) == state for move in rules.legal(state))


def test_it_goes_on_from_where_the_work_stands():
    record = load("tern-3")
    start = teardown(record)[:10]
    assert teardown(record, start)[:10] == start
    with pytest.raises(IllegalMove, match="move 1"):
        teardown(record, [Move(open="battery-plug")])
