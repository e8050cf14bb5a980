from __future__ import annotations

from pathlib import Path

import pytest

from cli.small import data, run
from midframe.demo import load
from midframe.thermal import common_pads, compare_layers, heat_paths, substitutes, thermal_stack

TESTED = "thickness_mil,impedance_in2k_w\n20,0.33\n40,0.58\n80,1.13\n"


def flat(*call):
    result = run("thermal", *call)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_the_sheet_tells_layers_ways_and_what_they_rest_on_in_order():
    output = flat("demo:tern-3", "--power", "3")
    places = [
        output.index(word)
        for word in (
            "thermal layers at 3 W",
            "pad-processor",
            "from Main board to",
            "What it rests on",
            "Sources",
        )
    ]
    assert places == sorted(places)
    assert "1.4 (0.99 to 2.0)" in output


def test_a_default_power_is_said_to_be_one():
    assert "at 2 W (default; --power says another)" in flat("demo:tern-3")


def test_the_json_is_what_the_library_gives():
    found = data(
        "thermal", "demo:tern-3", "--power", "3", "--replace", "pad-processor", "--with", "demo:tern-2"
    )
    record = load("tern-3")
    stack = thermal_stack(record, 3.0)
    assert [one["drop_k"]["usual"] for one in found["layers"]] == [one.drop_k.usual for one in stack.layers]
    assert len(found["paths"]) == len(heat_paths(record, stack))
    ranked = substitutes(stack, "pad-processor", common_pads()).pads
    assert [one["margin_k"] for one in found["substitutes"]["pads"]] == [one.margin_k for one in ranked]
    beside = compare_layers(record, load("tern-2"), 3.0)
    assert [one["id"] for one in found["beside"]["rows"]] == [one.id for one in beside.rows]


def test_pads_that_do_not_touch_or_press_are_told():
    output = flat("demo:tern-3", "--replace", "pad-processor", "--pad", "0.3,6", "--pad", "1,6")
    assert "does not touch: 0.2 mm of air in a gap of 0.5 mm" in output
    assert "it holds the parts 0.1 mm apart" in output
    assert "No pad fits the gap and stays within the limit." in output
    assert "Measure the gap" in output


def test_a_list_of_pads_and_a_measured_gap():
    Path("pads.csv").write_text(
        "name,thickness_mm,conductivity_w_mk,percent_at_10_psi\nGrey,0.5,6,25\n", encoding="utf-8"
    )
    output = flat("demo:tern-3", "--replace", "pad-processor", "--pads", "pads.csv", "--gap", "0.4")
    assert "gap 0.4 mm as given" in output
    assert "pressed by 20 % (0.1 mm), 14.3 N on the board" in output
    assert "Measure the gap" not in output


def test_the_predecessor_is_set_beside_at_the_same_power():
    output = flat("demo:tern-3", "--power", "3", "--with", "demo:tern-2")
    assert "Tern 3 beside Tern 2, drops at 3 W" in output
    assert "thickness 0.8 → 0.5 mm; conductivity 4 → 6 W/(m·K)" in output


def test_a_bar_test_needs_no_record():
    Path("test.csv").write_text(TESTED, encoding="utf-8")
    output = flat("--tested", "test.csv")
    assert output.startswith("Bar test of 3 samples [astm-d5470, calculation] conductivity 2.94 W/(m·K)")
    assert "slope is uncertain" in output
    assert "Bar test of 3 samples" in flat("demo:tern-3", "--tested", "test.csv")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (["demo:tern-3", "--power", "2500"], "power: found 2500 W; right: 0 to 1000 W (500 mW are 0.5 W)"),
        (["demo:tern-3", "--replace", "pad"], "layer: found no 'pad' in Tern 3; right: one of pad-processor"),
        (["demo:tern-3", "--pad", "1,6"], "found no --replace; right: name the layer"),
        (
            ["demo:tern-3", "--replace", "pad-processor", "--pad", "1"],
            "--pad: found '1'; right: thickness in mm",
        ),
        (["demo:tern-3", "--replace", "pad-processor", "--pad", "500,6"], "500 µm are 0.5 mm"),
        (["demo:tern-3", "--from", "loudspeaker"], "which no layer touches; right: one of main-board"),
        (["demo:tern-3", "--pads", "none.csv", "--replace", "pad-processor"], "none.csv: found no such file"),
    ],
)
def test_what_cannot_be_is_told_and_ends_with_one(call, words):
    result = run("thermal", *call)
    assert result.exit_code == 1
    assert words in " ".join(result.stderr.split())


def test_without_a_record_or_a_test_the_call_is_wrong():
    assert run("thermal").exit_code == 2


def test_a_record_without_layers_says_so(small):
    assert "no thermal layer in the record" in flat(small)
