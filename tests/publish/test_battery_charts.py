"""Pictures of a battery log: well-formed, told in words, thinned without losing a peak."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from battery.logs import log_of, steady_log
from midframe.battery import Asked, cell_health, given_window, plain_log
from midframe.publish.battery_charts import COLUMNS, health_scale, log_chart, round_step, thinned
from midframe.publish.battery_log import log_answer
from midframe.publish.svg import standalone

SVG = "{http://www.w3.org/2000/svg}"


def words_in(svg):
    root = ET.fromstring(standalone(svg))
    return " ".join(node.text or "" for node in root.iter(f"{SVG}text")), root


def test_the_chart_says_what_was_counted_and_is_told_in_words():
    log = log_of(steady_log(4, 3.8, -0.8))
    text, root = words_in(log_chart(log, cell_health(log, 4000, given_window(90, 10))))
    for one in ("voltage, V", "current, A", "0 h", "3.200 Ah, 12.16 Wh counted"):
        assert one in text
    assert "charging positive" in root.find(f"{SVG}desc").text
    assert root.get("role") == "img"


def test_a_curve_is_broken_at_a_gap_and_where_the_meter_began_anew():
    seconds = [*range(0, 1000, 10), *range(5000, 6000, 10)]
    log = plain_log(seconds, [3.7] * 200, [0.5] * 200)
    _, root = words_in(log_chart(log))
    named = [node for node in root.iter(f"{SVG}title") if node.text == "voltage"]
    assert len(named) == 2


def test_thinning_keeps_the_ends_and_every_peak():
    values = [0.0] * 20_000
    values[12_345] = 5.0
    points = list(thinned(list(range(20_000)), values))
    assert len(points) <= 4 * COLUMNS + 4
    assert points[0][0] == 0
    assert points[-1][0] == 19_999
    assert (12_345, 5.0) in points
    assert [at for at, _ in points] == sorted(at for at, _ in points)


@pytest.mark.parametrize("span", [0.02, 0.7, 1.0, 4.4, 99.0, 12_000.0])
def test_a_round_step_divides_a_span_into_five_at_most(span):
    step = round_step(span)
    assert span / step <= 5 + 1e-9
    assert f"{step:e}"[0] in "125"


@pytest.mark.parametrize(("capacity", "line"), [(3.9, "above"), (3.2, "across"), (2.5, "below")])
def test_the_scale_tells_on_which_side_of_the_line_it_lies(capacity, line):
    log = log_of(steady_log(4.5, 3.8, -capacity / 5))
    text, root = words_in(health_scale(cell_health(log, 4000, given_window(95, 5, 1))))
    assert "80 % line" in text
    assert f"the 80 % line: {line}" in root.find(f"{SVG}desc").text


def test_without_a_rated_capacity_there_is_no_scale():
    log = log_of(steady_log(4.5, 3.8, -0.8))
    assert health_scale(cell_health(log, None, given_window(95, 5))) == ""


def test_an_answer_holds_the_fault_of_a_log_that_cannot_be_judged_with_its_chart():
    found = log_answer(
        steady_log(2, 9.0, 1.5).encode(), "usb.csv", ["spoilt toml = ["], Asked(rated_mah=4880)
    )
    assert "before the phone's converter" in found.fault
    assert found.health is None
    assert found.chart.startswith("<svg")
