"""The whole estimate: parts' times over the mix, what is left out, what rests on defaults."""

from __future__ import annotations

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from midframe.faults import BadSetting
from midframe.sources import cited
from midframe.upkeep import OtherTasks, PartTimes, Upkeep, UpkeepSettings, mean_time_to_repair, upkeep

NO_TASKS = OtherTasks(0.0, 0.0, 0.0, 0.0, 0.0)
SURE = UpkeepSettings(tasks=NO_TASKS, sigma=0.0, draws=4000)
QUICK = UpkeepSettings(draws=4000)


def part(role, *way_in, refit=(), **more):
    return PartTimes(
        role=role, name=role.replace("_", " "), way_in_seconds=way_in, refit_seconds=refit, **more
    )


def phone():
    """An invented phone: eight parts with moves of 20 s."""
    moves = {"display": 30, "battery": 18, "back_cover": 5, "rear_camera": 20, "front_camera": 22}
    moves |= {"charging_port": 33, "speaker": 21, "main_board": 25}
    return {role: part(role, *[20.0] * count) for role, count in moves.items()}


def row_of(result, key):
    return next(row for row in result.parts if row.key == key)


def test_own_jobs_of_4_2_1_and_times_of_10_20_60_minutes_give_20_minutes():
    # [mil-hdbk-472, procedure II], own vector; so many own jobs drown the start belief.
    parts = {
        "display": part("display", 300.0, refit=(300.0,)),
        "battery": part("battery", 600.0, refit=(600.0,)),
        "port": part("charging_port", 1800.0, refit=(1800.0,)),
    }
    own = {"display": 400_000, "battery": 200_000, "charging_port": 100_000}
    assert upkeep("phone", parts, own, SURE).mean_seconds / 60 == pytest.approx(20.0, abs=0.05)


def test_the_mean_over_two_parts_is_that_of_numerical_integration():
    parts = {"display": part("display", 1000.0), "battery": part("battery", 100.0)}
    result = upkeep("phone", parts, None, UpkeepSettings(tasks=NO_TASKS, sigma=0.0, draws=60_000))
    display = stats.beta(2.550, 5.48 - 2.550)  # [open-repair-data, phone_shop_prior.csv]
    battery = stats.beta(10.970, 58.02 - 10.970)
    share = integrate.dblquad(
        lambda q, d: display.pdf(d) * battery.pdf(q) * d / (d + (1 - d) * q), 0, 1, 0, 1, epsabs=1e-5
    )[0]
    assert row_of(result, "display").share == pytest.approx(share, abs=0.004)
    assert result.mean_seconds == pytest.approx(2000 * share + 200 * (1 - share), rel=0.005)


def test_the_mean_is_the_sum_over_shares_and_mean_times():
    result = upkeep("phone", phone(), {"battery": 12}, QUICK)
    shares = [row.share for row in result.parts]
    assert sum(shares) == pytest.approx(1.0)
    means = [row.time.mean_seconds for row in result.parts]
    assert result.mean_seconds == pytest.approx(mean_time_to_repair(shares, means))


def test_figures_of_the_estimate_stand_in_their_order():
    result = upkeep("phone", phone(), None, QUICK)
    assert result.mean_low_seconds < result.mean_seconds < result.mean_high_seconds
    assert result.p05_seconds < result.median_seconds < result.p95_seconds
    seconds, shares = zip(*result.maintainability, strict=True)
    assert list(seconds) == sorted(seconds)
    assert list(shares) == sorted(shares)
    assert {share: time for time, share in result.maintainability}[0.95] == result.p95_seconds
    for row in result.parts:
        assert row.share_low <= row.share <= row.share_high
        assert row.time.p05_seconds < row.time.median_seconds < row.time.mean_seconds < row.time.p95_seconds
    assert [row.share for row in result.parts] == sorted((row.share for row in result.parts), reverse=True)


def test_simulation_and_closed_form_differ_by_less_than_three_percent():
    result = upkeep("phone", phone(), None, UpkeepSettings())
    assert 0.0 < result.closed_form_gap < 0.03


@settings(max_examples=15)
@given(st.dictionaries(st.sampled_from(sorted(phone())), st.integers(0, 60), max_size=4), st.integers(0, 9))
def test_the_mean_lies_between_the_parts_shortest_and_longest_mean(own, seed):
    result = upkeep("phone", phone(), own, UpkeepSettings(draws=1000, seed=seed))
    means = [row.time.mean_seconds for row in result.parts]
    assert min(means) <= result.mean_low_seconds <= result.mean_high_seconds <= max(means)
    assert min(means) <= result.mean_seconds <= max(means)


def test_twice_the_median_seconds_doubles_the_mean():
    one = upkeep("phone", {"d": part("display", 20.0, 40.0), "b": part("battery", 90.0)}, None, SURE)
    two = upkeep("phone", {"d": part("display", 40.0, 80.0), "b": part("battery", 180.0)}, None, SURE)
    assert two.mean_seconds == pytest.approx(2 * one.mean_seconds)


def test_what_no_part_answers_is_left_out_and_printed_with_its_reason():
    result = upkeep("phone", phone(), None, QUICK)
    reasons = {fault.fault: fault.reason for fault in result.left_out}
    assert reasons["software"] == "put right without exchanging a part"
    assert reasons["audio_jack"] == "no part with this role is given for this device"
    assert "display" not in reasons
    answered = sum(row.share for row in result.mix.rows if row.fault not in reasons)
    assert result.left_out_share == pytest.approx(1 - answered)
    assert result.left_out_low < result.left_out_share < result.left_out_high


def test_a_part_more_is_left_out_less_and_leaves_the_other_times_alone():
    parts = phone()
    without = upkeep("phone", parts, None, QUICK)
    more = upkeep("phone", {**parts, "jack": part("audio_connector", *[20.0] * 30)}, None, QUICK)
    assert more.left_out_share < without.left_out_share
    for key in parts:
        assert row_of(more, key).time == row_of(without, key).time


def test_parts_of_one_role_share_its_faults_evenly():
    one = upkeep("phone", {"d": part("display", 60.0), "s": part("speaker", 60.0)}, None, QUICK)
    two = upkeep(
        "phone",
        {"d": part("display", 60.0), "s1": part("speaker", 60.0), "s2": part("speaker", 60.0)},
        None,
        QUICK,
    )
    assert row_of(two, "s1").share == pytest.approx(row_of(two, "s2").share)
    assert row_of(two, "s1").share * 2 == pytest.approx(row_of(one, "s").share)


def test_with_one_camera_given_it_takes_all_camera_faults():
    both = upkeep("phone", phone(), None, QUICK)
    parts = {key: value for key, value in phone().items() if key != "front_camera"}
    one = upkeep("phone", parts, None, QUICK)
    together = row_of(both, "rear_camera").share + row_of(both, "front_camera").share
    assert row_of(one, "rear_camera").share == pytest.approx(together)


def test_a_part_of_which_nothing_is_known_has_a_time_and_no_say_in_the_mean():
    plain = upkeep("phone", phone(), None, QUICK)
    more = upkeep("phone", {**phone(), "plate": part("other", *[500.0] * 9)}, None, QUICK)
    plate = row_of(more, "plate")
    assert (plate.share, plate.fault_known, plate.chance) == (0.0, False, None)
    assert plate.time.mean_seconds > 9000
    assert more.mean_seconds == pytest.approx(plain.mean_seconds)


def test_own_jobs_bring_in_a_hinge():
    parts = {**phone(), "hinge": part("hinge", *[30.0] * 40)}
    assert row_of(upkeep("phone", parts, None, QUICK), "hinge").share == 0.0
    assert row_of(upkeep("phone", parts, {"hinge": 20}, QUICK), "hinge").share > 0.1


def test_an_empty_refit_is_as_long_as_the_way_in():
    mirrored = upkeep("phone", {"d": part("display", 10.0, 50.0)}, None, SURE)
    assert mirrored.mean_seconds == pytest.approx(120.0)


def test_tasks_of_one_part_replace_those_of_the_settings():
    slow = part("battery", 60.0, tasks=OtherTasks(0.0, 1800.0, 0.0, 0.0, 0.0))
    result = upkeep("phone", {"d": part("display", 60.0), "b": slow}, None, SURE)
    assert row_of(result, "b").time.mean_seconds == pytest.approx(1920.0)
    assert row_of(result, "d").time.mean_seconds == pytest.approx(120.0)


def test_a_wait_held_by_a_clock_adds_its_seconds_once():
    result = upkeep("phone", {"d": part("display", 60.0, fixed_seconds=900.0)}, None, SURE)
    assert result.mean_seconds == pytest.approx(1020.0)


def test_what_rests_on_defaults_is_listed_and_vanishes_with_own_figures():
    text = "\n".join(upkeep("phone", phone(), None, QUICK).rests_on_defaults)
    for word in (
        "localisation: 120 s, common practice",
        "refit: taken",
        "spread: sigma",
        "start belief only",
    ):
        assert word in text
    given_all = UpkeepSettings(tasks=OtherTasks(90.0, 150.0, 45.0, 20.0, 200.0), sigma=0.5, draws=1000)
    parts = {"display": part("display", 60.0, refit=(70.0,)), "battery": part("battery", 60.0, refit=(70.0,))}
    assert upkeep("phone", parts, {"display": 3}, given_all).rests_on_defaults == ()


def test_a_default_used_by_some_parts_names_them():
    parts = {"d": part("display", 60.0, refit=(70.0,)), "b": part("battery", 60.0)}
    lines = [line for line in upkeep("phone", parts, None, QUICK).rests_on_defaults if "refit" in line]
    assert lines == ["refit: taken as long as the way in, common practice, no source (b)"]


def test_a_result_states_mix_seed_draws_note_and_known_sources():
    result = upkeep("tablet", phone(), {"battery": 4}, UpkeepSettings(draws=1000, seed=42))
    assert (result.seed, result.draws) == (42, 1000)
    assert "8 countries" in result.mix_used
    assert "4 own jobs added" in result.mix_used
    assert "volunteers" in result.note
    assert {source.key for source in cited(result.sources)} == set(result.sources)


def test_the_same_seed_gives_the_same_estimate_and_it_survives_json():
    result = upkeep("phone", phone(), None, QUICK)
    assert result == upkeep("phone", phone(), None, QUICK)
    assert msgspec.json.decode(msgspec.json.encode(result), type=Upkeep) == result


def test_another_seed_moves_the_figures_by_little():
    one, other = (upkeep("phone", phone(), None, UpkeepSettings(seed=seed)) for seed in (1, 2))
    assert one.mean_seconds == pytest.approx(other.mean_seconds, rel=0.005)
    assert one.p95_seconds == pytest.approx(other.p95_seconds, rel=0.01)


def test_every_fault_of_the_input_is_reported_at_once():
    parts = {
        "a": part("screen", 10.0),
        "b": part("battery"),
        "c": part("speaker", 10.0, -1.0),
        "d": part("display", 10.0, refit=(math.inf,), fixed_seconds=-5.0),
    }
    with pytest.raises(BadSetting) as caught:
        upkeep("phone", parts, None, UpkeepSettings(sigma=9.0, tasks=OtherTasks(isolation_seconds=-3.0)))
    text = str(caught.value)
    assert "settings.sigma: found 9.0; a spread of ln(time) from 0 to 3" in text
    assert "settings.tasks[1]: found -3.0" in text
    assert "parts['a'].role: found 'screen'; roles known are display" in text
    assert "parts['b'].way_in_seconds: found no move" in text
    assert "parts['c'].way_in_seconds[1]: found -1.0" in text
    assert "parts['d'].refit_seconds[0]: found inf" in text
    assert "parts['d'].fixed_seconds[0]: found -5.0" in text


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: upkeep("phone", {}), "parts: found none"),
        (lambda: upkeep("watch", phone()), "kind: found 'watch'"),
        (lambda: upkeep("phone", phone(), {"batery": 1}), "did you mean 'battery'"),
        (lambda: upkeep("phone", {"p": part("other", 5.0)}), "found only the roles other; at least one part"),
        (lambda: upkeep("phone", phone(), None, UpkeepSettings(draws=5)), "draws: found 5"),
    ],
)
def test_what_cannot_be_estimated_is_refused_with_what_would_be_right(call, message):
    with pytest.raises(BadSetting, match=message):
        call()
