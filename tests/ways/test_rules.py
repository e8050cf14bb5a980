"""The rules of the moves, one small record each, and what holds on every random walk."""

from __future__ import annotations

from random import Random

import pytest

from midframe.faults import IllegalMove, UnknownPart
from midframe.record import check, faults
from midframe.record.model import Move
from midframe.ways.rules import Refusal, Rules, State
from ways.generators import phone_like, small
from ways.records import joint, lifted, opened, part, record


def rules(parts, joints):
    """The rules of a sound record."""
    whole = record(parts, joints)
    assert not faults(check(whole))
    return Rules(whole)


def after(referee, *moves):
    return referee.replay(moves)


COVERED = (
    [part("cover"), part("cell", ["cover"])],
    [joint("clips", "cover frame"), joint("bond", "cell frame", behind=["cover"])],
)


def test_a_joint_opens_only_when_what_it_lies_behind_is_aside():
    referee = rules(*COVERED)
    assert referee.may_open(State(), "bond") == Refusal("bond lies behind cover", ("cover",))
    with pytest.raises(IllegalMove, match="open bond: bond lies behind cover"):
        after(referee, opened("bond"))
    assert "bond" in after(referee, opened("clips"), lifted("cover"), opened("bond")).open


def test_an_open_joint_opens_no_second_time():
    referee = rules(*COVERED)
    with pytest.raises(IllegalMove, match="move 2: open clips: clips is open already"):
        after(referee, opened("clips"), opened("clips"))


def test_a_part_rigidly_joined_to_the_body_is_not_lifted():
    referee = rules(*COVERED)
    assert referee.may_lift(State(), "cover") == Refusal("cover is still joined to frame", ("clips",))


def test_a_part_is_not_lifted_from_under_another():
    referee = rules([part("lid", seat="frame"), part("gasket", ["lid"], seat="frame")], [])
    assert referee.may_lift(State(), "gasket") == Refusal("gasket lies under lid", ("lid",))
    assert after(referee, lifted("lid"), lifted("gasket")).aside == {"lid", "gasket"}


@pytest.mark.parametrize("first", ["display", "board"])
def test_one_of_several_alternatives_aside_is_enough(first):
    parts = [part("display", seat="frame"), part("board", seat="frame"), part("camera", seat="frame")]
    referee = rules(parts, [joint("plug", "camera frame", behind=["display", "board"])])
    assert "plug" in after(referee, lifted(first), opened("plug")).open


def test_all_parts_of_an_alternative_have_to_be_aside_and_the_nearest_alternative_is_named():
    parts = [part(name, seat="frame") for name in ("a", "b", "c", "d")]
    referee = rules(parts, [joint("plug", "d frame", behind=["a b", "a b c"])])
    assert referee.may_open(after(referee, lifted("a")), "plug").waits_for == ("b",)
    assert referee.may_open(after(referee, lifted("a"), lifted("b")), "plug") is None


def test_parts_joined_to_one_another_leave_together_and_both_are_aside():
    referee = rules(
        [part("camera", seat="frame"), part("board", seat="frame")], [joint("plug", "camera board")]
    )
    assert referee.group(State(), "camera") == {"camera", "board"}
    assert after(referee, lifted("camera")).aside == {"camera", "board"}


def test_two_parts_that_cover_each_other_are_lifted_together():
    parts = [part("stack", ["pad"], seat="frame"), part("pad", ["stack"], seat="frame")]
    referee = rules(parts, [joint("bond", "stack pad")])
    assert after(referee, lifted("stack")).aside == {"stack", "pad"}
    assert referee.may_lift(after(referee, opened("bond")), "stack").waits_for == ("pad",)


SHIELDED = (
    [part("board"), part("shield", seat="board"), part("chip", ["shield"], seat="board")],
    [
        joint("screws", "board frame"),
        joint("clip", "shield board"),
        joint("pads", "chip board", behind=["shield"]),
    ],
)


def test_a_shield_that_rides_out_on_its_board_is_not_aside_and_still_covers():
    referee = rules(*SHIELDED)
    state = after(referee, opened("screws"), lifted("board"))
    assert state.aside == {"board"}
    assert referee.may_open(state, "pads").waits_for == ("shield",)


def test_a_shield_is_lifted_off_its_board_on_the_mat():
    referee = rules(*SHIELDED)
    state = after(referee, opened("screws"), lifted("board"), opened("clip"), lifted("shield"))
    assert state.aside == {"board", "shield"}
    assert referee.may_open(state, "pads") is None


def test_a_shield_is_lifted_off_its_board_in_the_device_and_the_board_then_leaves_without_it():
    referee = rules(*SHIELDED)
    state = after(referee, opened("clip"), lifted("shield"))
    assert state.aside == {"shield"}
    assert referee.group(after(referee, opened("clip"), lifted("shield"), opened("screws")), "board") == {
        "board",
        "chip",
    }


def test_what_is_still_joined_to_its_carrier_cannot_be_lifted_off_it_alone():
    referee = rules(*SHIELDED)
    assert referee.may_lift(State(), "shield").waits_for == ("clip",)
    away = after(referee, opened("screws"), lifted("board"))
    text = "shield would ride on board; grip a part that leaves its seat"
    assert referee.may_lift(away, "shield") == Refusal(text, ("clip",))


def test_a_loose_rider_comes_along_and_needs_no_joint():
    referee = rules([part("plate"), part("pad", seat="plate")], [joint("screws", "plate frame")])
    assert referee.group(State(), "plate") >= {"plate", "pad"}
    assert after(referee, opened("screws"), lifted("plate")).aside == {"plate"}
    assert after(referee, lifted("pad")).aside == {"pad"}


def test_a_rider_still_joined_to_the_body_holds_its_carrier():
    parts = [part("plate"), part("grille", seat="plate")]
    referee = rules(parts, [joint("screws", "plate frame"), joint("wire", "grille frame")])
    state = after(referee, opened("screws"))
    assert referee.may_lift(state, "plate").text == "plate is still joined to frame"
    assert referee.may_lift(after(referee, opened("screws"), opened("wire")), "plate") is None


def test_what_rides_away_on_its_carrier_no_longer_covers_what_was_left_behind():
    parts = [part("plate"), part("foil", seat="plate"), part("coil", ["foil"], seat="frame")]
    referee = rules(parts, [joint("screws", "plate frame"), joint("glue", "foil plate")])
    assert referee.may_lift(State(), "coil").waits_for == ("foil",)
    assert referee.may_lift(after(referee, opened("screws"), lifted("plate")), "coil") is None


TETHERED = (
    [part("display"), part("board", ["display"])],
    [
        joint("bond", "display frame"),
        joint("flex", "display board", "connector", ["display"], tether=True),
        joint("screws", "board frame", behind=["display"]),
    ],
)


def test_a_part_on_a_tether_folds_aside_without_its_neighbour_but_is_not_out():
    referee = rules(*TETHERED)
    state = after(referee, opened("bond"), lifted("display"))
    assert state.aside == {"display"}
    assert not referee.out(state, "display")
    assert referee.out(after(referee, opened("bond"), lifted("display"), opened("flex")), "display")


def test_a_tether_may_wait_until_its_own_part_is_folded_aside():
    referee = rules(*TETHERED)
    assert referee.may_open(State(), "flex").waits_for == ("display",)


def test_a_part_is_not_out_while_a_tether_leads_from_it():
    referee = rules(*TETHERED)
    state = after(referee, opened("bond"), lifted("display"), opened("screws"), lifted("board"))
    assert state.aside == {"display", "board"}
    assert not referee.out(state, "board")


def test_a_part_that_hangs_aside_is_not_asked_for_what_it_lies_under_again():
    parts = [
        part("lid", seat="frame"),
        part("board", ["lid"], seat="frame"),
        part("chip", ["board"], seat="board"),
    ]
    referee = rules(parts, [])
    state = after(referee, lifted("lid"), lifted("board"))
    assert referee.may_lift(state, "chip") is None
    text = "board is aside already; grip a part that leaves its seat"
    assert referee.may_lift(state, "board") == Refusal(text)


def test_a_bundle_is_out_without_opening_what_joins_its_members():
    parts = [part("board", bundle=("port",)), part("port", seat="board")]
    joints = [joint("screws", "board frame"), joint("pads", "port board", "solder")]
    referee = rules(parts, joints)
    state = after(referee, opened("screws"), lifted("board"))
    assert referee.out(state, "board")
    assert not referee.out(state, "port")


def test_a_bundle_is_not_out_while_a_member_with_a_seat_outside_is_in_place():
    parts = [part("module", bundle=("cable",), seat="frame"), part("cable", seat="frame")]
    referee = rules(parts, [joint("plug", "module cable", "connector", tether=True)])
    assert not referee.out(after(referee, lifted("module")), "module")
    assert referee.out(after(referee, lifted("module"), lifted("cable")), "module")


def test_a_lift_may_name_all_that_comes_along_but_nothing_else():
    parts = [part("camera", seat="frame"), part("board", seat="frame"), part("coil", seat="frame")]
    referee = rules(parts, [joint("plug", "camera board")])
    assert after(referee, lifted("camera", "board")).aside == {"camera", "board"}
    with pytest.raises(IllegalMove, match="coil does not come along with camera"):
        after(referee, lifted("camera", "coil"))


def test_unknown_ids_are_named():
    referee = rules(*COVERED)
    with pytest.raises(UnknownPart, match="no joint 'clip' in the record"):
        after(referee, opened("clip"))
    with pytest.raises(UnknownPart, match="no part 'lid' in the record"):
        after(referee, lifted("lid"))


def test_a_move_that_names_nothing_is_refused():
    with pytest.raises(IllegalMove, match="a lift names at least one part"):
        after(rules(*COVERED), Move())


def walked(referee, random):
    """States and moves of one random walk to its end."""
    state = State()
    while moves := referee.legal(state):
        move = random.choice(moves)
        following = referee.apply(state, move)
        yield state, move, following
        state = following


def walks():
    """Random walks over generated records, many small and a few phone-like."""
    for seed in range(150):
        yield Rules(small(seed)), Random(seed)
    for seed, size in ((1, 20), (2, 20), (3, 40)):
        yield Rules(phone_like(seed, size, linked=True)), Random(seed)


def test_on_every_walk_open_and_aside_only_grow_and_every_move_adds_something():
    for referee, random in walks():
        for before, move, following in walked(referee, random):
            assert before.open <= following.open
            assert before.aside <= following.aside
            assert before != following
            assert (before.open != following.open) == bool(move.open)


def test_on_every_walk_legal_moves_apply_and_all_others_are_refused_with_a_reason():
    for referee, random in walks():
        moves = [*map(opened, referee.joints), *map(lifted, referee.parts)]
        for state, _, _ in walked(referee, random):
            legal = set(referee.legal(state))
            assert legal <= set(moves)
            for move in moves:
                if move in legal:
                    assert referee.apply(state, move) != state
                else:
                    name = move.open or move.lift[0]
                    with pytest.raises(IllegalMove, match=rf"^(open|lift) {name}: .{{8,}}"):
                        referee.apply(state, move)


def test_on_every_walk_the_body_stays_and_what_is_out_stays_out():
    for referee, random in walks():
        out = set()
        for _, _, following in walked(referee, random):
            assert referee.body not in following.aside
            now = {one for one in referee.parts if one != referee.body and referee.out(following, one)}
            assert out <= now
            out = now


def test_a_replay_tells_the_number_of_the_move_that_fails():
    with pytest.raises(IllegalMove, match=r"^move 3: lift cell"):
        after(rules(*COVERED), opened("clips"), lifted("cover"), lifted("cell"))
