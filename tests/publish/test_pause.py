from __future__ import annotations

import pytest

from midframe.demo import load
from midframe.faults import IllegalMove
from midframe.publish.pause import DEVICE, Ordered, pause
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


def test_trays_say_where_they_lie_and_keep_their_place_when_their_number_changes():
    record = load("tern-3")
    moves = moves_of_log(record, 30)
    keys = [one.key for one in pause(record, moves).resting]
    places = {DEVICE: "shelf 2", keys[-1]: "bin 9", "nothing": "nowhere"}
    sheet = pause(record, moves, places=places)
    assert (sheet.place, sheet.resting[-1].place) == ("shelf 2", "bin 9")
    assert len(set(keys)) == len(keys)
    fewer = pause(record, moves[:-2], places={keys[0]: "bin 1"})
    assert fewer.resting[0].place == "bin 1"


def test_screws_that_are_in_again_lie_in_no_tray():
    record = load("tern-3")
    moves = moves_of_log(record, 10)
    joint = next(group.joint for tray in pause(record, moves).trays for group in tray.screws)
    sheet = pause(record, moves, driven={joint: 2})
    assert (sheet.screws_out, sheet.driven) == (10, 2)
    assert sum(count for _, count in sheet.resting[-1].screws) == 10
    assert any("and 10 screws in them: " in line for line in sheet.on_return)


def test_what_to_do_before_one_goes_follows_from_what_is_open():
    record = load("tern-3")
    moves = teardown(record)
    whole = pause(record, moves)
    assert any("The cell lies out" in line for line in whole.on_leaving)
    assert any("adhesive faces" in line for line in whole.on_leaving)
    assert not any("battery is connected" in line for line in whole.on_leaving)
    assert any("battery is connected" in line for line in pause(record, moves[:4]).on_leaving)


def test_it_says_with_which_move_the_way_back_begins():
    record = load("tern-3")
    assert pause(record, moves_of_log(record, 10)).goes_on == "Upper mid cover"
    assert pause(record, ()).goes_on == ""


def test_the_sentences_are_said_in_the_language_that_is_asked_for():
    record = load("tern-3")
    sheet = pause(record, teardown(record)[:12], on_order=[Ordered("Strips", note="Friday")], code="de")
    english = pause(record, teardown(record)[:12], on_order=[Ordered("Strips", note="Friday")])
    assert sheet.last.endswith("geöffnet") or sheet.last.endswith("abgenommen")
    assert "Angekommen und das richtige Teil: Strips (Friday)." in sheet.on_return
    assert len(sheet.on_leaving) == len(english.on_leaving)
    assert len(sheet.on_return) == len(english.on_return)
    assert not {*sheet.on_leaving, *sheet.on_return} & {*english.on_leaving, *english.on_return}
