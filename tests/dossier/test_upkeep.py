"""The times a record hands to the maintainability estimate, and the closed-form shares of the failure mix."""

from __future__ import annotations

import msgspec
import pytest

from dossier.worked import hand_opened
from midframe.demo import load
from midframe.dossier.shares import fault_shares, part_shares
from midframe.dossier.upkeep import RefitTimes, device_upkeep, times_of_way
from midframe.faults import BadSetting
from midframe.upkeep import UpkeepSettings, failure_mix
from midframe.ways.count import count
from ways.records import VECTOR_BENCH, joint, lifted, opened, part, record, with_joint, work

FEW = UpkeepSettings(draws=1000)


def bonded():
    """A lid under two screws, a cell in a bond that is heated, soaked and pried."""
    steps = (
        work("heat rim", ["heating mat"], 100),
        work("soak", ["isopropanol"], 30),
        work("pry", ["lever"], 20),
    )
    return record(
        [part("lid", role="back_cover"), part("cell", ("lid",), role="battery")],
        [
            joint("screws", "lid frame", "screw", count=2, drive="hexalobular 4"),
            joint("bond", "cell frame", "adhesive", ("lid",), work=(steps,)),
        ],
    )


def test_every_move_change_and_turn_is_a_time_of_its_own_and_waits_stand_apart():
    moves = (opened("screws"), lifted("lid"), opened("bond"), lifted("cell"))
    whole = bonded()
    times = times_of_way(whole, count(whole, moves, bench=VECTOR_BENCH), RefitTimes())
    # driver 4 + 2 × 6, lid 3, mat 4, solvent 4, lever 4, pry 20, cell 3; refit by kind instead of the work
    assert times.way_in == (4.0, 12.0, 3.0, 12.0, 20.0, 3.0)
    assert times.fixed == 100 + 30 + RefitTimes().press_seconds
    assert sorted(times.refit) == sorted((4.0, 7.0, 7.0, 3.0, 12.0, 60.0, 45.0, 3.0))


def test_way_in_and_waits_add_up_to_the_seconds_of_the_way():
    whole = bonded()
    moves = (opened("screws"), lifted("lid"), opened("bond"), lifted("cell"))
    counted = count(whole, moves)
    times = times_of_way(whole, counted, RefitTimes(press_seconds=0.0))
    assert sum(times.way_in) + times.fixed == pytest.approx(counted.seconds)


def test_a_part_with_two_roles_has_a_row_for_each():
    found = device_upkeep(hand_opened(), settings=FEW)
    keys = {row.key: row.role for row in found.upkeep.parts}
    assert keys["port"] == "charging_port"
    assert keys["port:microphone"] == "microphone"
    assert [one.part for one in found.seconds].count("port") == 1


def test_other_parts_take_part_only_where_the_shop_counts_them():
    def roles(own):
        return {row.role for row in device_upkeep(hand_opened(), own, FEW).upkeep.parts}

    assert "other" not in roles(None)
    assert "other" in roles({"other": 3})


def test_own_jobs_shift_the_mean_towards_the_parts_they_name():
    rest, many = device_upkeep(hand_opened(), None, FEW), device_upkeep(hand_opened(), {"button": 500}, FEW)
    button = next(row for row in rest.upkeep.parts if row.role == "button").time.mean_seconds
    assert abs(many.upkeep.mean_seconds - button) < abs(rest.upkeep.mean_seconds - button)


def test_a_part_without_a_way_is_left_out_with_its_reason():
    stuck = with_joint(hand_opened(), "button-tape", behind=(("button",),))
    found = device_upkeep(stuck, settings=FEW)
    assert [one.part for one in found.unreachable] == ["button"]
    assert found.unreachable[0].reason


def test_a_record_without_a_part_that_fails_is_refused():
    with pytest.raises(BadSetting, match="parts"):
        device_upkeep(record([part("lid")], [joint("clips", "lid frame", "clip")]), settings=FEW)


@pytest.mark.parametrize("own", [None, {"display": 10, "rear_camera": 4, "hinge": 2}])
@pytest.mark.parametrize("kind", ["phone", "tablet"])
def test_closed_form_shares_are_the_means_of_the_drawn_mix(kind, own):
    drawn = {row.fault: row.share for row in failure_mix(kind, own, draws=200_000).rows}
    exact = fault_shares(kind, own)
    assert exact.keys() == drawn.keys()
    assert exact == pytest.approx(drawn, abs=0.002)


def test_shares_of_parts_lie_near_those_of_the_estimate():
    # The estimate takes the mean of a quotient, the closed form the quotient of means.
    whole = load("tern-2")
    estimate: dict[str, float] = {}
    for row in device_upkeep(whole, settings=UpkeepSettings(draws=20_000)).upkeep.parts:
        one = row.key.split(":")[0]
        estimate[one] = estimate.get(one, 0.0) + row.share
    for one, share in part_shares(whole).items():
        assert estimate[one] == pytest.approx(share, abs=0.03), one


def test_the_result_goes_into_plain_values():
    plain = msgspec.to_builtins(device_upkeep(hand_opened(), settings=FEW))
    assert plain["upkeep"]["mean_seconds"] > 0
    assert plain["chances"]
