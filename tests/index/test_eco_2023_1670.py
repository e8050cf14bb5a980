"""Ecodesign findings, against [eco-2023-1670, Annex II B and D points 1.1 and 1.2] as restated."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from index.builders import device
from midframe.index import Fastener, PartEvidence, ToolUse
from midframe.index.eco_2023_1670 import (
    Ecodesign,
    battery_conditions,
    cover_must_come_off,
    ecodesign_findings,
)
from midframe.index.eco_disassembly import DEMANDS

OPEN = "not decidable from the record"
SCREW = Fastener(joint="screws", name="cover screws", level="reusable")
STRIPS = Fastener(joint="strips", name="stretch strips", level="resupplied")
GLUE = Fastener(joint="glue", name="battery glue", level="removable")
WELD = Fastener(joint="weld", name="weld", level="none")
DRIVER = ToolUse(name="cross recess 00 driver", group="basic")
CUP = ToolUse(name="suction cup", group="commercial")
KEY = ToolUse(name="moon key", group="proprietary")

GOOD = {
    "remaining_after_500_percent": 83,
    "remaining_after_1000_percent": 80,
    "full_cycles": 1000,
    "ingress": "IP67",
}


def known(role, *, fasteners=(SCREW,), tools=(DRIVER,), **more):
    """A part whose whole way is known."""
    filled = {"way_parts": (), "spare": "end_user", "steps": 3, "part": role, **more}
    return PartEvidence(name=role, role=role, way_fasteners=fasteners, way_tools=tools, **filled)


def verdicts(evidence, point, part=None):
    """Verdict by the first word of the duty, of one point and part."""
    return {
        one.duty.split(":")[0]: one.verdict
        for one in ecodesign_findings(evidence)
        if one.clause.endswith(point) and part in (None, one.part)
    }


def rows(evidence, point="point 1.1(5)(c)(i)"):
    found = verdicts(evidence, point)
    return [found[word] for word in ("fasteners", "tools", "environment", "skill")]


def replacement(evidence):
    return verdicts(evidence, "point 1.1(5)(c)")["battery replacement"]


def test_a_battery_with_screws_and_a_basic_driver_meets_what_a_record_can_show_of_the_main_rule():
    # [eco-2023-1670, Annex I (53)-(56); Annex IIIa Table 3]: place and skill are classes of a standard.
    evidence = device([known("battery", fasteners=(SCREW, STRIPS))])
    assert rows(evidence) == ["met", "met", OPEN, OPEN]
    assert replacement(evidence) == OPEN
    (place,) = [one for one in ecodesign_findings(evidence) if one.duty == "environment: use" and one.missing]
    assert place.missing == ("a trial in the use environment by a layman",)


@pytest.mark.parametrize(
    ("change", "right"),
    [
        ({"fasteners": (SCREW, GLUE)}, ["not met", "met", OPEN, OPEN]),
        ({"tools": (DRIVER, CUP)}, ["met", "not met", OPEN, OPEN]),
        ({"tools": (DRIVER, KEY)}, ["met", "not met", OPEN, OPEN]),
        ({"uses_heat": True}, ["met", "met", "not met", "not met"]),
        ({"uses_solvent": True}, ["met", "met", "not met", "not met"]),
        ({"fasteners": (replace(SCREW, level=None),)}, [OPEN, "met", OPEN, OPEN]),
        ({"tools": (ToolUse(name="spoon", group=None),)}, ["met", OPEN, OPEN, OPEN]),
        ({"damages": ("back glass",)}, [OPEN, "met", OPEN, OPEN]),
        ({"steps": None}, [OPEN] * 4),
    ],
)
def test_each_row_of_the_battery_rule_falls_for_its_own_reason(change, right):
    assert rows(device([known("battery", **change)])) == right


def test_a_glued_battery_may_be_saved_by_the_alternative_only_with_its_conditions():
    glued = [known("battery", fasteners=(GLUE,), tools=(CUP,), uses_heat=True)]
    assert replacement(device(glued)) == OPEN
    assert replacement(device(glued, **GOOD)) == OPEN
    assert replacement(device(glued, **GOOD | {"ingress": "IP54"})) == "not met"
    assert rows(device(glued, **GOOD), "point 1.1(5)(c)(ii)") == ["met", "met", OPEN, OPEN]


def test_no_exception_saves_a_battery_behind_a_weld_or_a_proprietary_tool():
    for change in ({"fasteners": (WELD,)}, {"tools": (KEY,)}):
        assert replacement(device([known("battery", **change)], **GOOD)) == "not met"


@pytest.mark.parametrize(
    ("change", "right"),
    [
        ({}, "met"),
        ({"remaining_after_500_percent": 82.9}, "not met"),
        ({"remaining_after_1000_percent": 79.9}, "not met"),
        ({"full_cycles": 999}, "not met"),
        ({"ingress": "IP66"}, "not met"),
        ({"ingress": "IP57"}, "not met"),
        ({"ingress": "IP68"}, "met"),
        ({"ingress": "IPX8"}, OPEN),
        ({"ingress": None}, OPEN),
        ({"full_cycles": None}, OPEN),
        ({"full_cycles": None, "ingress": "IP42"}, "not met"),
    ],
)
def test_the_conditions_of_the_battery_exception_hold_at_their_edges(change, right):
    assert battery_conditions(device([], **GOOD | change)).verdict == right


def test_a_tablet_needs_ip42_only():
    assert battery_conditions(device([], kind="tablet", **GOOD | {"ingress": "IP42"})).verdict == "met"
    assert battery_conditions(device([], kind="tablet", **GOOD | {"ingress": "IP41"})).verdict == "not met"


@pytest.mark.parametrize("role", [role for role, demand in DEMANDS.items() if demand.point.endswith("(a)")])
def test_parts_for_professionals_may_take_glue_heat_and_bought_tools_but_no_proprietary_ones(role):
    hard = known(role, fasteners=(GLUE,), tools=(CUP,), uses_heat=True)
    more = {"has_hinge": True} if role == "hinge" else {}
    assert rows(device([hard], **more), "point 1.1(5)(a)") == ["met", "met", OPEN, OPEN]
    proprietary = replace(hard, way_tools=(KEY,))
    assert rows(device([proprietary], **more), "point 1.1(5)(a)") == ["met", "not met", OPEN, OPEN]


def test_the_back_cover_is_ruled_only_if_it_must_come_off_for_the_battery():
    cover = known("back_cover", tools=(CUP,))
    through = known("battery", way_parts=("back_cover",))
    aside, unknown = known("battery"), known("battery", way_parts=None)
    assert [cover_must_come_off(device([cover, one])) for one in (through, aside, unknown)] == [
        True,
        False,
        None,
    ]
    assert verdicts(device([cover, through]), "point 1.1(5)(b)")["tools"] == "not met"
    assert not verdicts(device([cover, aside]), "point 1.1(5)(b)")
    assert set(verdicts(device([cover, unknown]), "1.1(5)(b)").values()) == {OPEN}


def spare(role, offer, **more):
    found = verdicts(device([known(role, spare=offer)], **more), "", role)
    return next(verdict for duty, verdict in found.items() if duty.startswith("spare part"))


def test_spare_parts_go_to_those_the_act_names():
    for role in ("speaker", "rear_camera", "charging_port"):
        assert [spare(role, offer) for offer in ("end_user", "professional", "none", None)] == [
            "met",
            "met",
            "not met",
            OPEN,
        ]
    for role in ("display", "sim_tray"):
        assert [spare(role, offer) for offer in ("end_user", "professional", "none", None)] == [
            "met",
            "not met",
            "not met",
            OPEN,
        ]


def test_a_battery_for_professionals_only_rests_on_the_exception():
    assert spare("battery", "professional") == OPEN
    assert spare("battery", "professional", **GOOD) == "met"
    assert spare("battery", "professional", **GOOD | {"full_cycles": 900}) == "not met"


def test_fasteners_that_do_not_last_must_come_with_the_spare_part():
    duty = "required fasteners come with the spare part if not reusable"
    assert (
        verdicts(device([known("speaker", fasteners=(SCREW, STRIPS))]), "point 1.1(1)", "speaker")[duty]
        == "met"
    )
    assert verdicts(device([known("speaker", fasteners=(GLUE,))]), "point 1.1(1)", "speaker")[duty] == OPEN


def test_what_is_resupplied_with_another_part_need_not_come_with_this_one():
    # [eco-2023-1670, Annex I (6)-(10)]: resupplied with the spare part it is meant to fix.
    duty = "required fasteners come with the spare part if not reusable"
    cover_tape = replace(STRIPS, own=False)
    found = device([known("battery", fasteners=(SCREW, cover_tape), spare="end_user")])
    assert verdicts(found, "point 1.1(1)", "battery")[duty] == OPEN


@pytest.mark.parametrize(
    ("roles", "right"),
    [
        (("microphone", "charging_port"), "met"),
        (("microphone", "speaker"), "met"),
        (("audio_connector", "charging_port"), OPEN),
        (("speaker", "charging_port"), OPEN),
        (("display", "button"), OPEN),
        (("battery", "display"), "not met"),
        (("front_camera", "rear_camera", "microphone"), "not met"),
    ],
)
def test_bundles_are_held_against_the_exceptions(roles, right):
    parts = [known(role, part="module") for role in roles]
    sold = [known(roles[0], bundle=tuple(roles[1:])), *(known(role) for role in roles[1:])]
    for evidence in (device(parts), device(sold)):
        found = [
            one
            for one in ecodesign_findings(evidence)
            if one.clause.endswith("(b)") and "bundles" in one.duty
        ]
        assert [one.verdict for one in found] == [right]


def test_a_paired_part_leaves_the_access_to_tools_open():
    found = verdicts(device([known("battery", remote=("authorisation",))]), "point 1.1(7)")
    assert list(found.values()) == [OPEN]
    assert not verdicts(device([known("battery")]), "point 1.1(7)")


@pytest.mark.parametrize(
    ("change", "right"),
    [
        ({"full_cycles": 800}, "met"),
        ({"full_cycles": 1200, "remaining_after_1000_percent": 79}, OPEN),
        ({"full_cycles": 799}, "not met"),
        ({"remaining_after_1000_percent": 80}, "met"),
        ({"remaining_after_1000_percent": 70}, OPEN),
        ({}, OPEN),
    ],
)
def test_the_battery_must_last_800_cycles(change, right):
    assert verdicts(device([], **change), "point 1.2(4)")["battery endurance"] == right
    assert verdicts(device([], kind="tablet", **change), "point 1.2(3)")["battery endurance"] == right


def test_what_no_record_can_show_stays_open_and_says_what_is_missing():
    found = [one for one in Ecodesign().judge(device([])).findings if one.verdict == OPEN]
    assert {"point 1.1(3)", "point 1.1(4)"} <= {one.clause.removeprefix("Annex II B ") for one in found}
    assert all(one.missing for one in found)


def test_every_open_finding_of_a_bare_record_says_what_is_missing():
    bare = [PartEvidence(part=role, name=role, role=role, steps=None) for role in DEMANDS if role != "hinge"]
    found = Ecodesign().judge(device(bare, foldable=True, updates_years=None)).findings
    assert all(one.missing for one in found if one.verdict == OPEN)
    assert {one.verdict for one in found} == {OPEN}


def test_no_repair_information_at_all_is_a_breach():
    found = verdicts(device([], repair_information="none"), "point 1.1(2)")
    assert set(found.values()) == {"not met"}
