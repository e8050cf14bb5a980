from __future__ import annotations

from midframe.ways.restrict import beyond, restricted
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound
from ways.records import by_hand, joint, lifted, opened, part, record, work


def phone():
    either = ((work("cut", ["opening pick"], 60.0),), (work("warm", ["heating mat"], 90.0),))
    return record(
        [part("lid"), part("cell", lift=by_hand(5.0))], [joint("lid-glue", "lid frame", work=either)]
    )


def test_moves_beyond_the_tools_at_hand_are_told_by_alternative():
    assert list(beyond(Planner(phone()), {("heating mat",), ()}.__contains__)) == [opened("lid-glue", 1)]


def test_a_move_left_out_stays_left_out_when_more_is_left_out():
    once = restricted(Planner(phone()), without=frozenset({opened("lid-glue", 1)}))
    assert once.way("lid").moves == (opened("lid-glue", 2), lifted("lid"))
    twice = restricted(once, allowed={("opening pick",), ()}.__contains__)
    assert isinstance(twice.way("lid"), NoWayFound)


def test_a_lift_can_be_left_out():
    bare = restricted(Planner(phone()), without=frozenset({lifted("cell")}))
    assert isinstance(bare.way("cell"), NoWayFound)
    assert not isinstance(bare.way("lid"), NoWayFound)
