"""The counting against proven values of an invented phone, the moves against a published number of orders.

The phone and its optima are an own construction; the values were found there
by brute force, by a search and by a constraint solver that share no code with
midframe. Here the referee and the counting alone must reproduce them.
"""

from __future__ import annotations

import pytest

from midframe.record import check, faults
from midframe.ways.count import count
from midframe.ways.objective import SECONDS, STEPS, STEPS_THEN_SECONDS, Objective, Term
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules, State
from ways.brute import brute, cheapest, relevant
from ways.records import (
    VECTOR_BENCH,
    VECTOR_ORDER,
    condition,
    joint,
    part,
    record,
    vector_phone,
    vector_phone_joined,
    with_joint,
    without_joint,
)

MIXED = Objective((Term(steps=20, seconds=1, risk=500),))
"""20 a step, 1 a second, 5 a hundredth of risk."""

COLUMNS = (
    ("segment", STEPS, Readings()),
    ("strict", STEPS, Readings(swaps="strict")),
    ("hand", STEPS, Readings(bare_hand=True)),
    ("seconds", SECONDS, Readings()),
    ("both", STEPS_THEN_SECONDS, Readings()),
    ("mixed", MIXED, Readings()),
)

TABLE = {
    "back-cover": (1, 1, 2, 130, (1, 130), 165),
    "upper-bracket": (2, 3, 4, 167, (2, 167), 222),
    "lower-bracket": (2, 3, 4, 173, (2, 173), 228),
    "display": (2, 2, 3, 165, (2, 165), 235),
    "rear-camera": (3, 5, 6, 178, (3, 178), 253),
    "main-board": (4, 5, 7, 206, (4, 206), 301),
    "front-camera": (4, 6, 7, 209, (4, 338), 324),
    "battery": (4, 6, 7, 242, (4, 242), 377),
    "speaker": (3, 4, 5, 176, (3, 176), 251),
    "sub-board": (4, 6, 8, 203, (4, 207), 302),
    "earpiece": (3, 4, 5, 187, (3, 187), 277),
    "vibration-motor": (3, 5, 6, 188, (3, 188), 263),
}
"""Proven optima per part, in the order of COLUMNS (own construction)."""


def expected(target, column):
    """The value of the table in the units of `Objective.value`: thousandths of each figure."""
    value = TABLE[target][column]
    return tuple(1000 * figure for figure in (value if isinstance(value, tuple) else (value,)))


def cases():
    """Every cell of the table."""
    return [
        pytest.param(target, number, id=f"{target}-{COLUMNS[number][0]}")
        for target in TABLE
        for number in range(len(COLUMNS))
    ]


def by_brute_force(whole, target, objective, readings=None, wait=None):
    only = relevant(whole, target)
    return brute(whole, target, objective, readings, VECTOR_BENCH, wait=wait, only=only)


def test_the_phones_are_sound_records():
    assert not faults(check(vector_phone()))
    assert not faults(check(vector_phone_joined()))


@pytest.mark.parametrize(("target", "column"), cases())
def test_brute_force_over_referee_and_counting_gives_every_value_of_the_table(target, column):
    _, objective, readings = COLUMNS[column]
    whole = vector_phone()
    best = by_brute_force(whole, target, objective, readings, wait=VECTOR_ORDER)
    assert best.value == expected(target, column)
    assert objective.value(count(whole, best.moves, readings, VECTOR_BENCH)) == best.value


@pytest.mark.parametrize(("target", "column"), cases())
def test_the_orders_a_record_cannot_say_change_nothing_but_the_earpiece(target, column):
    _, objective, readings = COLUMNS[column]
    whole = vector_phone_joined() if target == "earpiece" else vector_phone()
    assert by_brute_force(whole, target, objective, readings).value == expected(target, column)


def test_from_the_back_the_display_takes_five_steps():
    whole = with_joint(vector_phone(), "plug-display", behind=condition("main-board"))
    assert by_brute_force(whole, "display", STEPS).value == (5000,)


def test_the_earpiece_takes_5_moves_from_the_front_and_12_from_the_back():
    front = by_brute_force(vector_phone(), "earpiece", SECONDS, wait=VECTOR_ORDER)
    assert (front.value, len(front.moves)) == ((187_000,), 5)
    whole = with_joint(vector_phone(), "glue-earpiece", behind=condition("main-board"))
    back = by_brute_force(whole, "earpiece", SECONDS)
    assert (back.value, len(back.moves)) == ((228_000,), 12)


@pytest.mark.slow
def test_everything_out_takes_537_seconds():
    (best,) = cheapest(
        vector_phone(), [tuple(TABLE)], SECONDS, None, VECTOR_BENCH, wait=VECTOR_ORDER, limit=600_000
    )
    assert best.value == (537_000,)


def summed(whole, objective):
    """The cheapest ways to all parts added up, in whole units; an absent joint counts as open."""
    left = {one.id for one in whole.joints}
    wait = {
        name: groups
        for name, groups in VECTOR_ORDER.items()
        if name in left and all(set(group) & (left | TABLE.keys()) for group in groups)
    }
    return sum(by_brute_force(whole, target, objective, wait=wait).value[0] for target in TABLE) // 1000


@pytest.mark.parametrize(
    ("objective", "joint_gone", "saved"),
    [(STEPS, "screws-upper-bracket", 5), (SECONDS, "glue-back-cover", 1323)],
    ids=["steps", "seconds"],
)
def test_the_joint_whose_loss_saves_most_is_the_one_of_the_vector(objective, joint_gone, saved):
    whole = vector_phone()
    before = summed(whole, objective)
    savings = {one.id: before - summed(without_joint(whole, one.id), objective) for one in whole.joints}
    assert savings[joint_gone] == saved
    assert max(savings.values()) == saved
    assert list(savings.values()).count(saved) == 1


def orders(rules, state):
    """How many orders of legal moves lead from a state to one where nothing is left to do."""
    moves = rules.legal(state)
    return sum(orders(rules, rules.apply(state, move)) for move in moves) if moves else 1


def test_a_ballpoint_pen_comes_apart_in_thirty_orders():
    # [ullman-design, section 11.5, p. 341]: five connections; on assembly 3 before 4 and 1 before 5, so taken
    # apart 4 before 3 and 5 before 1. A part aside for good stands for each connection; none has a joint.
    names = ("1", "2", "3", "4", "5")
    after = {"3": ("4",), "1": ("5",)}
    pen = record(
        [part(f"c{name}", [f"c{a}" for a in after.get(name, ())], seat="frame") for name in names], []
    )
    assert orders(Rules(pen), State()) == 30


def test_without_its_two_conditions_the_pen_would_have_all_120_orders():
    joints = [joint(f"c{name}", f"p{name} frame") for name in "12345"]
    pen = record([part(f"p{name}", seat="frame") for name in "12345"], joints)
    only_joints = Rules(pen)

    def openings(state):
        moves = [move for move in only_joints.legal(state) if move.open]
        return sum(openings(only_joints.apply(state, move)) for move in moves) if moves else 1

    assert openings(State()) == 120
