from __future__ import annotations

import msgspec
import pytest

from midframe.faults import UnknownPart
from midframe.record.model import Order
from midframe.ways.count import count
from midframe.ways.orders import compare_orders
from midframe.ways.solve import solve
from ways.records import (
    VECTOR_BENCH,
    joint,
    lifted,
    opened,
    part,
    record,
    vector_phone,
    with_joint,
    with_part,
    work,
)


def with_order(whole, target, *moves):
    return msgspec.structs.replace(whole, orders=(Order(target=target, moves=moves, title="Manual"),))


def compared(whole, target, *moves):
    (found,) = compare_orders(with_order(whole, target, *moves), bench=VECTOR_BENCH)
    return found


def small():
    return record(
        [part("lid"), part("cell", ["lid"]), part("motor", ["lid"])],
        [
            joint("lid-clips", "lid frame", work=((work("unclip", ["prying lever"], 20.0),),)),
            joint("cell-plug", "cell frame", behind=["lid"], work=((work("unplug", ["spudger"], 4.0),),)),
            joint("motor-glue", "motor frame", behind=["lid"], work=((work("pry", ["spudger"], 8.0),),)),
        ],
    )


CELL = (opened("lid-clips"), lifted("lid"), opened("cell-plug"), lifted("cell"))


def test_the_computed_way_as_an_order_differs_in_nothing():
    whole = vector_phone()
    way = solve(whole, "battery", bench=VECTOR_BENCH)
    found = compared(whole, "battery", *way.moves)
    assert (found.legal, found.gets_out, found.unneeded, found.findings) == (True, True, (), ())
    assert (found.steps, found.seconds) == (4, 242)
    assert found.difference.text == "in another order: as many steps, as many seconds"


def test_an_order_is_counted_by_the_counting_of_ways():
    whole = vector_phone()
    way = solve(whole, "front-camera", bench=VECTOR_BENCH)
    longer = (*way.moves, opened("screws-lower-bracket"), lifted("lower-bracket"))
    found = compared(whole, "front-camera", *longer)
    assert found.count == count(whole, longer, bench=VECTOR_BENCH)


def test_moves_that_the_target_does_not_need_are_told_by_number():
    found = compared(small(), "cell", *CELL[:2], opened("motor-glue"), *CELL[2:3], lifted("motor"), *CELL[3:])
    assert found.unneeded == (3, 5)
    assert [finding.level for finding in found.findings] == ["note", "note"]
    assert found.findings[1].path == "orders[0].moves[4]"
    assert found.findings[1].found == "move 5: lift motor, which getting cell out does not need"
    assert found.difference.spares == ("motor",)
    assert found.difference.text.startswith("the motor left in place: ")
    assert found.difference.more_seconds == -11


def test_moves_that_only_disconnect_the_battery_are_a_precaution():
    whole = with_part(small(), "cell", role="battery")
    plugged = with_joint(whole, "cell-plug", kind="connector")
    moves = (*CELL[:2], opened("cell-plug"), opened("motor-glue"), lifted("motor"))
    found = compared(plugged, "motor", *moves)
    assert (found.unneeded, found.precaution, found.findings) == ((), (3,), ())


def test_a_forbidden_move_is_a_fault_with_its_number_and_what_comes_first():
    found = compared(small(), "cell", opened("lid-clips"), opened("cell-plug"), *CELL[1:2])
    assert (found.legal, found.illegal_move, found.count, found.steps) == (False, 2, None, None)
    (finding,) = found.findings
    assert finding.level == "fault"
    assert finding.path == "orders[0].moves[1]"
    assert finding.subject == "cell-plug"
    assert finding.found == "move 2: open cell-plug: cell-plug lies behind lid"
    assert finding.right.startswith("first set aside lid")


def test_a_lift_with_a_closed_joint_says_which_to_open():
    found = compared(small(), "cell", lifted("lid"))
    assert found.findings[0].right.startswith("first open lid-clips")


def test_an_alternative_that_a_joint_does_not_have_is_a_fault():
    found = compared(small(), "cell", opened("lid-clips", 2))
    assert found.findings[0].found == "move 1: open lid-clips: there is no way 2 of opening it"


def test_unknown_ids_in_an_order_are_a_fault_of_that_move():
    found = compared(small(), "cell", opened("nothing"))
    assert found.findings[0].found == "move 1: no joint 'nothing' in the record"


@pytest.mark.parametrize(
    ("moves", "found"),
    [
        (CELL[:2], "an order after which cell is still held by cell-plug"),
        (CELL[:3], "an order after which cell has not been lifted"),
    ],
)
def test_an_order_that_leaves_its_target_in_place_says_what_is_left(moves, found):
    answer = compared(small(), "cell", *moves)
    assert (answer.legal, answer.gets_out, answer.difference) == (True, False, None)
    assert [finding.found for finding in answer.findings] == [found]


def test_a_target_that_the_record_does_not_have_is_refused():
    with pytest.raises(UnknownPart, match="no part 'nothing'"):
        compared(small(), "nothing")


def test_the_answer_can_be_written_as_json():
    found = compared(small(), "cell", *CELL)
    assert msgspec.json.decode(msgspec.json.encode(found))["steps"] == found.steps == 2
