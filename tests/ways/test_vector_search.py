"""The exact search against proven values of the invented phone of test_vector_phone (own construction)."""

from __future__ import annotations

import pytest

from midframe.ways.objective import SECONDS, STEPS
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules
from midframe.ways.solve import solve, solve_all, solve_set
from ways.records import VECTOR_BENCH, condition, vector_phone, vector_phone_joined, with_joint
from ways.test_vector_phone import COLUMNS, TABLE, cases, expected


@pytest.mark.parametrize(("target", "column"), cases())
def test_the_search_gives_every_value_of_the_table_and_proves_it(target, column):
    _, objective, readings = COLUMNS[column]
    whole = vector_phone_joined() if target == "earpiece" else vector_phone()
    way = solve(whole, target, objective, readings, VECTOR_BENCH)
    assert way.value == expected(target, column)
    assert way.proven


@pytest.mark.parametrize("column", range(len(COLUMNS)), ids=[column[0] for column in COLUMNS])
def test_all_parts_at_once_cost_what_they_cost_alone(column):
    _, objective, readings = COLUMNS[column]
    ways = solve_all(vector_phone(), objective, readings, VECTOR_BENCH)
    assert set(ways) == set(TABLE)
    assert {target: ways[target].value for target in TABLE if target != "earpiece"} == {
        target: expected(target, column) for target in TABLE if target != "earpiece"
    }


@pytest.mark.parametrize(
    ("objective", "readings", "value"),
    [
        pytest.param(STEPS, Readings(), 12, id="segment"),
        pytest.param(STEPS, Readings(swaps="strict"), 16, id="strict"),
        pytest.param(SECONDS, Readings(), 537, id="seconds"),
    ],
)
def test_everything_out_takes_12_steps_or_16_strictly_and_537_seconds(objective, readings, value):
    # The display's plug from the back only, which the vector, where it also waits for its bond, allows.
    whole = with_joint(vector_phone(), "plug-display", behind=condition("main-board"))
    way = solve_set(whole, tuple(TABLE), objective, readings, VECTOR_BENCH)
    assert way.value == (1000 * value,)
    rules = Rules(whole)
    end = rules.replay(way.moves)
    assert all(rules.out(end, target) for target in TABLE)


def test_from_the_back_the_display_takes_five_steps():
    whole = with_joint(vector_phone(), "plug-display", behind=condition("main-board"))
    assert solve(whole, "display", STEPS, None, VECTOR_BENCH).value == (5000,)


def test_the_earpiece_takes_228_seconds_and_12_moves_from_the_back():
    whole = with_joint(vector_phone(), "glue-earpiece", behind=condition("main-board"))
    way = solve(whole, "earpiece", SECONDS, None, VECTOR_BENCH)
    assert (way.value, len(way.moves)) == ((228_000,), 12)
