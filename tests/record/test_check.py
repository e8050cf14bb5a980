from __future__ import annotations

import typing
from collections import Counter

import msgspec
import pytest
from hypothesis import given

from midframe.faults import RecordFault
from midframe.record import check, faults, read, sound
from midframe.record.model import Id, Record
from midframe.record.reader import hints, without_none
from midframe.record.references import uses
from record.sample import JOINTS, PARTS, TERN, changed, found, joint, part
from strategies import any_records, devices


def test_a_sound_record_has_no_fault():
    assert found(TERN, "fault") == []
    assert sound(read(TERN)) == read(TERN)


SEAL_TEST = '\n[[seal_tests]]\nid = "t"\nvolume_ml = 10\nseconds = {}\npressure_pa = {}\ncelsius = {}\n'

FAULTS = [
    (changed('body = "frame"', 'body = "fram"'), "device.body", "", 'unknown part "fram"', 'part "frame"'),
    (
        changed('under = ["mid-cover"]', 'under = ["midcover"]'),
        "parts[1].under[0]",
        "battery",
        "midcover",
        '"mid-cover"',
    ),
    (
        changed('behind = ["mid-cover"]', 'behind = [["shield"], ["x"]]'),
        "joints[0].behind[1][0]",
        "battery-glue",
        '"x"',
        "one of the parts",
    ),
    (
        changed("soft_c = 80", 'work = [{ do = "pry", harms = ["batery"] }]'),
        "joints[0].work[0].harms[0]",
        "battery-glue",
        "batery",
        '"battery"',
    ),
    (
        changed("soft_c = 80", 'work = [[{ do = "pry" }], [{ do = "cut", ruins = ["glass"] }]]'),
        "joints[0].work[1][0].ruins[0]",
        "battery-glue",
        "glass",
        "parts",
    ),
    (changed("soft_c = 80", 'ruins = ["glass"]'), "joints[0].ruins[0]", "battery-glue", "glass", "parts"),
    (
        part("lamp", 'seat = "frame"\nlift = { harms = ["shild"] }'),
        "parts[4].lift.harms[0]",
        "lamp",
        "shild",
        '"shield"',
    ),
    (part("lamp", 'seat = "frame"\nbundle = ["batt"]'), "parts[4].bundle[0]", "lamp", "batt", '"battery"'),
    (
        part("lamp", 'seat = "frame"\nbundle = ["lamp"]'),
        "parts[4].bundle",
        "lamp",
        "names the part itself",
        "only the other",
    ),
    (
        part("lamp", 'seat = "frame"\nbundle = ["frame"]'),
        "parts[4].bundle",
        "lamp",
        'body "frame"',
        "without the body",
    ),
    (part("shield", 'seat = "frame"'), "parts[4].id", "shield", "a second time", "parts[3]"),
    (
        changed('name = "Frame"', 'name = "Frame"\nseat = "mid-cover"'),
        "parts[0].seat",
        "frame",
        "the body with the seat",
        "no seat",
    ),
    (part("lamp"), "parts[4].seat", "lamp", "no joint holds", 'a joint that holds "lamp"'),
    (changed('seat = "mid-cover"', ""), "parts[3].seat", "shield", "no seat", "as its seat"),
    (
        part("lamp") + JOINTS.format("f", "connector", '["lamp", "shield"]', "tether = true"),
        "parts[4].seat",
        "lamp",
        "only by tethers, to shield",
        'seat = "frame"',
    ),
    (
        part("lamp") + JOINTS.format("f", "clip", '["lamp", "shield", "battery"]', ""),
        "parts[4].seat",
        "lamp",
        "joined to shield and battery",
        'seat = "shield" or seat = "battery"',
    ),
    (
        part("a", 'seat = "b"') + PARTS.format("b", 'seat = "a"'),
        "parts[4].seat",
        "a",
        "a on b on a",
        "leads to the body",
    ),
    (
        part("a") + PARTS.format("b", "") + JOINTS.format("ab", "clip", '["a", "b"]', ""),
        "parts[4].seat",
        "a",
        "a on b on a",
        "leads to the body",
    ),
    (
        changed('seat = "mid-cover"', 'seat = "shield"'),
        "parts[3].seat",
        "shield",
        "shield on shield",
        "leads to the body",
    ),
    (
        changed('under = ["mid-cover"]', 'under = ["battery"]'),
        "parts[1].under",
        "battery",
        "under itself",
        "lie over it",
    ),
    (
        changed('under = ["mid-cover"]', 'under = ["frame"]'),
        "parts[1].under",
        "battery",
        'under the body "frame"',
        "set aside",
    ),
    (
        changed('behind = ["mid-cover"]', 'behind = ["frame"]'),
        "joints[0].behind",
        "battery-glue",
        'behind the body "frame"',
        "set aside",
    ),
    (
        changed("mass_g = 12", 'under = ["battery"]'),
        "parts[1].under",
        "battery",
        "battery under mid-cover and mid-cover under battery",
        "one of the two",
    ),
    (joint("one", "clip", ["shield", "shield"]), "joints[2].holds", "one", 'only "shield"', "two or more"),
    (joint("none", "clip", []), "joints[2].holds", "none", "nothing", "two or more"),
    (
        changed("count = 3", "count = 1\nspots_mm = [[1, 1], [2, 2]]"),
        "joints[1].spots_mm",
        "cover-screws",
        "2 spots for a count of 1",
        "one spot",
    ),
    (
        changed('absent = ["hinge"]', 'absent = ["battery", "hinge"]'),
        "device.absent",
        "battery",
        'role "battery" as absent',
        "taken out",
    ),
    (changed('"IP68"', '"IP 68"'), "device.ingress", "", "IP 68", '"IP68"'),
    (changed("mass_g = 190", 'mass_g = 190\nlanguage = "German"'), "device.language", "", "German", '"de"'),
    (
        part("lamp", 'seat = "frame"\ndepth_mm = [3, 1]'),
        "parts[4].depth_mm",
        "lamp",
        "begins at 3 and ends at 1",
        "[1, 3]",
    ),
    (
        part("lamp", 'seat = "frame"\noutline_mm = [[3, 1]]'),
        "parts[4].outline_mm",
        "lamp",
        "one point",
        "opposite corners",
    ),
    (changed('target = "battery"', 'target = "batery"'), "orders[0].target", "", "batery", '"battery"'),
    (
        changed('target = "battery"', 'target = "frame"'),
        "orders[0].target",
        "frame",
        "the body",
        "can come out",
    ),
    (
        changed('{ open = "cover-screws" },', '{ open = "cover-screw" },'),
        "orders[0].moves[0].open",
        "",
        'joint "cover-screw"',
        '"cover-screws"',
    ),
    (
        changed('{ open = "cover-screws" },', '{ open = "cover-screws", by = 2 },'),
        "orders[0].moves[0].by",
        "cover-screws",
        "by = 2",
        "no `by`",
    ),
    (
        changed('{ open = "cover-screws" },', "{},"),
        "orders[0].moves[0]",
        "",
        "neither opens nor lifts",
        "`open`",
    ),
    (
        changed('{ open = "cover-screws" },', '{ open = "cover-screws", lift = ["shield"] },'),
        "orders[0].moves[0]",
        "cover-screws",
        "at once",
        "two moves",
    ),
    (
        changed('{ lift = ["mid-cover"] }', '{ lift = ["frame"] }'),
        "orders[0].moves[1].lift",
        "frame",
        "the body lifted",
        "come off",
    ),
    (
        changed('seconds = 4\nopen = "cover-screws"', "seconds = 4"),
        "log[0]",
        "",
        "neither opens nor lifts",
        "`open`",
    ),
    (
        changed('seconds = 4\nopen = "cover-screws"', 'seconds = 4\nlift = ["x"]'),
        "log[0].lift[0]",
        "",
        '"x"',
        "parts",
    ),
    (
        TERN + '\n[[layers]]\nid = "pad"\nkind = "pad"\nbetween = ["shield", "lid"]',
        "layers[0].between[1]",
        "pad",
        '"lid"',
        "parts",
    ),
    (
        TERN + '\n[[seals]]\nid = "ring"\nkind = "ring"\nat = ["cover-screws", "lid"]',
        "seals[0].at[1]",
        "ring",
        '"lid"',
        "part or joint",
    ),
    (
        TERN + '\n[[checks]]\nid = "ring"\ntext = "call it"\nparts = ["lid"]',
        "checks[0].parts[0]",
        "ring",
        '"lid"',
        "parts",
    ),
    (
        TERN + '\n[[measurements]]\nid = "m"\non = "lid"\nwhat = "state of health"',
        "measurements[0].on",
        "m",
        '"lid"',
        "part or joint",
    ),
    (
        TERN + '\n[[tried]]\ncheck = "touch"\n[[tried]]\ncheck = "touch"',
        "tried[1].check",
        "touch",
        "a second time",
        "tried[0]",
    ),
    (
        TERN + SEAL_TEST.format("[0, 60]", "[111325]", "[]"),
        "seal_tests[0].pressure_pa",
        "t",
        "1 values for 2 times",
        "one for each",
    ),
    (
        TERN + SEAL_TEST.format("[0, 60]", "[111325, 111300]", "[20]"),
        "seal_tests[0].celsius",
        "t",
        "1 values for 2 times",
        "one for each",
    ),
    (
        TERN + SEAL_TEST.format("[60, 60]", "[111325, 111300]", "[]"),
        "seal_tests[0].seconds",
        "t",
        "not later",
        "rising",
    ),
    (TERN + SEAL_TEST.format("[0]", "[111325]", "[]"), "seal_tests[0].seconds", "t", "1 readings", "two"),
    (TERN + '\n[[photos]]\nhash = "ab"\nparts = ["lid"]', "photos[0].parts[0]", "", '"lid"', "parts"),
    (
        TERN + '\n[[tools]]\nname = "spudger"\n[[tools]]\nname = "spudger"',
        "tools[1].name",
        "spudger",
        "a second time",
        "tools[0]",
    ),
]


@pytest.mark.parametrize(("text", "path", "subject", "what", "right"), FAULTS)
def test_each_fault_is_told_once_with_its_place_and_a_remedy(text, path, subject, what, right):
    (finding,) = found(text, "fault")
    assert (finding.path, finding.subject, finding.file) == (path, subject, "tern.device.toml")
    assert what in finding.found
    assert right in finding.right


def test_covers_that_are_lifted_together_may_cover_each_other():
    text = changed("mass_g = 12", 'under = ["battery"]')
    text += JOINTS.format("tape", "adhesive", '["battery", "mid-cover"]', "")
    text = text.replace('name = "Mid cover"', 'name = "Mid cover"\nseat = "frame"')
    assert found(text, "fault") == []


def test_a_record_built_in_code_is_held_to_the_same_ranges():
    record = read(TERN)
    glue = msgspec.structs.replace(record.joints[1], count=0, length_mm=float("nan"))
    findings = check(msgspec.structs.replace(record, joints=(record.joints[0], glue)), "built")
    assert [(one.path, one.found) for one in findings] == [
        ("joints[1].count", "the number 0"),
        ("joints[1].length_mm", "nan, which is no finite number"),
    ]


def test_sound_raises_all_faults_and_no_note():
    bare = changed('body = "frame"', 'body = "fram"').replace('under = ["mid-cover"]', 'under = ["x"]')
    with pytest.raises(RecordFault) as caught:
        sound(read(bare), "tern.device.toml")
    assert [one.path for one in caught.value.findings] == ["device.body", "parts[1].under[0]"]


@given(any_records())
def test_any_record_can_be_checked(record):
    findings = check(record, "any")
    assert all(one.found.strip() and one.right.strip() and one.file == "any" for one in findings)
    assert [one.level for one in findings] == sorted(one.level for one in findings)


@given(devices())
def test_drawn_devices_have_no_fault(record):
    assert faults(check(record)) == ()


def named_ids(value, kind):
    """Every value of a field that holds ids, found by the types of the model alone."""
    if kind == Id:
        yield from () if value is None else (value,)
    elif isinstance(value, msgspec.Struct):
        for name, inner in hints(type(value)).items():
            if name != "id":
                yield from named_ids(getattr(value, name), without_none(inner))
            if name in ("open", "on") and getattr(value, name):
                yield getattr(value, name)
    elif isinstance(value, tuple):
        inner = typing.get_args(kind)
        for number, one in enumerate(value):
            yield from named_ids(one, inner[0] if inner[-1] is Ellipsis else inner[number])


@given(any_records())
def test_every_field_that_holds_ids_is_looked_at(record):
    looked_at = [use.id for use in uses(record) if use.kinds != ("photo",)]
    assert Counter(looked_at) == Counter(named_ids(record, Record))
