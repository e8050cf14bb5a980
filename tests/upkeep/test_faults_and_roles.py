"""Counting of own jobs by role or fault, and which part answers which fault."""

from __future__ import annotations

from typing import get_args

import pytest

from midframe.faults import BadSetting
from midframe.record.model import Role
from midframe.upkeep import FAULT_OF_ROLE, NO_PART, ROLES_OF_FAULT, known_names
from midframe.upkeep.faults_and_roles import fault_counts
from midframe.upkeep.tables import KINDS, shop_prior


def of(counts, fault):
    return next(count for count in counts if count.fault == fault)


def test_every_role_of_the_record_is_counted_under_exactly_one_fault():
    assert sorted(FAULT_OF_ROLE) == sorted(get_args(Role))
    assert sum(len(roles) for roles in ROLES_OF_FAULT.values()) == len(get_args(Role))


@pytest.mark.parametrize("kind", KINDS)
def test_every_fault_of_the_open_data_is_answered_by_a_part_or_says_why_not(kind):
    for row in shop_prior(kind):
        assert (row.part in ROLES_OF_FAULT) != (row.part in NO_PART), row.part


def test_own_jobs_by_role_and_by_fault_add_up():
    camera = of(fault_counts("phone", {"rear_camera": 2, "front_camera": 1, "camera": 4}), "camera")
    assert (camera.own, camera.own_of_role) == (7, (2, 1))
    assert camera.total == pytest.approx(2.479 + 7)  # [open-repair-data, phone_shop_prior.csv]


def test_a_name_that_is_both_role_and_fault_is_counted_once():
    assert of(fault_counts("phone", {"battery": 5}), "battery").own == 5


def test_a_role_name_and_its_fault_name_mean_the_same():
    assert of(fault_counts("phone", {"button": 3}), "buttons").own == 3
    assert of(fault_counts("phone", {"main_board": 3}), "mainboard").own == 3


def test_faults_unknown_to_the_open_data_appear_with_own_jobs_only():
    assert "hinge" not in {count.fault for count in fault_counts("phone")}
    hinge = of(fault_counts("phone", {"hinge": 2}), "hinge")
    assert (hinge.prior, hinge.total) == (0.0, 2.0)


def test_a_tablet_microphone_appears_with_own_jobs_only():
    assert "microphone" not in {count.fault for count in fault_counts("tablet")}
    assert of(fault_counts("tablet", {"microphone": 1}), "microphone").total == 1.0


def test_every_wrong_count_is_reported_at_once():
    with pytest.raises(BadSetting) as caught:
        fault_counts("phone", {"batery": 3, "display": -1, "speaker": 1.5, "button": True})
    lines = str(caught.value).splitlines()
    assert len(lines) == 4
    assert "found 'batery'; did you mean 'battery'?" in lines[0]
    assert "own_counts['display']: found -1; a whole number of jobs, zero or more" in lines[1]
    assert "own_counts['speaker']: found 1.5" in lines[2]
    assert "own_counts['button']: found True" in lines[3]


def test_the_names_offered_for_own_counts_are_all_accepted():
    counts = fault_counts("phone", dict.fromkeys(known_names(), 1))
    assert sum(count.own for count in counts) == len(known_names())
