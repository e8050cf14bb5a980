"""Ladders, classes and the grid of R, against [lbl-2023-1669, Annex IV point 5; Annex II Table 4]."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.index.lbl_2023_1669 import (
    CLASS_EDGES,
    FASTENER_POINTS,
    FOLDABLE_WEIGHTS,
    INFORMATION_POINTS,
    ORDINARY_WEIGHTS,
    SCORE_WEIGHTS,
    TOOL_POINTS,
    UPDATE_LADDER,
    class_depends_on_rounding,
    class_of,
    depth_points,
    index_ten_thousandths,
    remote_steps,
    rounded_hundredths,
    spare_cap,
    updates_points,
)
from midframe.index.results import IndexValue

SYMBOLS = ("SDD", "SF", "ST", "SSP", "SSU", "SRI")

# Scores in hundredths, R in ten-thousandths; own constructions, recomputed with exact fractions.
VECTORS = [
    ("V-1", (405, 490, 440, 500, 500, 500), 46_575, "A"),
    ("V-2", (210, 340, 280, 100, 100, 300), 22_050, "D"),
    ("V-2b", (270, 340, 280, 100, 100, 300), 23_550, "D"),
    ("V-3", (325, 340, 285, 200, 300, 300), 29_500, "C"),
    ("V-4", (250, 314, 240, 400, 500, 500), 35_560, "B"),
    ("V-5", (325, 300, 290, 500, 300, 300), 33_475, "C"),
    # One anonymised record of the EU product register: R 4.01, class A, updates 5 years.
    ("V-6", (405, 500, 400, 500, 100, 500), 40_125, "A"),
    ("V-7", (400, 310, 490, 200, 500, 500), 40_000, "A"),
    ("V-8", (320, 200, 300, 400, 300, 500), 33_500, "B"),
    ("V-9", (160, 200, 200, 300, 100, 100), 17_500, "D"),
    ("V-10", (400, 340, 360, 500, 300, 500), 40_000, "A"),
    ("V-11", (240, 300, 300, 100, 300, 300), 25_500, "C"),
    ("V-12", (100,) * 6, 10_000, "E"),
    ("V-13", (500,) * 6, 50_000, "A"),
]


def r_of(scores):
    return index_ten_thousandths(dict(zip(SYMBOLS, scores, strict=True)))


@pytest.mark.parametrize(("scores", "r", "name"), [v[1:] for v in VECTORS], ids=[v[0] for v in VECTORS])
def test_each_vector_gives_its_exact_r_and_class(scores, r, name):
    assert r_of(scores) == r
    assert class_of(r) == name


def test_the_register_record_fits_one_pair_of_the_two_levels_given_in_words():
    # V-6: SDD 4.05, SF 5, ST 4, SSU 1 are declared; only SSP = SRI = 5 shows 4.01.
    shown = {
        (ssp, sri): IndexValue.of(r_of((405, 500, 400, 100 * ssp, 100, 100 * sri))).shown
        for ssp in range(1, 6)
        for sri in INFORMATION_POINTS.values()
    }
    assert [pair for pair, text in shown.items() if text == "4.01"] == [(5, 5)]


@pytest.mark.parametrize("name", ["V-7", "V-8", "V-9"])
def test_binary_floating_point_would_put_these_in_the_class_below(name):
    scores, r, right = next(v[1:] for v in VECTORS if v[0] == name)
    naive = 0.0
    for score, weight in zip(scores, (0.25, 0.15, 0.15, 0.15, 0.15, 0.15), strict=True):
        naive += weight * (score / 100)
    assert naive < r / 10_000
    edge = next(edge for name, edge in CLASS_EDGES if name == right)
    assert naive < edge / 10_000 <= r / 10_000


@pytest.mark.parametrize("steps", range(41))
def test_every_number_of_steps_to_40_gets_the_points_of_the_act(steps):
    # Thresholds [lbl-2023-1669, Annex IV point 5, Disassembly depth], as a plain table.
    table = {
        0: 5,
        1: 5,
        2: 5,
        3: 4,
        4: 4,
        5: 4,
        6: 3,
        7: 3,
        8: 3,
        9: 3,
        10: 3,
        11: 2,
        12: 2,
        13: 2,
        14: 2,
        15: 2,
    }
    assert depth_points(steps) == table.get(steps, 1)


def test_remote_actions_add_five_steps_each():
    assert [remote_steps(one) for one in ((), ("notification",), ("authorisation",))] == [0, 5, 5]
    assert remote_steps(("notification", "authorisation")) == 10


def test_fasteners_and_tools_have_no_zero_and_no_level_below_their_ladders():
    assert FASTENER_POINTS == {"reusable": 5, "resupplied": 3, "removable": 1}
    assert TOOL_POINTS == {"none": 5, "basic": 4, "spare_set": 3, "product_set": 2, "commercial": 1}
    assert INFORMATION_POINTS == {"public": 5, "free_professional": 3, "paid_professional": 1}


@pytest.mark.parametrize(
    ("years", "points"),
    [(0, None), (4.9, None), (5, 1), (5.9, 1), (6, 3), (6.5, 3), (6.99, 3), (7, 5), (10, 5)],
)
def test_years_of_updates_count_at_the_rung_they_fully_meet(years, points):
    assert updates_points(years) == points


@pytest.mark.parametrize("edge", [(name, edge) for name, edge in CLASS_EDGES], ids=lambda pair: pair[0])
def test_each_class_begins_exactly_at_its_edge(edge):
    below = {"A": "B", "B": "C", "C": "D", "D": "E", "E": None}
    assert class_of(edge[1]) == edge[0]
    assert class_of(edge[1] - 1) == below[edge[0]]


def test_the_class_edges_are_those_of_table_4():
    # [lbl-2023-1669, Annex II point C, Table 4]
    assert [Fraction(edge, 10_000) for _, edge in CLASS_EDGES] == [
        Fraction(text) for text in ("4", "3.35", "2.55", "1.75", "1")
    ]


def test_the_weights_of_parts_and_scores_sum_to_one():
    assert (
        sum(ORDINARY_WEIGHTS.values()) == sum(FOLDABLE_WEIGHTS.values()) == sum(SCORE_WEIGHTS.values()) == 100
    )


def rung(offers):
    caps = [spare_cap(role, offer) for role, offer in offers.items()]
    return None if None in caps else min(caps)


def test_the_rung_of_spare_parts_is_the_highest_fully_met_for_every_offer():
    # The ladder written out as sets [lbl-2023-1669, Annex IV point 5, Spare parts], against the caps.
    roles = ("display", "battery", "back_cover", "front_camera", "rear_camera", "speaker")
    ladder = [
        (5, set(roles)),
        (4, {"display", "battery", "back_cover", "front_camera", "rear_camera"}),
        (3, {"display", "battery", "back_cover"}),
        (2, {"display", "battery"}),
        (1, {"display"}),
    ]
    for offers in product(("end_user", "professional", "none"), repeat=len(roles)):
        given_ = dict(zip(roles, offers, strict=True))
        public = {role for role, offer in given_.items() if offer == "end_user"}
        met = [points for points, named in ladder if named <= public]
        right = met[0] if met and "none" not in offers else None
        assert rung(given_) == right


def sums(weights, points):
    """Every value a weighted sum can take."""
    found = {0}
    for weight in weights:
        found = {base + weight * one for base in found for one in points}
    return found


def attainable(weights):
    """Every R of a device whose parts carry these weights, by enumeration of sub-score sums."""
    depth = tool = sums(weights, range(1, 6))
    fastener = sums(weights, set(FASTENER_POINTS.values()))
    assert set(TOOL_POINTS.values()) == set(range(1, 6))
    updates = {points for _, points in UPDATE_LADDER}
    rest = {0}
    for column in (
        fastener,
        tool,
        *({100 * p for p in ladder} for ladder in (range(1, 6), updates, updates)),
    ):
        rest = {base + one for base in rest for one in column}
    return {25 * a + 15 * b for a in depth for b in rest}


@pytest.fixture(scope="module")
def ordinary_grid():
    return attainable(ORDINARY_WEIGHTS.values())


def test_an_ordinary_device_can_reach_1593_values_of_r(ordinary_grid):
    assert len(ordinary_grid) == 1593
    assert all(r % 25 == 0 for r in ordinary_grid)
    assert (min(ordinary_grid), max(ordinary_grid)) == (10_000, 50_000)


def test_a_foldable_device_can_reach_7909_values_of_r():
    grid = attainable(FOLDABLE_WEIGHTS.values())
    assert len(grid) == 7909
    assert all(r % 5 == 0 for r in grid)


def test_only_eight_values_of_an_ordinary_device_hang_on_the_rounding_rule(ordinary_grid):
    found = sorted(r for r in ordinary_grid if class_depends_on_rounding(r))
    assert found == [17_450, 17_475, 25_450, 25_475, 33_450, 33_475, 39_950, 39_975]


@given(st.integers(10_000, 50_000))
def test_rounding_is_half_up_and_flags_just_the_values_under_an_edge(r):
    exact = Fraction(r, 10_000)
    rounded = Fraction(rounded_hundredths(r), 100)
    assert -Fraction(5, 1000) < exact - rounded < Fraction(5, 1000) or rounded - exact == Fraction(5, 1000)
    near = any(edge - 50 <= r < edge for _, edge in CLASS_EDGES)
    assert class_depends_on_rounding(r) == near


@given(st.tuples(*[st.integers(100, 500)] * 6))
def test_whole_numbers_give_what_fractions_give(scores):
    weights = (Fraction("0.25"), *[Fraction("0.15")] * 5)
    r = sum(weight * Fraction(score, 100) for weight, score in zip(weights, scores, strict=True))
    assert Fraction(r_of(scores), 10_000) == r
    value = IndexValue.of(r_of(scores))
    assert Fraction(value.exact) == r
    assert Fraction(value.lowest_found) == r * Fraction("0.96")


@pytest.mark.parametrize("r", [22_050, 46_575, 33_475])
def test_a_tie_in_the_third_decimal_is_named_and_shown_upwards(r):
    value = IndexValue.of(r)
    assert value.tie == (r == 22_050)
    assert value.shown == {22_050: "2.21", 46_575: "4.66", 33_475: "3.35"}[r]


def test_a_value_of_one_point_may_be_found_below_every_class():
    assert IndexValue.of(10_000).class_of_lowest_found is None
