from __future__ import annotations

import json
import re

import html5lib
import pytest

from midframe.publish import instruction
from midframe.publish.how_to import duration, how_to, to_json_ld
from midframe.publish.language import language
from publish.vocabulary import definition, faults

JOBS = [
    ("tern-3", "battery"),
    ("tern-2", "display"),
    ("heron-tab", "battery"),
    ("avocet-fold", "battery-lower"),
]


@pytest.mark.parametrize("code", ["en", "de"])
@pytest.mark.parametrize(("device", "target"), JOBS)
def test_every_type_and_property_is_used_as_the_vocabulary_defines_it(way_of, device, target, code):
    node = how_to(instruction(*way_of(device, target), language=code), language(code))
    assert list(faults(node)) == []


def test_the_definition_is_whole_and_a_wrong_use_is_found():
    above, domains, ranges = definition()
    assert len(above) > 700
    assert ranges["step"] >= {"HowToStep", "HowToSection"}
    assert domains["totalTime"] >= {"HowTo"}
    wrong = {"@type": "HowTo", "totalTime": 5, "step": {"@type": "Place"}, "tightness": "1", "price": "2"}
    assert list(faults(wrong)) == [
        f"HowTo.totalTime: 5 where {sorted(ranges['totalTime'])} may stand",
        f"HowTo.step: a Place where {sorted(ranges['step'])} may stand",
        "HowTo.tightness: no such property",
        "HowTo.price: not a property of HowTo",
    ]


@pytest.mark.parametrize(("device", "target"), JOBS)
def test_every_move_is_a_step_in_order_with_its_place_on_the_page(way_of, device, target):
    sheet = instruction(*way_of(device, target))
    steps = [step for section in how_to(sheet)["step"] for step in section["itemListElement"]]
    assert [step["position"] for step in steps] == [move.number for move in sheet.moves]
    assert [step["url"] for step in steps] == [f"#move-{move.number}" for move in sheet.moves]
    for step, move in zip(steps, sheet.moves, strict=True):
        directions = [one for one in step["itemListElement"] if one["@type"] == "HowToDirection"]
        assert len(directions) == len(move.work)


def test_cautions_stand_at_the_moves_they_are_about(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    steps = [step for section in how_to(sheet)["step"] for step in section["itemListElement"]]
    told = {
        step["position"]
        for step in steps
        for one in step["itemListElement"]
        if one["@type"] == "HowToTip" and "Lithium cell" in one["text"]
    }
    assert told == set(next(one for one in sheet.hazards if one.key == "cell").moves)


def test_times_are_iso_8601_durations():
    pattern = re.compile(r"PT(?=\d)(\d+H)?(\d+M)?(\d+S)?")
    for seconds in (0, 0.4, 1, 59.6, 60, 3599.7, 3600, 86_400, 90_061):
        found = pattern.fullmatch(duration(seconds))
        assert found, duration(seconds)
        hours, minutes, rest = (int(part[:-1]) if part else 0 for part in found.groups())
        assert hours * 3600 + minutes * 60 + rest == round(seconds)


def test_no_name_can_end_the_element_in_a_page():
    evil = {"name": "</script><script>alert(1)</script><!-- \u2028 & ]]>"}
    text = to_json_ld(evil, inside_page=True)
    page = f'<!doctype html><html lang="en"><head><title>x</title><script type="application/ld+json">{text}'
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(
        page + "</script></head><body></body></html>"
    )
    (script,) = tree.iter("script")
    assert json.loads(script.text) == evil
