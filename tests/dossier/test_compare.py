"""Records side by side, and one record at a glance."""

from __future__ import annotations

import msgspec
import pytest

from dossier.worked import glued, hand_opened
from midframe.demo import load
from midframe.dossier.compare import CompareOptions, compare, screw_rows
from midframe.dossier.index import device_index
from midframe.dossier.matching import match_joints, match_parts
from midframe.dossier.summary import index_line, summary
from midframe.faults import BadSetting
from midframe.upkeep import UpkeepSettings
from midframe.ways.objective import SECONDS
from midframe.ways.solve import solve
from ways.records import joint, part, record, with_joint, with_part

PLAIN = CompareOptions(upkeep=None)


def row(found, name):
    return next(one for one in found.parts if one.name == name)


def changed():
    """The hand-opened phone with a plate more over the speaker and another name for its microphone module."""
    whole = hand_opened()
    parts = (*whole.parts, part("plate", ("inner-cover",)))
    joints = (
        *whole.joints,
        joint("plate-screws", "plate frame", "screw", ("inner-cover",), count=3, drive="hexalobular 4"),
    )
    whole = msgspec.structs.replace(whole, parts=parts, joints=joints)
    whole = with_part(whole, "speaker", under=(("plate",),))
    device = msgspec.structs.replace(whole.device, name="Follower", predecessor="worked-example-1")
    return msgspec.structs.replace(with_joint(whole, "speaker-screws", behind=(("plate",),)), device=device)


def test_the_joints_and_covers_on_the_way_in_one_only_are_named():
    found = compare([hand_opened(), changed()], PLAIN)
    speaker = row(found, "speaker")
    assert [side.steps for side in speaker.sides] == [4, 5]
    assert speaker.sides[0].only_joints == ()
    assert speaker.sides[1].only_joints == ("plate-screws",)
    assert speaker.sides[1].only_covers == ("plate",)
    assert speaker.text == "only in Follower: the plate and plate screws"
    assert row(found, "battery").text == ""


def test_a_score_that_is_only_known_as_a_range_got_neither_better_nor_worse():
    gap = msgspec.structs.replace(changed().device, updates_years=None)
    pair = [hand_opened(), msgspec.structs.replace(changed(), device=gap)]
    found = compare(pair, PLAIN)
    updates = next(score for score in found.scores if score.symbol == "SSU")
    assert updates.low[1] < updates.high[1]
    told = {one.name.partition(",")[0] for one in (*found.changes[0].better, *found.changes[0].worse)}
    assert told.isdisjoint({"R", "SSU"})
    assert {name.partition(",")[0] for name in found.changes[0].undecided} >= {"R", "SSU"}
    assert compare([hand_opened(), glued()], PLAIN).changes[0].undecided == ()
    assert "screws" not in told


def test_the_predecessor_is_named():
    assert compare([hand_opened(), changed()], PLAIN).heritage == (
        "Worked example 1 is the predecessor of Follower",
    )


@pytest.mark.parametrize("pair", [(hand_opened, changed), (hand_opened, glued)])
def test_a_comparison_reads_the_same_from_both_ends(pair):
    one, other = (make() for make in pair)
    there, back = compare([one, other], PLAIN), compare([other, one], PLAIN)

    def sides(found):
        return {frozenset(enumerate_by_device(found, r)) for r in found.parts}

    def enumerate_by_device(found, r):
        names = [line.name for line in found.devices]
        return [(name, side) for name, side in zip(names, r.sides, strict=True)]

    assert sides(there) == sides(back)
    assert [r.shown[::-1] for r in there.scores] == [r.shown for r in back.scores]
    assert {(r.drive, r.length_mm, r.counts[::-1]) for r in there.screws} == {
        (r.drive, r.length_mm, r.counts) for r in back.screws
    }
    assert {r.text for r in there.parts if ";" not in r.text} == {
        r.text for r in back.parts if ";" not in r.text
    }


def test_a_record_beside_itself_differs_in_nothing():
    found = compare([glued(), glued()], PLAIN)
    assert not any(r.text for r in found.parts)
    assert all(r.sides[0] == r.sides[1] for r in found.parts)
    assert all(len(set(r.counts)) == 1 for r in found.screws)


def test_parts_match_by_id_then_by_role_and_name_then_by_a_role_that_is_left_once():
    one = record(
        [
            part("lid", role="back_cover"),
            part("a", role="speaker"),
            part("b", role="speaker"),
            part("cell", role="battery"),
        ],
        [],
    )
    other = record(
        [
            part("lid", role="back_cover"),
            part("c", role="speaker"),
            part("d", role="button"),
            part("pack", role="battery"),
        ],
        [],
    )
    parts = tuple(msgspec.structs.replace(p, name="A") if p.id == "c" else p for p in other.parts)
    other = msgspec.structs.replace(other, parts=parts)
    groups = match_parts([one, other])
    assert groups[0]["lid"] == groups[1]["lid"]
    assert groups[0]["a"] == groups[1]["c"]
    assert groups[0]["cell"] == groups[1]["pack"]
    assert groups[1]["d"] not in groups[0].values()
    assert groups[0]["b"] not in groups[1].values()


def test_joints_match_by_id_and_else_by_kind_and_what_they_hold():
    one = record(
        [part("lid"), part("cell")], [joint("x", "lid frame", "clip"), joint("y", "cell frame", "clip")]
    )
    other = record(
        [part("lid"), part("cell")], [joint("x", "lid frame", "screw"), joint("z", "frame cell", "clip")]
    )
    pair = [one, other]
    groups = match_joints(pair, match_parts(pair))
    assert groups[0]["x"] == groups[1]["x"]
    assert groups[0]["y"] == groups[1]["z"]


def test_three_records_stand_side_by_side():
    found = compare([hand_opened(), changed(), glued()], PLAIN)
    assert all(len(r.sides) == 3 for r in found.parts)
    assert all(row(found, "microphone").sides[at] is None for at in (0, 1))


def test_fewer_than_two_are_refused():
    with pytest.raises(BadSetting, match="two or more"):
        compare([glued()])


def test_every_part_is_compared_on_demand():
    named = {r.name for r in compare([hand_opened(), changed()], PLAIN).parts}
    every = {
        r.name
        for r in compare([hand_opened(), changed()], CompareOptions(upkeep=None, every_part=True)).parts
    }
    assert "inner-cover" not in named
    assert every - named == {"inner-cover", "board", "flex", "plate"}


def test_screws_are_tallied_by_kind():
    rows = screw_rows([hand_opened(), changed()])
    assert {r.drive: r.counts for r in rows} == {"cross recess 00": (21, 21), "hexalobular 4": (0, 3)}


def test_maintainability_stands_beside_it():
    settings = UpkeepSettings(draws=1000)
    found = compare([hand_opened(), glued()], CompareOptions(upkeep=settings))
    mean = found.upkeep[0]
    assert mean.name == "mean time to repair"
    assert mean.seconds[0] < mean.seconds[1]


def test_the_demo_predecessor_is_faster_to_open():
    found = compare([load("tern-2"), load("heron-tab")], PLAIN)
    back = next(r for r in found.parts if r.role == "back_cover")
    assert back.sides[0].steps < back.sides[1].steps
    assert msgspec.to_builtins(found)["index_lines"][0] == "R = 2.86 of 5, class C"


def test_a_summary_has_a_row_for_every_part_but_the_body():
    found = summary(hand_opened(), SECONDS)
    assert [one.part for one in found.ways] == [one.id for one in hand_opened().parts[1:]]
    battery = next(one for one in found.ways if one.part == "battery")
    assert battery.seconds == solve(hand_opened(), "battery", SECONDS).seconds
    assert battery.low_seconds < battery.seconds < battery.high_seconds
    assert (found.device.parts, found.device.joints, found.device.screws) == (12, 12, 21)
    assert found.index_line == "R = 4.66 of 5, class A"


def test_a_summary_says_why_a_part_has_no_way():
    found = summary(with_joint(hand_opened(), "button-tape", behind=(("button",),)))
    button = next(one for one in found.ways if one.part == "button")
    assert button.steps is None
    assert button.reason
    assert "missing" in found.index_line


def test_an_index_that_is_not_defined_says_for_which_score():
    found = device_index(with_part(glued(), "display", spare="professional")).index
    assert index_line(found) == "no score defined for SSP"


def test_the_summary_goes_into_plain_values():
    assert msgspec.to_builtins(summary(hand_opened()))["ways"][0]["steps"] == 1


def test_what_got_worse_is_told_with_the_joint_that_did_it():
    found = compare([hand_opened(), changed()], CompareOptions())
    (pair,) = found.changes
    assert (pair.before, pair.after) == (0, 1)
    worse = {one.name: one for one in pair.worse}
    speaker = worse["speaker, steps"]
    assert (speaker.before, speaker.after) == (4, 5)
    assert speaker.because == "only in Follower: the plate and plate screws"
    assert "battery, steps" not in worse
    assert not any("screws" in one.name for one in (*pair.better, *pair.worse))
    assert all(one.after > one.before for one in pair.worse if one.unit != "of 5")


def test_a_change_seen_from_the_other_end_is_the_same_change_the_other_way():
    ahead = compare([hand_opened(), glued()], CompareOptions()).changes[0]
    back = compare([glued(), hand_opened()], CompareOptions()).changes[0]
    assert {(one.name, one.before, one.after) for one in ahead.worse} == {
        (one.name, one.after, one.before) for one in back.better
    }
    assert {(one.name, one.before, one.after) for one in ahead.better} == {
        (one.name, one.after, one.before) for one in back.worse
    }


def test_a_score_names_the_part_and_the_fastener_that_moved_it():
    pair = compare([hand_opened(), glued()], CompareOptions()).changes[0]
    worse = {one.name: one.because for one in pair.worse}
    assert "back-cover: back glue decides now" in worse["SF, fasteners"]
    assert "heating mat decides now" in worse["ST, tools"]
    assert "counted for depth" in worse["SDD, disassembly depth"]
    assert worse["SSU, software updates"] == ""


def test_a_successor_is_held_against_its_predecessor_whatever_the_order_given():
    pair = compare([changed(), hand_opened()], CompareOptions()).changes[0]
    assert (pair.before, pair.after) == (1, 0)
    three = compare([glued(), changed(), hand_opened()], CompareOptions()).changes
    assert [(one.before, one.after) for one in three] == [(2, 1)]


def test_the_batteries_stand_side_by_side_and_two_in_one_device_are_added_up():
    records = [load("tern-3"), load("avocet-fold")]
    found = {one.name: one.values for one in compare(records, CompareOptions(upkeep=None)).batteries}
    assert found["batteries"] == (1.0, 2.0)
    assert found["rated capacity"] == (4880.0, 1170.0 + 2440.0)
    assert found["largest cell"] == (18.93, 9.47)
