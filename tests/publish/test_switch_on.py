from __future__ import annotations

from itertools import permutations

import pytest

from midframe.demo import load, names
from midframe.publish.refit import moves_of_log, refit
from midframe.publish.switch_on import arranged, in_time, switch_on
from midframe.record import check, faults
from midframe.record.model import Device, Joint, Move, Part, Record
from midframe.ways.backward import backward, replay_back
from midframe.ways.electrical import ELECTRICAL
from midframe.ways.rules import Rules, State
from midframe.ways.teardown import teardown
from publish.test_refit import assert_closes, walked
from ways.generators import small

LIFTED = Move(lift=("back",)), Move(lift=("display",))


def bond(part, **more):
    return Joint(id=f"{part}-bond", kind="adhesive", holds=(part, "frame"), **more)


def plug(part, *behind):
    return Joint(
        id=f"{part}-plug", kind="connector", holds=(part, "board"), tether=True, behind=tuple(behind)
    )


def two_faces(*joints, **under):
    """A phone with a bonded back and a bonded display; the board and the cell lie between them."""
    parts = [Part(id="frame", name="Frame"), Part(id="back", name="Back cover")]
    parts += [Part(id="display", name="Display", role="display")]
    parts += [Part(id="board", name="Board", under=under.get("board", (("back",),)), seat="frame")]
    parts += [Part(id="cell", name="Cell", role="battery", under=(("back",),), seat="frame")]
    parts += [Part(id="foil", name="Foil", seat="display")] if under.get("foil") else []
    device = Device(name="Two faces", kind="phone", body="frame", invented=True)
    made = Record(
        format=1,
        device=device,
        parts=tuple(parts),
        joints=(bond("back", face="back"), bond("display", face="front"), *joints),
    )
    assert not faults(check(made))
    return made


BOTH_BEHIND_THE_BACK = two_faces(plug("cell", ("back",)), plug("display", ("back",)))
EACH_FROM_ITS_FACE = two_faces(plug("cell", ("back",)), plug("display", ("display",)))


def legal_orders(record, *moves):
    """Every legal order of some moves."""
    for order in permutations(moves):
        try:
            Rules(record).replay(order)
        except ValueError:
            continue
        yield order


def opened(*joints):
    return tuple(Move(open=joint) for joint in joints)


@pytest.mark.parametrize("record", [BOTH_BEHIND_THE_BACK, EACH_FROM_ITS_FACE], ids=["back", "each"])
def test_with_both_faces_off_every_order_is_tried_with_all_plugged_and_one_closing_bond_to_come(record):
    joints = opened("back-bond", "display-bond", "cell-plug", "display-plug")
    orders = list(legal_orders(record, *joints, *LIFTED))
    assert len(orders) >= 10
    for order in orders:
        back = assert_closes(record, order)
        lines = {line.joint or line.parts[0]: line.number for line in back.lines}
        assert back.untried == ()
        assert max(lines["cell-plug"], lines["display-plug"]) < back.trial_before
        over = {f"{joint.behind[0][0]}-bond" for joint in record.joints if joint.kind == "connector"}
        to_come = [line.joint for line in back.lines[back.trial_before - 1 :] if line.joint in over]
        assert len(to_come) == 1


def test_the_face_that_is_closed_first_is_named_as_closed_by_then():
    moves = opened("display-bond", "back-bond", "cell-plug"), LIFTED, opened("display-plug")
    order = [moves[0][1], LIFTED[0], moves[0][2], moves[0][0], LIFTED[1], moves[2][0]]
    back = refit(EACH_FROM_ITS_FACE, order)
    assert [line.joint or line.parts[0] for line in back.lines] == [
        *("display-plug", "display", "display-bond", "cell-plug", "back", "back-bond")
    ]
    assert (back.trial_before, back.closed_by_then) == (5, ("Display bond",))


def test_a_cover_that_only_lies_in_its_place_is_placed_when_it_is_bonded():
    record = BOTH_BEHIND_THE_BACK
    order = (*opened("back-bond", "display-bond"), LIFTED[1], LIFTED[0], *opened("display-plug"))
    back = assert_closes(record, order)
    told = [line.joint or line.parts[0] for line in back.lines]
    assert told == ["display-plug", "display", "display-bond", "back", "back-bond"]
    assert back.trial_before == 4


def test_a_bond_over_nothing_electrical_does_not_close():
    record = load("tern-3")
    back = refit(record, moves_of_log(record))
    joints = [line.joint for line in back.lines[back.trial_before - 1 :]]
    assert [one for one in joints if one.endswith("bond")][-2:] == ["back-bond", "lens-bond"]


def test_without_a_bond_over_it_the_trial_follows_the_last_plug():
    record = two_faces(plug("cell", ("back",)), plug("display", ("back",)))
    clipped = [Joint(id="back-clips", kind="clip", holds=("back", "frame")), *record.joints[1:]]
    changed = Record(format=1, device=record.device, parts=record.parts, joints=tuple(clipped))
    order = (*opened("back-clips"), LIFTED[0], *opened("cell-plug", "display-bond"))
    back = refit(changed, order)
    assert [line.joint or line.parts[0] for line in back.lines][back.trial_before - 1] == "back"


def test_bonds_one_over_the_other_are_one_closing():
    foil = Joint(id="foil-bond", kind="adhesive", holds=("foil", "display"))
    record = two_faces(foil, plug("display", ("display",)), foil=True)
    record = Record(
        format=1,
        device=record.device,
        parts=record.parts,
        joints=tuple(
            Joint(id="display-bond", kind="adhesive", holds=("display", "frame"), behind=(("foil",),))
            if one.id == "display-bond"
            else one
            for one in record.joints
        ),
    )
    moves = (*opened("foil-bond"), Move(lift=("foil",)), *opened("display-bond"), LIFTED[1])
    back = refit(record, (*moves, *opened("display-plug")))
    assert [line.joint or line.parts[0] for line in back.lines] == [
        *("display-plug", "display", "display-bond", "foil", "foil-bond")
    ]
    assert back.trial_before == 2


@pytest.mark.parametrize("seed", range(40))
def test_whatever_was_opened_inside_is_connected_when_it_is_tried(seed):
    record = small(seed)
    for walk in range(4):
        moves, state = walked(record, walk, 12)
        rules = Rules(record)
        back = arranged(rules, backward(record, moves))
        assert replay_back(rules, state, back) == State()
        told = switch_on(rules, back)
        wired = [n for n, move in enumerate(back, 1) if move.close and is_wired(rules, move.close)]
        inside = [n for n in wired if rules.may_open(State(), back[n - 1].close) is not None]
        if told is None:
            assert not wired or max(inside or wired) == len(back)
            continue
        assert max(inside or wired) < told.before <= len(back)
        assert len(told.untried) == len([n for n in wired if n >= told.before])


def is_wired(rules, joint):
    return rules.joints[joint].kind in ELECTRICAL


@pytest.mark.parametrize("name", names())
def test_a_demo_device_is_tried_with_its_closing_to_come(name):
    record = load(name)
    for moves in (teardown(record), moves_of_log(record)):
        back = refit(record, moves)
        late = [line for line in back.lines if line.kind in ELECTRICAL and line.number >= back.trial_before]
        assert len(back.untried) == len(late)
        assert sum(line.trial for line in back.lines) == 1


def shielded(*orders):
    """A glued cell under a shield; the bond is free at once, so that it may have been opened first."""
    parts = (
        Part(id="frame", name="Frame"),
        Part(id="shield", name="Shield"),
        Part(id="cell", name="Cell", role="battery", under=(("shield",),)),
    )
    screws = Joint(id="shield-screws", kind="screw", holds=("shield", "frame"), count=2)
    device = Device(name="Shielded", kind="phone", body="frame", invented=True)
    made = Record(format=1, device=device, parts=parts, joints=(bond("cell"), screws))
    return made, tuple(
        Move(open=one) if one in ("cell-bond", "shield-screws") else Move(lift=(one,)) for one in orders
    )


@pytest.mark.parametrize(
    "opened",
    [("cell-bond", "shield-screws", "shield", "cell"), ("shield-screws", "cell-bond", "shield", "cell")],
)
def test_a_bond_opened_early_is_closed_before_its_part_is_covered(opened):
    made, moves = shielded(*opened)
    lines = [line.joint or " ".join(line.parts) for line in refit(made, moves).lines]
    assert lines == ["cell", "cell-bond", "shield", "shield-screws"]


def test_a_bond_that_is_not_covered_stays_where_it_was():
    made, moves = shielded("shield-screws", "shield", "cell-bond", "cell")
    back = backward(made, moves)
    assert in_time(Rules(made), back) == back


@pytest.mark.parametrize("name", names())
def test_bonds_in_time_are_the_same_moves_and_close_the_demo_devices(name):
    record = load(name)
    rules, back = Rules(record), backward(record, teardown(record))
    timed = in_time(rules, back)
    assert sorted(timed, key=lambda move: move.of) == sorted(back, key=lambda move: move.of)
    start = State(
        frozenset(move.close for move in back if move.close),
        frozenset(part for move in back for part in move.place),
    )
    assert replay_back(rules, start, timed) == State()
