from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import msgspec
import pytest

from midframe import demo
from midframe.publish.heat_path import path_drawing
from midframe.thermal import heat_paths, thermal_stack

SVG = "{http://www.w3.org/2000/svg}"


def drawn(record, at=-1):
    stack = thermal_stack(record, 3.0)
    way = heat_paths(record, stack)[at]
    return way, ET.fromstring(path_drawing(record, stack, way))


@pytest.mark.parametrize("name", demo.names())
def test_every_way_of_the_demo_devices_is_a_drawing_told_in_words(name):
    record = demo.load(name)
    stack = thermal_stack(record)
    for way in heat_paths(record, stack):
        drawing = ET.fromstring(path_drawing(record, stack, way))
        assert drawing.get("role") == "img"
        told = drawing.find(f"{SVG}desc").text
        assert all(step.text in told for step in way.steps)


def test_the_line_of_temperature_falls_as_the_drops_say():
    way, drawing = drawn(demo.load("tern-3"))
    points = drawing.find(f".//{SVG}polyline").get("points").split()
    across = [float(point.split(",")[0]) for point in points]
    assert across == sorted(across, reverse=True)
    drops = [step.drop_k.usual for step in way.steps]
    falls = [before - after for before, after in pairwise(across) if before > after]
    for fall, one in zip(falls, drops, strict=True):
        assert fall / (across[0] - across[-1]) == pytest.approx(one / sum(drops), abs=0.01)


def test_layers_are_as_wide_as_their_area_says():
    _, drawing = drawn(demo.load("tern-3"))
    slabs = [one for one in drawing.iter(f"{SVG}rect") if one.get("class") == "d-slab"]
    pad, film = (float(one.get("width")) for one in slabs)
    assert pad / film == pytest.approx(120 / 550, rel=0.01)


def test_labels_do_not_lie_on_one_another():
    for name in demo.names():
        record = demo.load(name)
        stack = thermal_stack(record)
        for way in heat_paths(record, stack):
            places = re.findall(r'<text x="182" y="([\d.]+)"', path_drawing(record, stack, way))
            lines = sorted(map(float, places))
            assert all(after - before >= 11 for before, after in pairwise(lines)), name


def test_a_way_with_a_figure_that_lacks_has_no_line_of_temperature():
    record = demo.load("tern-2")
    bare = msgspec.structs.replace(
        record, layers=tuple(msgspec.structs.replace(one, thickness_mm=None) for one in record.layers)
    )
    _, drawing = drawn(bare)
    assert drawing.find(f".//{SVG}polyline") is None
    assert any("not known" in (one.text or "") for one in drawing.iter(f"{SVG}text"))
