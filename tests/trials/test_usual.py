from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load, names
from midframe.faults import BadSetting
from midframe.trials import USUAL, trials
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


def test_the_records_own_check_asks_for_the_figures_of_ours():
    (found,) = [one for one in trials(load("tern-3")) if one.id == "battery-health"]
    assert found.own
    assert [one.unit for one in found.figures] == ["", "mAh", "%"]


def test_before_and_after_leave_out_what_is_not_for_them():
    device = load("tern-3")
    assert "fingerprint" in {trial.id for trial in trials(device, "after")}
    assert "fingerprint" not in {trial.id for trial in trials(device, "before")}
    with pytest.raises(BadSetting, match="before or after"):
        trials(device, "during")


def test_every_usual_check_can_apply():
    assert all(one.roles or one.words for one in USUAL)


def test_one_check_of_the_record_for_all_cameras_takes_the_place_of_ours_for_each():
    device = load("heron-tab")
    ids = [trial.id for trial in trials(device)]
    assert "cameras" in ids
    assert not {"front-camera", "rear-camera"} & set(ids)
    fewer = msgspec.structs.replace(device, checks=tuple(one for one in device.checks if one.id != "cameras"))
    assert {"front-camera", "rear-camera"} <= {trial.id for trial in trials(fewer)}
    assert {"touch", "picture"} <= set(ids)
