"""Pictures of heat: well-formed, told in words, readable in grey."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest

from midframe import demo
from midframe.heat import PlanSettings, Reading, cooling, goal_of, heat_model, make_plan
from midframe.publish.heat_charts import chart_of
from midframe.publish.heat_section import section_of, shade
from midframe.publish.svg import standalone

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def followed():
    model = heat_model(demo.load("tern-3"), "battery-bond")
    asked = PlanSettings(sources=("hairdryer",))
    plan = make_plan(model, asked)
    return model, plan, cooling(model, plan.best, goal_of(model, asked))


def test_the_chart_says_window_stop_limits_and_every_curve(followed):
    _, plan, after = followed
    root = ET.fromstring(standalone(chart_of(plan, plan.best, after)))
    assert (root.get("role"), root.find(f"{SVG}title").text[:12]) == ("img", "Temperatures")
    text = " ".join(node.text or "" for node in root.iter(f"{SVG}text"))
    for word in ("window", "stop", "limit of cell 60 °C", "coldest bond", "hottest cell", "soft 30 °C"):
        assert word in text


def test_each_curve_has_a_piece_of_its_own_line_beside_its_label(followed):
    _, plan, after = followed
    root = ET.fromstring(standalone(chart_of(plan, plan.best, after)))
    lines = list(root.iter(f"{SVG}polyline"))
    curves = [
        (one.get("class"), one.get("stroke-dasharray")) for one in lines if len(one.get("points").split()) > 3
    ]
    pieces = [one for one in lines if len(one.get("points").split()) == 2]
    short = [
        (one.get("class"), one.get("stroke-dasharray"))
        for one in pieces
        if abs(float(one.get("points").split()[1].split(",")[0]) - float(one.get("points").split(",")[0]))
        < 20
    ]
    assert len(set(curves)) == len(curves) == 4
    assert sorted(map(str, short)) == sorted(map(str, [*curves, ("d-mark", "3 3")]))


def test_readings_are_crosses_on_the_surface_over_the_bond(followed):
    _, plan, _ = followed
    readings = [Reading(20.0, 25.5), Reading(2000.0, 140.0)]
    root = ET.fromstring(standalone(chart_of(plan, plan.best, readings=readings)))
    titles = [node.text for node in root.iter(f"{SVG}title")]
    assert "reading of 25.5 °C after 20 s" in titles
    assert "surface read" in titles
    assert "heated surface" not in titles


def test_the_section_names_parts_as_they_are_called(followed):
    model, plan, _ = followed
    root = ET.fromstring(standalone(section_of(model, plan, plan.best, names={"battery": "Cell pack"})))
    assert "Cell pack" in [node.text for node in root.iter(f"{SVG}text")]


def test_the_section_is_coloured_and_its_bond_is_marked(followed):
    model, plan, _ = followed
    root = ET.fromstring(standalone(section_of(model, plan, plan.best)))
    fills = {node.get("fill") for node in root.iter(f"{SVG}rect")}
    assert len(fills) > 4
    assert any(node.text == "bond:battery-bond" for node in root.iter(f"{SVG}title"))
    assert "darker is hotter" in root.find(f"{SVG}desc").text


def luminance(colour):
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def lightness(colour):
    """CIE lightness of a colour printed in grey."""
    return 116 * luminance(colour) ** (1 / 3) - 16


def test_the_scale_falls_evenly_in_lightness_so_that_it_reads_in_grey():
    steps = [lightness(shade(n / 11)) for n in range(12)]
    falls = [one - other for one, other in pairwise(steps)]
    assert min(falls) > 0
    assert max(falls) < 1.6 * min(falls)
