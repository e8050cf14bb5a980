"""The failure mix: its two-level belief against scipy and against the columns of the open data."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, optimize, stats

from midframe.faults import BadSetting
from midframe.upkeep import failure_mix, known_names
from midframe.upkeep.faults_and_roles import FaultCount, fault_counts
from midframe.upkeep.mix import draw_fault_shares, draw_role_split, generator
from midframe.upkeep.tables import KINDS, shop_prior

REFINED = Path(__file__).parent / "data" / "open_repair" / "phone_fault_mix_refined.csv"
SETS = ("both rounds, refined", "second round only, refined", "tablets, refined")


def row_of(mix, fault):
    return next(row for row in mix.rows if row.fault == fault)


@pytest.mark.parametrize("kind", KINDS)
def test_the_start_belief_gives_the_published_share_and_range_of_places(kind):
    mix = failure_mix(kind, credible_level=0.90, draws=60_000)
    for prior in shop_prior(kind):  # [open-repair-data, phone_shop_prior.csv], itself from 40 000 draws
        row = row_of(mix, prior.part)
        assert row.share == pytest.approx(prior.mean_share, abs=0.003)
        assert (row.low, row.high) == pytest.approx((prior.shop_p05, prior.shop_p95), abs=0.006)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("own", [None, {"display": 9, "battery": 14, "software": 6}])
def test_the_display_interval_is_scipys_beta(kind, own):
    mix = failure_mix(kind, own, credible_level=0.95, draws=60_000)
    display = next(count for count in fault_counts(kind, own) if count.fault == "display")
    own_rest = mix.own_jobs - display.own
    belief = stats.beta(display.total, display.prior_against + own_rest)
    row = row_of(mix, "display")
    assert row.share == pytest.approx(belief.mean(), abs=0.003)
    assert (row.low, row.high) == pytest.approx(belief.ppf([0.025, 0.975]), abs=0.008)


def product_quantile(one, other, p):
    """Quantile of the product of two independent betas, by numerical integration."""

    def below(x):
        return integrate.quad(lambda q: one.pdf(q) * other.cdf(min(x / q, 1.0)), 1e-12, 1.0, limit=200)[0]

    return optimize.brentq(lambda x: below(x) - p, 1e-6, 0.9)


@pytest.mark.parametrize("own", [None, {"battery": 14, "display": 5}])
def test_the_battery_interval_is_the_product_of_two_betas(own):
    mix = failure_mix("phone", own, credible_level=0.90, draws=60_000)
    counts = {count.fault: count for count in fault_counts("phone", own)}
    rest = sum(count.total for count in counts.values() if count.level == "rest")
    battery, display = counts["battery"], counts["display"]
    inner = stats.beta(battery.total, rest - battery.total)
    outer = stats.beta(display.prior_against + mix.own_jobs - display.own, display.total)
    row = row_of(mix, "battery")
    assert row.share == pytest.approx(inner.mean() * outer.mean(), abs=0.002)
    expected = [product_quantile(inner, outer, p) for p in (0.05, 0.95)]
    assert (row.low, row.high) == pytest.approx(expected, abs=0.004)


@pytest.mark.parametrize("name", SETS)
def test_with_one_flat_level_the_limits_are_the_published_dirichlet_limits(name):
    with REFINED.open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["set"] == name]  # [open-repair-data, README]
    counts = [
        FaultCount(
            fault=row["part"],
            level="display" if row["part"] == "display" else "rest",
            prior=0.5,
            prior_against=0.5 * (len(rows) - 1),
            own=int(row["count"]),
            roles=(),
            own_of_role=(),
        )
        for row in rows
    ]
    drawn = draw_fault_shares(counts, 60_000, np.random.default_rng(7))
    low, high = np.quantile(drawn, [0.025, 0.975], axis=0)
    for column, row in enumerate(rows):
        assert drawn[:, column].mean() == pytest.approx(float(row["dirichlet_mean"]), abs=5e-4)
        assert low[column] == pytest.approx(float(row["dirichlet_lo"]), abs=1.5e-3)
        assert high[column] == pytest.approx(float(row["dirichlet_hi"]), abs=1.5e-3)


@settings(max_examples=25)
@given(
    st.sampled_from(KINDS), st.dictionaries(st.sampled_from(known_names()), st.integers(0, 400), max_size=6)
)
def test_shares_add_up_to_one_and_lie_inside_their_intervals(kind, own):
    mix = failure_mix(kind, own, draws=1000)
    assert sum(row.share for row in mix.rows) == pytest.approx(1.0)
    assert mix.own_jobs == sum(own.values())
    assert mix.left_out_share == pytest.approx(sum(row.share for row in mix.rows if row.left_out))
    for row in mix.rows:
        assert 0.0 <= row.low <= row.high <= 1.0


def test_many_own_jobs_outweigh_the_start_belief():
    mix = failure_mix("phone", {"display": 1000, "battery": 3000, "speaker": 1000})
    assert row_of(mix, "display").share == pytest.approx(0.2, abs=0.01)
    assert row_of(mix, "battery").share == pytest.approx(0.6, abs=0.02)


def test_after_twenty_own_jobs_the_own_display_share_rules():
    # [open-repair-data, README]: the start belief is worth 5.48 jobs at the display level.
    mix = failure_mix("phone", {"display": 2, "battery": 18})
    assert row_of(mix, "display").share == pytest.approx((2.550 + 2) / (5.48 + 20), abs=0.005)


def test_own_jobs_narrow_the_interval():
    start, later = (
        row_of(failure_mix("phone", own), "display") for own in (None, {"display": 40, "battery": 60})
    )
    assert later.high - later.low < 0.5 * (start.high - start.low)


def test_about_a_quarter_of_the_phone_mix_is_answered_by_no_part():
    mix = failure_mix("phone")
    out = {row.fault for row in mix.rows if row.left_out}
    # Means of the six faults printed in [open-repair-data, phone_shop_prior.csv].
    expected = sum(row.mean_share for row in shop_prior("phone") if row.part in out)
    assert len(out) == 6
    assert mix.left_out_share == pytest.approx(expected, abs=0.003)
    assert mix.left_out_low < mix.left_out_share < mix.left_out_high


def test_the_same_seed_gives_the_same_mix_and_another_seed_a_like_one():
    one, again, other = failure_mix("tablet"), failure_mix("tablet"), failure_mix("tablet", seed=2)
    assert one == again
    assert one != other
    assert row_of(one, "display").share == pytest.approx(row_of(other, "display").share, abs=0.005)


def test_roles_that_the_data_does_not_tell_apart_start_level_and_follow_own_jobs():
    camera = next(c for c in fault_counts("phone", {"rear_camera": 8}) if c.fault == "camera")
    split = draw_role_split(camera, ["rear_camera", "front_camera"], 20_000, generator(1, "roles"))
    assert split.sum(axis=1) == pytest.approx(np.ones(20_000))
    assert split[:, 0].mean() == pytest.approx(0.9, abs=0.01)  # (1 + 8) of (1 + 8 + 1 + 0) jobs
    assert draw_role_split(camera, ["front_camera"], 3, generator(1, "roles")).tolist() == [[1.0]] * 3


def test_bad_settings_of_the_simulation_are_reported_together():
    with pytest.raises(BadSetting) as caught:
        failure_mix("phone", credible_level=95.0, draws=10, seed=-1)
    assert [line.split(":")[0] for line in str(caught.value).splitlines()] == [
        "credible_level",
        "draws",
        "seed",
    ]
    with pytest.raises(BadSetting, match="seed: found 'x'"):
        failure_mix("phone", seed="x")
