"""Shares of draws in which a record comes first: against all cases counted one by one, and closed forms."""

from __future__ import annotations

import math
from itertools import product

import msgspec
import pytest
from scipy.stats import norm

from dossier.worked import glued, hand_opened
from midframe.dossier.firmness import FirmnessOptions, firmness, shares_of
from midframe.dossier.index import device_index
from midframe.dossier.varied import switched
from midframe.faults import BadSetting
from midframe.upkeep.lognormal import SIGMA_OF_LN
from midframe.ways.bench import Bench
from midframe.ways.readings import Readings
from ways.records import condition, joint, part, record, with_joint, with_part, work

STILL = Bench(change_seconds=0.0, flip_seconds=0.0, lift_seconds=0.0)
DRAWS = 20_000


def with_device(whole, **more):
    return msgspec.structs.replace(whole, device=msgspec.structs.replace(whole.device, **more))


def within_four_errors(found, right):
    """Four standard errors of a share; a share of nothing or all leaves none."""
    return abs(found - right) <= 4 * math.sqrt(right * (1 - right) / DRAWS) + 1e-12


def gappy():
    """The hand-opened phone of which three figures are not known."""
    whole = with_device(hand_opened(), name="Gappy", updates_years=None, repair_information=None)
    return with_part(whole, "battery", spare=None)


def rival():
    """The hand-opened phone with a worse promise and an assumed condition that costs steps if it holds."""
    whole = with_device(hand_opened(), name="Rival", updates_years=6, repair_information="free_professional")
    whole = with_joint(whole, "display-screws", behind=condition("rear-camera front-camera board port flex"))
    return with_joint(whole, "display-screws", assumed=True)


def value(whole, readings):
    return device_index(whole, readings).index.value.ten_thousandths


def every_case():
    """R of both for each reading, level of the three missing figures, and condition kept or not."""
    free = with_joint(rival(), "display-screws", behind=())
    for readings in switched(Readings()):
        others = [value(rival(), readings), value(free, readings)]
        for years, told, spare in product(
            (5, 6, 7), ("paid_professional", "free_professional", "public"), ("professional", "end_user")
        ):
            filled = with_part(
                with_device(gappy(), updates_years=years, repair_information=told), "battery", spare=spare
            )
            mine = value(filled, readings)
            yield from ((mine, other) for other in others)


def test_shares_of_the_index_are_those_of_all_cases_counted_one_by_one():
    cases = list(every_case())
    assert len(cases) == 7 * 18 * 2
    found = firmness([gappy(), rival()], FirmnessOptions(draws=DRAWS)).standings[0]
    right = [sum(a > b for a, b in cases), sum(a < b for a, b in cases), sum(a == b for a, b in cases)]
    assert all(0 < count < len(cases) for count in right[:2])
    for share, count in zip((*found.first, found.level), right, strict=True):
        assert within_four_errors(share, count / len(cases)), (found.first, found.level, right)
    assert found.none == 0.0
    assert sum(found.first) + found.level == pytest.approx(1.0)


def test_readings_alone_move_only_what_readings_move():
    found = firmness([gappy(), rival()], FirmnessOptions(draws=DRAWS)).standings[0]
    alone = {one.source: one for one in found.alone}
    middle = with_part(
        with_device(gappy(), updates_years=6, repair_information="free_professional"),
        "battery",
        spare="end_user",
    )
    cases = [(value(middle, one), value(rival(), one)) for one in switched(Readings())]
    for column, share in enumerate(alone["readings"].first):
        better = sum(case[column] > case[1 - column] for case in cases)
        assert within_four_errors(share, better / len(cases))


def one_bond(name, seconds):
    bond = joint("bond", "battery frame", "other", work=((work("undo", seconds=seconds),),))
    return with_device(record([part("battery", role="battery")], [bond]), name=name)


@pytest.mark.parametrize("slower", [60.0, 75.0, 240.0])
def test_the_faster_of_two_single_moves_comes_first_as_often_as_the_closed_form_says(slower):
    """P(X < Y) of two log-normal times is that of two normal ones (textbook statistics, from memory)."""
    pair = [one_bond("Quick", 60.0), one_bond("Slow", slower)]
    found = firmness(pair, FirmnessOptions(draws=DRAWS, bench=STILL))
    time = next(one for one in found.standings if one.name == "battery, time")
    right = norm.cdf(math.log(slower / 60.0) / (SIGMA_OF_LN * math.sqrt(2)))
    assert within_four_errors(time.first[0], right)
    assert within_four_errors(time.first[1], 1 - right)


def test_a_record_beside_itself_is_level_and_its_times_are_even():
    found = firmness([hand_opened(), hand_opened()], FirmnessOptions(draws=DRAWS))
    by_name = {one.name: one for one in found.standings}
    assert by_name["repairability index"].level == 1.0
    assert by_name["repairability index"].text == "level in 100 % of draws"
    assert within_four_errors(by_name["mean time to repair"].first[0], 0.5)


def test_of_two_worked_examples_the_better_is_firmly_first_and_the_order_given_does_not_matter():
    ahead = firmness([hand_opened(), glued()], FirmnessOptions(draws=1000)).standings
    behind = firmness([glued(), hand_opened()], FirmnessOptions(draws=1000)).standings
    assert ahead[0].first == (1.0, 0.0)
    assert behind[0].first == (0.0, 1.0)
    assert ahead[0].text == "Worked example 1 first in 100 % of draws, firm"
    assert ahead[0].median[0] == pytest.approx(4.6575)


def test_a_score_that_is_not_defined_comes_behind_every_number():
    none = with_device(hand_opened(), name="Unpromised", updates_years=4)
    found = firmness([none, glued()], FirmnessOptions(draws=1000)).standings[0]
    assert found.first == (0.0, 1.0)
    assert found.median[0] is None
    both = firmness([none, none], FirmnessOptions(draws=1000)).standings[0]
    assert (both.none, both.text) == (1.0, "no device has a value")


def test_three_devices_share_the_draws():
    found = firmness([hand_opened(), glued(), gappy()], FirmnessOptions(draws=1000))
    assert all(sum(one.first) + one.level + one.none == pytest.approx(1.0) for one in found.standings)
    assert found.devices == ("Worked example 1", "Worked example 2", "Gappy")


def test_the_same_seed_gives_the_same_shares_and_another_seed_others():
    pair = [gappy(), rival()]
    once, again = (firmness(pair, FirmnessOptions(draws=1000)) for _ in range(2))
    assert once == again
    other = firmness(pair, FirmnessOptions(draws=1000, seed=2))
    assert other.standings[0].first != once.standings[0].first


def test_every_combination_of_readings_is_taken_if_asked():
    assert len(set(switched(Readings(), all_of_them=True))) == 64
    assert len(set(switched(Readings()))) == 7
    assert switched(Readings(swaps="strict"))[0] == Readings(swaps="strict")


@pytest.mark.parametrize(("records", "options"), [(1, FirmnessOptions()), (2, FirmnessOptions(draws=10))])
def test_too_few_records_or_draws_are_told(records, options):
    with pytest.raises(BadSetting, match="found"):
        firmness([hand_opened()] * records, options)


def test_shares_ignore_what_has_no_value():
    nan = math.nan
    values = pytest.importorskip("numpy").array([[1.0, nan], [nan, nan], [2.0, 2.0], [3.0, 1.0]])
    assert shares_of(values, "more") == ((0.5, 0.0), 0.25, 0.25)
    assert shares_of(values, "less") == ((0.25, 0.25), 0.25, 0.25)
