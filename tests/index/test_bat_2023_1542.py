"""Battery removability, against [bat-2023-1542, Article 11] as read second-hand."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from index.builders import device
from midframe.index import Fastener, PartEvidence, ToolUse
from midframe.index.basic_tools import tool_use
from midframe.index.bat_2023_1542 import BatteryRemovability, battery_findings

OPEN = "not decidable from the record"


def battery(*, tool="basic", level="reusable", **more):
    filled = {"steps": 4, "way_tools": (ToolUse(name="tool", group=tool),), **more}
    joints = (Fastener(joint="glue", name="glue", level=level),)
    return PartEvidence(part="battery", name="Battery", role="battery", way_fasteners=joints, **filled)


@pytest.mark.parametrize(
    ("evidence", "right"),
    [
        (battery(), ["met", "met", "met", OPEN, OPEN]),
        (battery(tool="commercial"), ["met", "met", OPEN, OPEN, OPEN]),
        (battery(tool="product_set"), ["met", "met", "met", OPEN, OPEN]),
        (battery(uses_heat=True), ["not met", "met", "met", OPEN, OPEN]),
        (battery(uses_solvent=True), ["met", "not met", "met", OPEN, OPEN]),
        (battery(tool="proprietary"), ["met", "met", "not met", OPEN, OPEN]),
        (battery(tool=None), [OPEN, OPEN, OPEN, OPEN, OPEN]),
        (battery(level="none"), ["met", "met", "met", "not met", OPEN]),
        (battery(spare="none"), ["met", "met", "met", "not met", OPEN]),
        (battery(damages=("cover",)), ["met", "met", "met", OPEN, OPEN]),
        (battery(way_tools=None), [OPEN, OPEN, OPEN, OPEN, OPEN]),
        (battery(steps=None, uses_heat=True), ["not met", OPEN, OPEN, OPEN, OPEN]),
    ],
)
def test_each_duty_of_the_article_falls_for_its_own_reason(evidence, right):
    found = battery_findings(evidence)
    assert [one.verdict for one in found] == right
    assert all(one.missing for one in found if one.verdict == OPEN)
    assert all("summaries" in one.reading for one in found)


def test_a_record_never_settles_that_an_end_user_can_remove_and_replace_the_battery():
    # [bat-2023-1542, Article 11]: by the end user, at any time, with instructions permanently online.
    removable = battery_findings(battery(spare="end_user"))[3]
    assert (removable.verdict, removable.missing) == (OPEN, ("whether an end user manages it",))
    vague = battery_findings(battery(level=None))[3]
    assert vague.missing[:2] == ("fastener level of glue", "whether end users are offered the battery")


def test_heat_is_open_where_the_record_does_not_say_how_a_joint_is_opened():
    joints = (Fastener(joint="bond", name="bond", level="resupplied", assumed=True),)
    found = battery_findings(replace(battery(), way_fasteners=joints))
    assert [one.verdict for one in found[:2]] == [OPEN, OPEN]
    assert found[0].missing == ("how bond is opened",)


def test_a_proprietary_tool_stays_proprietary_when_it_comes_free():
    tools = (tool_use("moon key", group="proprietary", supplied="product"),)
    assert tools[0].group == "product_set"
    assert battery_findings(battery(way_tools=tools))[2].verdict == "not met"


def test_the_notes_give_the_date_and_leave_the_relation_to_ecodesign_open():
    notes = " ".join(BatteryRemovability().judge(device([battery()])).notes)
    assert "18 February 2027" in notes
    assert "neither is decided" in notes
    assert "Derogations" in notes


def test_without_a_battery_the_article_does_not_apply():
    judgement = BatteryRemovability().judge(device([], absent=("battery",)))
    assert not judgement.applies
    assert not judgement.findings
