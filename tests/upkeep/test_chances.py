"""Chances of success: limits against scipy and against the limits the data itself prints."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from midframe.faults import BadSetting
from midframe.upkeep import barriers, battery_needs, chance_of_role, chances, wilson
from midframe.upkeep.chances import FIXED, GIVEN_UP
from midframe.upkeep.tables import KINDS, barrier_rows, battery_next_steps, outcomes


@given(
    st.integers(1, 5000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), st.floats(0.5, 0.999)
)
def test_the_wilson_interval_is_that_of_scipy(of, confidence):
    count, n = of
    reference = stats.binomtest(count, n).proportion_ci(confidence, method="wilson")
    assert wilson(count, n, confidence) == pytest.approx((reference.low, reference.high), abs=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_the_wilson_interval_gives_the_limits_printed_for_the_barriers(kind):
    for row in barrier_rows(kind):  # [open-repair-data, phone_barriers_end_of_life.csv]
        assert wilson(row.count, row.n_barrier_given) == pytest.approx((row.lo, row.hi), abs=6e-5)


@pytest.mark.parametrize("kind", KINDS)
def test_the_wilson_interval_gives_the_limits_printed_for_battery_cases(kind):
    limited = [row for row in battery_next_steps(kind) if row.lo is not None]
    assert len(limited) >= 7
    for row in limited:  # [open-repair-data, phone_battery_next_step.csv]
        assert wilson(row.count, row.n_without_poor_data) == pytest.approx((row.lo, row.hi), abs=6e-5)


@pytest.mark.parametrize("kind", KINDS)
def test_pooled_chances_are_the_beta_posterior_of_their_own_counts(kind):
    for row in outcomes(kind):  # [open-repair-data, phone_outcome_pooled.csv]
        posterior = stats.beta(row.prior_a + row.count, row.prior_b + row.n - row.count)
        # The fitted a and b are printed with two decimals only.
        assert row.pooled_mean == pytest.approx(posterior.mean(), abs=4e-4)
        assert (row.pooled_lo, row.pooled_hi) == pytest.approx(posterior.ppf([0.025, 0.975]), abs=4e-4)


@pytest.mark.parametrize("kind", KINDS)
def test_every_fault_has_both_outcomes_on_the_same_records(kind):
    by_outcome = {
        outcome: {row.part: row.n for row in outcomes(kind) if row.outcome == outcome}
        for outcome in (FIXED, GIVEN_UP)
    }
    assert by_outcome[FIXED] == by_outcome[GIVEN_UP]
    assert len(chances(kind)) == len(by_outcome[FIXED])


def test_a_phone_display_was_fixed_in_343_of_624_records():
    chance = chance_of_role("phone", "display")  # [open-repair-data, phone_outcome_pooled.csv]
    assert (chance.fixed.count, chance.fixed.n) == (343, 624)
    assert (chance.fixed.mean, chance.fixed.low, chance.fixed.high) == (0.5463, 0.5078, 0.5845)
    assert chance.given_up.count == 28


def test_fewer_than_ten_records_are_marked_as_thin_data():
    thin = {chance.fault for chance in chances("phone") if chance.thin_data}
    assert thin == {"external_charger", "back_cover_chassis"}  # n = 9 and 8 [open-repair-data, README]
    assert "mainboard" not in {chance.fault for chance in chances("tablet") if chance.thin_data}  # n = 10


def test_front_and_rear_camera_share_the_records_of_cameras():
    assert chance_of_role("phone", "front_camera") == chance_of_role("phone", "rear_camera")


@pytest.mark.parametrize("role", ["hinge", "sub_board", "protective_foil", "other"])
def test_roles_without_open_records_have_no_chance(role):
    assert chance_of_role("phone", role) is None


def test_a_chance_says_that_the_records_are_not_a_shops_jobs():
    assert "volunteers" in chances("tablet")[0].note
    assert "not a repair shop's jobs" in chances("tablet")[0].note


def test_no_way_to_open_is_named_more_often_for_tablets_than_for_phones():
    share = {
        kind: next(r.share for r in barriers(kind) if r.text == "No way to open product") for kind in KINDS
    }
    assert (share["phone"].count, share["phone"].n) == (7, 112)  # [open-repair-data, README]
    assert (share["tablet"].count, share["tablet"].n) == (12, 88)


def test_battery_cases_left_repairable_mostly_need_a_new_battery():
    first = battery_needs("phone")[0]
    assert (first.text, first.share.count, first.share.n) == ("Replace with new battery", 65, 90)
    assert all("Poor data" not in reason.text for reason in battery_needs("phone"))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: wilson(3, 0), "n of at least 1"),
        (lambda: wilson(5, 4), "found 5 of 4"),
        (lambda: wilson(1, 4, 1.0), "confidence: found 1.0"),
        (lambda: chances("watch"), "kind: found 'watch'; the failure mix is known for phone or tablet"),
        (lambda: chance_of_role("phone", "screen"), "role: found 'screen'; roles known are display, battery"),
    ],
)
def test_bad_input_is_refused_with_what_would_be_right(call, message):
    with pytest.raises(BadSetting, match=message):
        call()
