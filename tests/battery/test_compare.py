from __future__ import annotations

import msgspec
import pytest

from midframe import demo
from midframe.battery.compare import compare_batteries


def rows(now, before):
    return {row.name: row for row in compare_batteries(now, before).rows}


def test_the_new_device_stands_beside_its_predecessor():
    found = rows(demo.load("tern-3"), demo.load("tern-2"))
    assert found["rated capacity"].change_percent == pytest.approx(100 * (4880 / 4500 - 1))
    assert found["rated energy"].now == 18.93
    assert found["energy by volume"].now == pytest.approx(691.6, abs=0.1)
    assert all(row.missing == () for row in found.values())


def test_two_batteries_of_one_device_are_added_up():
    found = rows(demo.load("avocet-fold"), demo.load("tern-3"))
    assert found["batteries"].now == 2
    assert found["rated capacity"].now == 1170 + 2440
    assert found["nominal voltage"].now == 3.88


def test_what_a_record_does_not_say_is_missing_and_not_guessed():
    now, before = demo.load("tern-3"), demo.load("tern-2")
    parts = tuple(
        msgspec.structs.replace(part, specs=(), mass_g=None) if part.role == "battery" else part
        for part in before.parts
    )
    found = rows(now, msgspec.structs.replace(before, parts=parts))
    assert found["rated capacity"].before is None
    assert found["rated capacity"].missing == ("Tern 2",)
    assert found["energy by mass"].change_percent is None
    assert found["volume"].missing == ()
