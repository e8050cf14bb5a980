from __future__ import annotations

import pytest

from record.sample import TERN, changed, found, joint, part

NOTES = [
    (
        changed("[157.0, 73.5, 8.9]", "[15.7, 73.5, 8.9]"),
        "device.size_mm[0]",
        "height of 15.7 mm",
        "157, if 15.7 was in centimetres",
    ),
    (
        changed("[157.0, 73.5, 8.9]", "[6.18, 73.5, 8.9]"),
        "device.size_mm[0]",
        "height of 6.18 mm",
        "157, if 6.18 was in inches",
    ),
    (
        changed("[157.0, 73.5, 8.9]", "[157.0, 8.9, 73.5]"),
        "device.size_mm",
        "not the smallest",
        "in this order",
    ),
    (changed("mass_g = 190", "mass_g = 0.19"), "device.mass_g", "0.19 g", "190, if 0.19 was in kilograms"),
    (
        changed("mass_g = 61", "mass_g = 6100"),
        "parts[1].mass_g",
        "6100 g in a device of 190 g",
        "6.1, if 6100 was in milligrams",
    ),
    (
        changed("mass_g = 61", "mass_g = 161"),
        "parts",
        "together in a device of 190 g",
        "no more than the device",
    ),
    (
        changed("mass_g = 12", "mass_g = 12\n")
        .replace('seat = "mid-cover"', 'seat = "mid-cover"\nmass_g = 1')
        .replace("mass_g = 61", "mass_g = 6.1"),
        "parts",
        "though each has a mass",
        "come near",
    ),
    (
        changed("value = 4500", "value = 4.5"),
        "parts[1].specs[0]",
        "4.5 mAh",
        "4500, if 4.5 was in ampere-hours",
    ),
    (
        changed("length_mm = 3.0", "length_mm = 0.3"),
        "joints[1].length_mm",
        "length_mm = 0.3",
        "3, if 0.3 was in centimetres",
    ),
    (
        changed("length_mm = 3.0", "length_mm = 30"),
        "joints[1].length_mm",
        "length_mm = 30",
        "usual is 0.8 to 12",
    ),
    (changed('"M1.4"', '"M14"'), "joints[1].thread", "M14", "M0.6 to M3"),
    (changed('"M1.4"', '"1.4"'), "joints[1].thread", "1.4", '"M1.4"'),
    (
        changed('thread = "M1.4"', "torque_nm = 12"),
        "joints[1].torque_nm",
        "torque_nm = 12",
        "0.12, if 12 was in newton centimetres",
    ),
    (changed("soft_c = 80", "soft_c = 600"), "joints[0].soft_c", "soft_c = 600", "in kelvin"),
    (
        changed("soft_c = 80", 'drive = "hexalobular 4"'),
        "joints[0].drive",
        "`drive` on a joint of kind adhesive",
        "no `drive`",
    ),
    (
        changed("soft_c = 80", "tether = true").replace('behind = ["mid-cover"]', ""),
        "joints[0].tether",
        "tether of kind adhesive",
        "flex",
    ),
    (changed('drive = "hexalobular 4"\n', ""), "joints[1].drive", "without a drive", "hexalobular 4"),
    (changed("count = 3\n", ""), "joints[1].count", "without a count", "number of screws"),
    (changed("count = 3\n", "spots_mm = [[1, 1]]\n"), "joints[1].count", "without a count", "count = 1"),
    (
        changed("count = 3", "count = 3\nspots_mm = [[1, 1]]"),
        "joints[1].spots_mm",
        "1 spots for a count of 3",
        "one spot for each",
    ),
    (
        changed("count = 3", "count = 1\nspots_mm = [[10, 400]]"),
        "joints[1].spots_mm[0]",
        "10, 400 on a plan",
        "from the left",
    ),
    (
        joint("shield", "clip", ["shield", "mid-cover"]),
        "joints[2].id",
        "as part and as joint",
        "different ids",
    ),
    (joint("three", "clip", ["shield", "mid-cover", "shield"]), "joints[2].holds", '"shield" twice', "once"),
    (
        part("cell-2", 'seat = "frame"\nrole = "battery"'),
        "parts",
        "2 parts carry the role battery: battery, cell-2",
        "the worse of each score",
    ),
    (TERN, "device.absent", "no part with the role display", "unknown"),
    (TERN, "joints", "no fastener level on 2 of 2 joints: battery-glue, cover-screws", "fastener ="),
    (TERN, "parts", "spare of 1 priority parts: battery", "spare ="),
    (
        changed('name = "Battery"', 'name = "Battery"\nphotos = ["ab"]'),
        "parts[1].photos[0]",
        'photo "ab"',
        "[[photos]]",
    ),
    (
        changed('name = "Frame"', 'name = "Frame"\nlift = {}'),
        "parts[0].lift",
        "the body with `lift`",
        "never lifted",
    ),
    (TERN + '\n[[log]]\nseconds = 3\nnote = "tea"', "log[1].seconds", "3 s after 4 s", "never going back"),
    (
        TERN + '\n[[log]]\nseconds = 5\nlift = ["shield"]\nby = 2',
        "log[1].by",
        "`by` on a lift",
        "only joints",
    ),
    (
        TERN + '\n[[orders]]\ntarget = "shield"\nmoves = []',
        "orders[1].moves",
        "without moves",
        "in their order",
    ),
    (changed("mass_g = 190", 'mass_g = 190\ncurrency = "euro"'), "device.currency", "euro", "EUR"),
    (
        part("lamp", 'seat = "frame"\ndepth_mm = [2, 89]'),
        "parts[4].depth_mm",
        "from 2 to 89 mm",
        "from the front",
    ),
    (
        part("lamp", 'seat = "frame"\noutline_mm = [[2, 89], [3, 1570]]'),
        "parts[4].outline_mm[1]",
        "3, 1570",
        "from the left",
    ),
]


@pytest.mark.parametrize(("text", "path", "what", "right"), NOTES)
def test_each_doubtful_point_is_noted(text, path, what, right):
    hits = [one for one in found(text, "note") if one.path == path and what in one.found]
    assert len(hits) == 1
    assert right in hits[0].right


QUIET = [case for case in NOTES if case[0] != TERN]


@pytest.mark.parametrize(("text", "path", "what", "right"), QUIET)
def test_a_sound_figure_is_not_remarked_on(text, path, what, right):
    assert text != TERN
    assert not [one for one in found(TERN, "note") if one.path == path and what in one.found]


def test_a_log_line_may_be_a_mere_note():
    assert found(TERN + '\n[[log]]\nseconds = 9\nnote = "cover is bent"', "fault") == []


def test_a_role_said_to_be_absent_and_a_hinge_that_cannot_be_are_not_asked_for():
    told = " ".join(one.found for one in found(TERN.replace('absent = ["hinge"]', ""), "note"))
    assert "role display" in told
    assert "role hinge" not in told
    assert "role hinge" in " ".join(
        one.found for one in found(changed('absent = ["hinge"]', "foldable = true"), "note")
    )
