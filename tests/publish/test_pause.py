from __future__ import annotations

import pytest

from midframe.demo import load
from midframe.faults import IllegalMove
from midframe.publish.pause import Ordered, pause
from midframe.publish.refit import moves_of_log
from midframe.record.model import Move
from midframe.ways.rules import Rules
from midframe.ways.teardown import teardown


def test_it_resumes_exactly_where_it_was_put_away():
    record = load("tern-2")
    whole = teardown(record)
    for at in range(0, len(whole) + 1, 12):
        sheet = pause(record, whole[:at])
        assert sheet.state == Rules(record).replay(sheet.done) == sheet.back.state
        assert teardown(record, sheet.done) == whole
        assert sheet.screws_out == sheet.back.screws


def test_what_lies_where_and_what_is_on_order_is_told():
    record = load("tern-3")
    sheet = pause(
        record, moves_of_log(record, 10), on_order=[Ordered("Battery strips", note="Friday")], notes=["bin 4"]
    )
    assert [tray.count for tray in sheet.trays] == [0, 0, 0, 12]
    assert "Arrived and the right one: Battery strips (Friday)." in sheet.on_return
    assert sheet.notes == ("bin 4",)
    assert sheet.battery_connected
    assert any("still connected" in line for line in sheet.on_return)


def test_a_cell_that_is_unplugged_is_not_called_connected():
    record = load("tern-3")
    moves = teardown(record)
    at = next(n for n, move in enumerate(moves, start=1) if move.open == "battery-plug")
    assert not pause(record, moves[:at]).battery_connected
    assert pause(record, moves[: at - 1]).battery_connected


def test_moves_that_are_not_legal_are_refused():
    with pytest.raises(IllegalMove):
        pause(load("tern-3"), [Move(open="battery-plug")])
