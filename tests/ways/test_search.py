"""The exact search against brute force on generated records, and laws that every cheapest way obeys."""

from __future__ import annotations

from random import Random

import msgspec
import pytest

from midframe.faults import NoWay
from midframe.record import check, faults
from midframe.record.structure import seats
from midframe.ways.bench import lift_face
from midframe.ways.count import count
from midframe.ways.objective import SECONDS, STEPS
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules
from midframe.ways.solve import solve, solve_all, solve_set
from midframe.ways.way import NoWayFound
from ways.brute import brute_all, brute_value, cheapest, still_leads
from ways.generators import plain, small
from ways.settings import BENCHES, SETTINGS

NAMES = tuple(SETTINGS)
BATCH = 20


def value_of(record, target, objective, readings=None, bench=None):
    """The value the search finds for a target, None for no way."""

    try:
        return solve(record, target, objective, readings, bench, limit=None).value
    except NoWay:
        return None


def all_values(record, objective, readings=None, bench=None):
    """The values the search finds for all parts at once."""

    ways = solve_all(record, objective, readings, bench, limit=None)
    return {name: None if isinstance(way, NoWayFound) else way.value for name, way in ways.items()}


def two_settings(seed):
    """Two of the sixteen settings, so that records in a row go through all of them."""
    return [NAMES[seed % 16], NAMES[(seed + 5) % 16]]


def larger(seed):
    """A small record of up to seven parts and ten joints."""
    return small(seed, parts=(5, 7), joints=10)


def compare(record, names, bench, told):
    """The search against brute force; returns how many values were compared."""
    compared = 0
    for name in names:
        objective, readings = SETTINGS[name]
        found = all_values(record, objective, readings, bench)
        for target, best in brute_all(record, objective, readings, bench).items():
            assert found[target] == brute_value(best), f"{told}, {name}, {target}: best {best}"
            compared += 1
    return compared


def compare_all(records):
    """Every record of (record, names, bench, told) compared."""
    assert sum(compare(*one) for one in records) >= BATCH


@pytest.mark.parametrize("first", range(0, 400, BATCH))
def test_search_and_brute_force_agree_on_small_records(first):
    compare_all(
        (small(seed), [NAMES[seed % 16], NAMES[(seed // 3) % 16]], BENCHES["usual"], f"small({seed})")
        for seed in range(first, first + BATCH)
    )


@pytest.mark.slow
@pytest.mark.parametrize("first", range(1000, 4000, BATCH))
def test_search_and_brute_force_agree_on_thousands_of_records_and_every_objective(first):
    compare_all(
        (small(seed), two_settings(seed), BENCHES["usual" if seed % 3 else "slow to turn"], f"small({seed})")
        for seed in range(first, first + BATCH)
    )


@pytest.mark.slow
@pytest.mark.parametrize("first", range(5000, 5300, BATCH))
def test_search_and_brute_force_agree_on_records_of_up_to_ten_joints(first):
    compare_all(
        (larger(seed), [NAMES[seed % 16], NAMES[seed % 4]], BENCHES["usual"], f"larger({seed})")
        for seed in range(first, first + BATCH)
    )


@pytest.mark.parametrize("first", range(0, 60, BATCH))
def test_search_and_brute_force_agree_without_bundles(first):
    compare_all(
        (plain(seed), [NAMES[seed % 16]], BENCHES["slow to turn"], f"plain({seed})")
        for seed in range(first, first + BATCH)
    )


@pytest.mark.parametrize("first", range(0, 60, BATCH))
def test_one_target_alone_costs_what_it_costs_among_all(first):
    for seed in range(first, first + BATCH):
        record = small(seed)
        objective, readings = SETTINGS[NAMES[seed % len(NAMES)]]
        together = all_values(record, objective, readings)
        for target, value in together.items():
            assert value_of(record, target, objective, readings) == value, (seed, target)


@pytest.mark.parametrize("first", range(0, 60, BATCH))
def test_several_parts_out_agree_with_brute_force(first):

    for seed in range(first, first + BATCH):
        record = small(seed)
        random = Random(seed)
        names = [part.id for part in record.parts if part.id != "frame"]
        targets = tuple(random.sample(names, random.randint(1, len(names))))
        objective, readings = SETTINGS[NAMES[seed % len(NAMES)]]
        (best,) = cheapest(record, [targets], objective, readings)
        try:
            value = solve_set(record, targets, objective, readings).value
        except NoWay:
            value = None
        assert value == brute_value(best), (seed, targets)


def ways(first, settings=NAMES):
    """Generated records with every way the search finds, seed by seed."""

    for seed in range(first, first + BATCH):
        record = small(seed)
        objective, readings = SETTINGS[settings[seed % len(settings)]]
        for target, way in solve_all(record, objective, readings).items():
            if not isinstance(way, NoWayFound):
                yield record, target, objective, readings, way


@pytest.mark.parametrize("first", range(0, 200, BATCH))
def test_the_moves_of_a_way_reach_the_goal_and_cost_what_is_claimed(first):
    for record, target, objective, readings, way in ways(first):
        rules = Rules(record)
        assert rules.out(rules.replay(way.moves), target)
        counted = count(record, way.moves, readings)
        assert objective.value(counted) == way.value
        assert way.count == counted
        assert way.proven
        assert way.bound == way.value


@pytest.mark.parametrize("first", range(0, 200, BATCH))
def test_no_move_of_a_way_can_be_left_out(first):
    for record, target, _, _, way in ways(first):
        rules = Rules(record)
        for number in range(len(way.moves)):
            shorter = way.moves[:number] + way.moves[number + 1 :]
            assert not still_leads(rules, shorter, (target,)), (target, way.moves, number)


def no_cheaper(before, after):
    """Whether every value of `after` is at least that of `before`; no way at all is dearest."""
    return all(
        after[name] is None or (value is not None and after[name] >= value)
        for name, value in before.items()
        if name in after
    )


def with_one_more_condition(record, random):
    """The record with one more part in the way of a joint or part, or None where that is unsound."""
    names = [part.id for part in record.parts if part.id != "frame"]
    extra = random.choice(names)

    def harder(condition):
        return tuple(dict.fromkeys((*one, extra) for one in condition)) or ((extra,),)

    if record.joints and random.random() < 0.6:
        chosen = random.choice(record.joints)
        joints = tuple(
            msgspec.structs.replace(joint, behind=harder(joint.behind)) if joint is chosen else joint
            for joint in record.joints
        )
        changed = msgspec.structs.replace(record, joints=joints)
    else:
        name = random.choice([one for one in names if one != extra] or names)
        parts = tuple(
            msgspec.structs.replace(part, under=harder(part.under)) if part.id == name else part
            for part in record.parts
        )
        changed = msgspec.structs.replace(record, parts=parts)
    return None if faults(check(changed)) else changed


@pytest.mark.parametrize("first", range(0, 200, BATCH))
def test_one_more_condition_makes_no_way_cheaper(first):
    tried = 0
    for seed in range(first, first + BATCH):
        record = small(seed)
        changed = with_one_more_condition(record, Random(seed))
        if changed is not None:
            tried += 1
            objective, readings = SETTINGS[NAMES[seed % len(NAMES)]]
            before, after = (all_values(one, objective, readings) for one in (record, changed))
            assert no_cheaper(before, after), seed
    assert tried > BATCH // 3


def faces(record):
    """The face every part is lifted from."""
    return {part.id: lift_face(part, record.joints) for part in record.parts}


def without_one_joint(record):
    """Records that lack one joint to the body or one tether, seats and lifting faces kept.

    A joint between two other parts is left: it may carry one of them out for nothing.
    """
    seat_of = seats(record)
    said = msgspec.structs.replace(
        record,
        parts=tuple(
            part if part.id == "frame" else msgspec.structs.replace(part, seat=seat_of[part.id])
            for part in record.parts
        ),
    )
    for joint in record.joints:
        if joint.tether or "frame" in joint.holds:
            fewer = tuple(other for other in record.joints if other is not joint)
            changed = msgspec.structs.replace(said, joints=fewer)
            if faces(changed) == faces(record) and not faults(check(changed)):
                yield changed


@pytest.mark.parametrize("first", range(0, 60, BATCH))
def test_a_joint_less_makes_no_way_dearer(first):
    tried = 0
    for seed in range(first, first + BATCH):
        record = small(seed)
        objective, readings = SETTINGS[NAMES[seed % len(NAMES)]]
        before = all_values(record, objective, readings)
        for changed in without_one_joint(record):
            tried += 1
            assert no_cheaper(all_values(changed, objective, readings), before), seed
    assert tried > BATCH


def with_one_tool(record):
    """The record with every tool replaced by the same one."""

    def same(step):
        return msgspec.structs.replace(step, tools=("spudger",) if step.tools else ())

    joints = tuple(
        msgspec.structs.replace(joint, work=tuple(tuple(map(same, way)) for way in joint.work))
        for joint in record.joints
        if joint.work
    )
    parts = tuple(
        msgspec.structs.replace(part, lift=same(part.lift)) if part.lift is not None else part
        for part in record.parts
    )
    return msgspec.structs.replace(record, joints=joints, parts=parts)


@pytest.mark.parametrize("objective", [STEPS, SECONDS], ids=["steps", "seconds"])
def test_using_one_tool_for_all_makes_no_way_dearer(objective):
    tried = 0
    for seed in range(120):
        record = small(seed)
        if all(joint.work for joint in record.joints):
            tried += 1
            before = all_values(record, objective, Readings())
            assert no_cheaper(all_values(with_one_tool(record), objective, Readings()), before), seed
    assert tried > 20
