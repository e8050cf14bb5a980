from __future__ import annotations

import msgspec
import pytest

from midframe.battery.kept import HEALTH, with_kept
from midframe.battery.said_by_device import beside_log, beside_promise, device_says
from midframe.demo import load
from midframe.faults import BadSetting
from midframe.record import check, faults, read, write
from midframe.record.model import Measurement

AT = "2026-11-25T10:00:00Z"


def with_all(percent=None, cycles=None, measured=None):
    """Tern 3 with what its device says and what a log measured: value, low, high."""
    said = device_says("battery", AT, percent=percent, cycles=cycles)
    log = []
    if measured is not None:
        value, low, high = measured
        log = [
            Measurement(id="m", on="battery", what=HEALTH, value=value, low=low, high=high, unit="%", at=AT)
        ]
    return with_kept(load("tern-3"), (*said, *log))


def test_what_the_device_says_is_kept_with_its_date_and_comes_back():
    found = device_says("battery", AT, percent=92, cycles=311, first_use="2024-03")
    record = with_kept(load("tern-3"), found)
    assert faults(check(record)) == ()
    assert read(write(record)) == record
    assert {one.note for one in record.measurements} == {"first used 2024-03"}
    assert {one.method for one in record.measurements} == {"read off the device"}


@pytest.mark.parametrize(
    ("percent", "cycles", "words"),
    [
        (None, None, "at least one of them"),
        (0.92, None, "1 to 120"),
        (9200, None, "1 to 120"),
        (None, -1, "0 to 20 000"),
        (None, 311_000, "0 to 20 000"),
    ],
)
def test_what_no_device_says_is_refused(percent, cycles, words):
    with pytest.raises(BadSetting, match=words):
        device_says("battery", AT, percent=percent, cycles=cycles)


@pytest.mark.parametrize(
    ("percent", "words"),
    [(92, "they agree"), (99, "says more than was measured"), (80, "says less than was measured")],
)
def test_the_device_is_set_beside_the_log(percent, words):
    assert words in beside_log(with_all(percent, 311, (91.0, 88.0, 94.0)), "battery")


def test_without_a_log_or_without_the_device_nothing_is_compared():
    assert beside_log(with_all(92, 311), "battery") == ""
    assert beside_log(with_all(None, 311, (91.0, 88.0, 94.0)), "battery") == ""
    assert beside_promise(with_all(92), "battery") == ""
    assert beside_promise(load("tern-3"), "battery") == ""


@pytest.mark.parametrize(
    ("cycles", "measured", "words"),
    [
        (311, (91.0, 89.0, 93.0), "the 88 % that its maker promises after 500 are kept so far"),
        (311, (85.0, 83.0, 87.0), "after 500 are not kept"),
        (311, (88.0, 86.0, 90.0), "neither kept nor missed"),
        (311, (None, 86.0, 90.0), "neither kept nor missed"),
        (700, (85.0, 83.0, 87.0), "the 82 % that its maker promises after 1000 are kept so far"),
        (700, (80.0, 78.0, 81.9), "after 1000 are not kept"),
        (1200, (80.0, 78.0, 82.0), ""),
    ],
)
def test_the_promise_of_the_maker_is_judged_with_the_range(cycles, measured, words):
    found = beside_promise(with_all(None, cycles, measured), "battery")
    assert words in found
    assert bool(found) == bool(words)


def test_without_a_promise_what_the_eu_asks_for_counts():
    """80 % after 800 cycles [eco-2023-1670, Annex II B 1.2(4)]."""
    record = with_all(None, 700, (85.0, 83.0, 87.0))
    bare = msgspec.structs.replace(record.device, remaining_after_1000_percent=None)
    found = beside_promise(msgspec.structs.replace(record, device=bare), "battery")
    assert "the 80 % that the EU asks for after 800 are kept so far" in found


def test_figures_of_different_days_are_told_with_their_days():
    early = device_says("battery", "2025-01-10T10:00:00Z", percent=92)
    late = device_says("battery", "2026-11-25T10:00:00Z", cycles=311)
    found = beside_promise(with_kept(load("tern-3"), (*early, *late)), "battery")
    assert found.startswith("92 % of 2025-01-10 and 311 full cycles of 2026-11-25: the 88 %")
