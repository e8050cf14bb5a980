from __future__ import annotations

from itertools import combinations

import msgspec
import pytest

from midframe.faults import UnknownPart
from midframe.ways.alternatives import alternatives, distinct, worth
from midframe.ways.count import count
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS
from midframe.ways.orders import gets_out, unneeded_moves
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound
from ways.generators import small
from ways.records import VECTOR_BENCH, joint, part, record, vector_phone, work
from ways.restricted import cheapest_of


def vector(target, objective=STEPS_THEN_SECONDS, **more):
    return alternatives(Planner(vector_phone(), objective, bench=VECTOR_BENCH), target, **more)


def test_the_front_camera_of_the_vector_has_both_ways():
    # Values proven by brute force, search and constraint solver (invented phone, own construction).
    found = vector("front-camera")
    assert (found.best.steps, found.best.seconds) == (4, 338)
    (board,) = found.others
    assert (board.way.steps, board.way.seconds) == (5, 209)
    assert board.difference.text == (
        "from the back, through the main-board instead of the display: 1 step more, 129 s less"
    )
    assert found.complete


def test_with_seconds_first_the_same_two_ways_change_places():
    found = vector("front-camera", SECONDS)
    assert found.best.seconds == 209
    (display,) = found.others
    assert display.way.seconds == 338
    assert display.difference.text == (
        "from the front, through the display instead of the main-board: 1 step less, 129 s more"
    )
    assert (display.difference.more_steps, display.difference.more_seconds) == (-1, 129)


def test_a_part_with_one_way_has_no_alternative():
    found = vector("battery")
    assert found.others == ()
    assert found.complete


def test_another_way_of_opening_a_joint_is_an_alternative():
    soak = (work("soak", ["isopropanol"], 30.0), work("pry", ["prying lever"], 90.0))
    pull = (work("pull tab", [], 40.0),)
    whole = record([part("cell")], [joint("bond", "cell frame", work=(pull, soak))])
    found = alternatives(Planner(whole), "cell")
    (other,) = found.others
    assert other.difference.opens_otherwise == ("bond",)
    assert other.difference.text.startswith("bond: soak, pry instead of pull tab: ")


def test_work_added_to_a_way_is_no_alternative_to_it():
    whole = record(
        [part("lid"), part("plate", ["lid cell"]), part("cell", ["lid"])],
        [
            joint("lid-glue", "lid frame", work=((work("cut", ["opening pick"], 60.0),),)),
            joint("plate-pad", "plate frame", behind=["lid"]),
            joint("cell-bond", "cell frame", work=((work("pry", ["prying lever"], 90.0),),)),
        ],
    )
    assert alternatives(Planner(whole), "cell").others == ()


def test_only_as_many_as_asked_for_and_best_first():
    routes = [f"r{number}" for number in range(4)]
    pads = [
        joint(f"pad-{name}", f"{name} frame", work=((work("pry", ["spudger"], 10.0 * number + 10.0),),))
        for number, name in enumerate(routes)
    ]
    whole = record(
        [*(part(name, seat="frame") for name in routes), part("cell", routes)],
        [*pads, joint("cell-pad", "cell frame", work=((work("pry", ["spudger"], 5.0),),))],
    )
    found = alternatives(Planner(whole), "cell", most=2)
    assert [other.difference.lifts for other in found.others] == [("r1",), ("r2",)]
    every = alternatives(Planner(whole), "cell", most=9)
    assert [other.difference.lifts for other in every.others] == [("r1",), ("r2",), ("r3",)]


def test_where_the_solves_run_out_it_says_so():
    assert not vector("front-camera", solves=1).complete


def test_a_part_without_a_way_has_no_alternatives():
    locked = record([part("lid", ["lid"])], [joint("lid-glue", "lid frame", behind=["lid"])])
    found = alternatives(Planner(locked), "lid")
    assert isinstance(found.best, NoWayFound)
    assert found.others == ()
    with pytest.raises(UnknownPart):
        alternatives(Planner(locked), "nothing")


@pytest.mark.parametrize("seed", range(40))
def test_alternatives_are_legal_distinct_needed_ranked_and_none_is_passed_over(seed):
    whole = small(seed)
    planner = Planner(whole)
    for one in whole.parts[1:]:
        found = alternatives(planner, one.id, most=2)
        if isinstance(found.best, NoWayFound):
            continue
        ways = [found.best, *(other.way for other in found.others)]
        values = [way.value for way in ways]
        assert values == sorted(values)
        for way in ways:
            assert gets_out(planner.rules, way.moves, one.id)
            assert unneeded_moves(planner.rules, way.moves, one.id) == ()
        for left, right in combinations(ways, 2):
            assert distinct(whole, left.count, right.count)
        if found.complete:
            for move in found.best.moves:
                (other,) = cheapest_of(whole, [(one.id,)], lambda allowed, barred=move: allowed != barred)
                if other is not None and worth(whole, count(whole, other.moves), [found.best]):
                    assert len(ways) > 1
                    assert ways[1].value <= other.value


def test_the_answer_can_be_written_as_json():
    assert msgspec.json.decode(msgspec.json.encode(vector("front-camera")))["target"] == "front-camera"
