from __future__ import annotations

import msgspec
import pytest

from battery.logs import excerpt, log_of, steady_log
from midframe.battery import Asked, cell_health, given_window, kept_of, measure, measurements_of
from midframe.battery.kept import newest, rated_figures, stands, steps_alike, told, with_kept
from midframe.battery.label import label_of
from midframe.demo import load
from midframe.faults import BadSetting
from midframe.record import check, faults, read, write
from midframe.record.draft import with_part

AT = "2026-11-25T10:00:00.000+00:00"


def discharged(start, end, capacity_ah=4.0):
    share = (start - end) / 100
    return cell_health(log_of(steady_log(5 * share, 3.8, -capacity_ah / 5)), 4880, given_window(start, end))


def test_results_are_kept_with_unit_range_way_and_log_and_come_back():
    found = measurements_of(discharged(95, 5), "battery", AT, file="ab", log_name="log.csv")
    record = with_kept(load("tern-3"), found)
    assert faults(check(record)) == ()
    assert read(write(record)) == record
    health = newest(record)
    assert (health.what, health.unit, health.value) == ("state of health", "%", 82.0)
    assert health.low < 82 < health.high
    assert health.method == "discharge logged at the cell, 95 to 5 %; log.csv"
    assert [one.what for one in kept_of(record, "battery")] == [
        "state of health",
        "capacity",
        "usable energy",
    ]
    assert with_kept(record, found) == record, "the same is not added twice"


def test_a_range_is_kept_without_a_middle_and_with_the_reason():
    found = measurements_of(discharged(60, 30), "battery", AT)
    assert all(one.value is None and one.low < one.high for one in found)
    assert "a range only" in found[0].note


def test_a_refused_result_gives_nothing_to_keep():
    with pytest.raises(BadSetting, match="without a figure"):
        measurements_of(discharged(50, 45), "battery", AT)


def test_resistance_is_kept_from_steps_seen_after_a_like_time():
    health = measure(log_of(excerpt()), Asked(rated_mah=1070, from_percent=100, to_percent=0))
    alike = steps_alike(health)
    assert max(one.step_seconds for one in alike) <= 3 * min(one.step_seconds for one in alike)
    (kept,) = [one for one in measurements_of(health, "battery", AT) if one.what == "step resistance"]
    assert kept.unit == "mΩ"
    assert kept.low <= kept.value <= kept.high
    assert kept.note.startswith("one step of" if len(alike) == 1 else f"{len(alike)} steps of")


def test_state_of_health_is_against_rated_and_never_against_typical():
    label = label_of(next(part for part in load("tern-3").parts if part.id == "battery"))
    assert rated_figures(label) == (4880.0, 3.88)
    assert rated_figures(msgspec.structs.replace(label, figures=label.figures[2:])) == (None, None)


def test_how_a_battery_stands_is_told_in_a_few_words():
    record = with_kept(load("tern-3"), measurements_of(discharged(95, 5), "battery", AT))
    assert stands(record).startswith("state of health 82 % (")
    assert stands(record).endswith("2026-11-25")
    swollen = with_part(record, "battery", condition="swollen")
    assert stands(swollen).startswith("Battery swollen; state of health")


def test_of_two_batteries_the_one_that_was_measured_is_named():
    record = with_kept(load("avocet-fold"), measurements_of(discharged(95, 5), "battery-lower", AT))
    name = next(part.name for part in record.parts if part.id == "battery-lower")
    assert stands(record).startswith(f"{name}, state of health 82 % (")


def test_the_newest_comes_first_whatever_the_order():
    first = measurements_of(discharged(95, 5), "battery", AT)
    second = measurements_of(discharged(95, 5, 3.9), "battery", "2026-12-01T10:00:00.000+00:00")
    record = with_kept(with_kept(load("tern-3"), second), first)
    assert newest(record).at.startswith("2026-12-01")
    assert kept_of(record, "battery")[0].at.startswith("2026-12-01")
    assert told(newest(record)).startswith("79.9 %")
