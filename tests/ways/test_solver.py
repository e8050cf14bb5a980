"""The exact search and brute force against an independent model for a constraint solver."""

from __future__ import annotations

from itertools import count, islice

import pytest

from midframe.ways.objective import SECONDS, STEPS
from midframe.ways.solve import solve_all
from midframe.ways.way import NoWayFound
from ways import milp
from ways.brute import brute_all, brute_value
from ways.generators import phone_like, plain
from ways.records import VECTOR_BENCH, vector_phone, without_joint
from ways.test_vector_phone import TABLE

OBJECTIVES = {"steps": STEPS, "seconds": SECONDS}


def by_solver(record, target, objective, bench=None):
    """The value by the constraint solver, None for no way; it must have been proven."""
    status, value = milp.cheapest(record, target, objective, bench)
    assert status in ("optimal", "none"), (target, status)
    return None if value is None else (value,)


def fitting(number):
    """So many generated records within the limits of the model."""
    return list(islice((record for record in map(plain, count(100)) if milp.fits(record)), number))


@pytest.mark.parametrize("objective", OBJECTIVES)
def test_search_brute_force_and_constraint_solver_agree_on_small_records(objective):
    for record in fitting(10):
        best = brute_all(record, OBJECTIVES[objective])
        ways = solve_all(record, OBJECTIVES[objective])
        for target, way in ways.items():
            expected = by_solver(record, target, objective)
            assert expected == brute_value(best[target]), target
            assert expected == (None if isinstance(way, NoWayFound) else way.value), target


@pytest.mark.parametrize(("objective", "column"), [("steps", 0), ("seconds", 3)])
def test_the_constraint_solver_gives_the_values_of_the_vector(objective, column):
    whole = without_joint(vector_phone(), "fit-front-camera")
    for target in TABLE.keys() - {"earpiece", "front-camera"}:
        found = by_solver(whole, target, objective, VECTOR_BENCH)
        assert found == (1000 * TABLE[target][column],), target


@pytest.mark.slow
@pytest.mark.parametrize("objective", OBJECTIVES)
@pytest.mark.parametrize("seed", range(4))
def test_search_and_constraint_solver_agree_on_phone_like_records(seed, objective):
    record = phone_like(seed, 20)
    proven = 0
    for target, way in solve_all(record, OBJECTIVES[objective]).items():
        status, value = milp.cheapest(record, target, objective)
        if status == "optimal":
            proven += 1
            assert (value,) == way.value, target
        else:
            # The solver gave up: what it found may only be dearer.
            assert status == "unknown" or (value,) >= way.value, (target, status)
    assert proven >= 5
