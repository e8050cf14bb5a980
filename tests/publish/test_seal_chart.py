from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from midframe.publish.seal_chart import Scale, round_step, seal_chart
from midframe.seal import Reading, seal_check

AMBIENT = 101_325.0
SPACE = "{http://www.w3.org/2000/svg}"


def chart(pressures, kelvin=None):
    readings = [
        Reading(10.0 * n, AMBIENT + p, None if kelvin is None else kelvin[n]) for n, p in enumerate(pressures)
    ]
    return ET.fromstring(seal_chart(readings, seal_check(readings, 1e-5), ambient_pa=AMBIENT))


def test_every_reading_is_a_cross_and_every_compensated_one_a_ring():
    drawn = chart([10_000, 9_990, 9_985], [293.15, 293.16, 293.18])
    assert len(drawn.findall(f"{SPACE}circle")) == 3
    crosses = [one for one in drawn.findall(f"{SPACE}polyline") if len(one.get("points").split()) == 2]
    assert len(crosses) == 6
    assert "temperature taken out" in drawn.find(f"{SPACE}desc").text


def test_without_temperatures_there_is_no_second_panel_and_no_ring():
    drawn = chart([10_000, 9_990])
    texts = [one.text for one in drawn.iter(f"{SPACE}text")]
    assert drawn.findall(f"{SPACE}circle") == []
    assert "°C" not in texts
    assert "kPa" in texts


def test_small_pressures_are_told_in_pascals():
    assert "Pa" in [one.text for one in chart([500, 480]).iter(f"{SPACE}text")]


@pytest.mark.parametrize("pressures", [[-10_000, -9_000], [50, 49.999], [400_000, 1_000]])
def test_everything_lies_inside_the_drawing(pressures):
    drawn = chart(pressures)
    _, _, wide, high = map(float, drawn.get("viewBox").split())
    points = re.findall(
        r"([-\d.]+),([-\d.]+)", " ".join(one.get("points") for one in drawn.iter(f"{SPACE}polyline"))
    )
    assert all(0 <= float(x) <= wide and 0 <= float(y) <= high for x, y in points)


def test_steps_are_round_and_ticks_lie_inside():
    assert [round_step(value) for value in (0.02, 0.021, 3, 7, 51)] == pytest.approx([0.02, 0.05, 5, 10, 100])
    ticks = Scale(-3.0, 17.0, 0.0, 1.0).ticks(5)
    assert ticks == [0.0, 5.0, 10.0, 15.0]
