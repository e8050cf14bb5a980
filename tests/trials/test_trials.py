from __future__ import annotations

from itertools import product

import pytest

from midframe.demo import load, names
from midframe.faults import BadSetting, UnknownPart
from midframe.trials import CHANGES, OUTCOMES, USUAL, difference, trials, worse
from screws.builders import record


def test_only_checks_of_recorded_parts_apply():
    assert {trial.id for trial in trials(record())} == {"touch", "picture", "radio", "motion", "water-mark"}
    assert "hinge" in {trial.id for trial in trials(load("avocet-fold"))}
    assert "hinge" not in {trial.id for trial in trials(load("tern-3"))}


def test_the_records_own_check_takes_the_place_of_ours():
    for name in names():
        device = load(name)
        ids = [trial.id for trial in trials(device)]
        assert len(ids) == len(set(ids))
        assert {check.id for check in device.checks} <= set(ids)
        assert all(trial.parts for trial in trials(device))


def test_what_is_worse_than_before_comes_first_whatever_the_outcomes():
    ids = [trial.id for trial in trials(record())]
    for before, after in product(product(OUTCOMES, repeat=2), repeat=2):
        found = difference(
            record(), dict(zip(ids, before, strict=False)), dict(zip(ids, after, strict=False))
        )
        order = [CHANGES.index(line.change) for line in found]
        assert order == sorted(order)
        assert len(found) == len(ids)


def test_faulty_after_and_never_tried_before_counts_as_worse():
    found = difference(record(), {"picture": "good"}, {"touch": "faulty", "picture": "good"})
    assert [line.trial.id for line in worse(found)] == ["touch"]


def test_before_and_after_leave_out_what_is_not_for_them():
    device = load("tern-3")
    assert "fingerprint" in {trial.id for trial in trials(device, "after")}
    assert "fingerprint" not in {trial.id for trial in trials(device, "before")}
    with pytest.raises(BadSetting, match="before or after"):
        trials(device, "during")


def test_unknown_checks_and_outcomes_are_refused():
    with pytest.raises(UnknownPart, match="there are touch"):
        difference(record(), {"nothing": "good"}, {})
    with pytest.raises(BadSetting, match="not tried"):
        difference(record(), {}, {"touch": "fine"})


def test_every_usual_check_can_apply():
    assert all(one.roles or one.words for one in USUAL)
