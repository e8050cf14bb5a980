"""Every key that `--json` prints stands in docs/json.md, and the other way round."""

from __future__ import annotations

import json
import re
from functools import cache
from itertools import chain

import pytest

from cli.small import SMALL, data, run
from house.tree import ROOT
from midframe import demo

PAGE = ROOT / "docs" / "json.md"
ROW = re.compile(r"\| `(?P<key>[^`]+)` \| (?P<text>.*?)(?: → (?P<shape>[^|]+?))? \|$")


@cache
def shapes():
    """Table of every heading: key → (meaning, name of the table of what is inside)."""
    found, name = {}, ""
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        if line.startswith("## "):
            name = line.removeprefix("## ")
            assert name not in found, f"two tables are called {name}"
            found[name] = {}
        elif (row := ROW.match(line)) and name:
            found[name][row["key"]] = (row["text"], row["shape"])
    return found


def walk(value, shape, seen, at):
    """Every object inside a value against the table of its shape; `seen` gathers the printed keys."""
    for one in value if isinstance(value, list) else [value]:
        if isinstance(one, list):
            walk(one, shape, seen, at)
        if not isinstance(one, dict):
            continue
        assert shape is not None, f"{at} holds an object, but its row names no table"
        if shape == "*":
            continue
        for key, inner in one.items():
            assert key in shapes()[shape], f"{at}.{key} is not in the table {shape!r}"
            seen.add((shape, key))
            walk(inner, shapes()[shape][key][1], seen, f"{at}.{key}")
        for key, (text, _) in shapes()[shape].items() if one.get("found", True) else ():
            assert key in one or text.startswith("only where"), f"{at} has no {key}, but {shape!r} lists it"


ANSWERS = """
[before]
battery-health = { outcome = "worse", figures = [{ label = "cycles", value = 810 }] }
[after]
battery-health = { outcome = "works", note = "new", figures = [{ label = "cycles", value = 1 }] }
"""

CALLS = {
    "check": [["wren.device.toml", "spoilt.toml"]],
    "ways": [
        ["wren.device.toml", "--assumed", "--toolbox", "toolbox.toml"],
        ["locked.toml"],
    ],
    "index": [["demo:tern-2"], ["wren.device.toml"], ["gap.toml"], ["low.toml"]],
    "what-if": [["wren.device.toml"]],
    "upkeep": [["wren.device.toml", "--draws", "1000"], ["locked.toml", "--draws", "1000"]],
    "instruct": [["demo:tern-2", "battery", "--toolbox", "toolbox.toml"]],
    "publish": [["wren.device.toml", "--out", "site", "--without", "index"]],
    "tables": [["wren.device.toml", "--into", "tables", "--processes", "1", "--no-upkeep"]],
    "screws": [["demo:tern-3"], ["wren.device.toml", "-o", "sheet.svg"]],
    "heat": [
        ["demo:tern-3", "battery-bond", "--with", "hairdryer", "--draws", "100"],
        ["demo:tern-3", "coil-bond", "--with", "hairdryer", "--draws", "0"],
        ["demo:tern-3", "lens-bond", "--with", "heat-gun", "--limit", "cover=95", "--draws", "0"],
        [
            *("demo:tern-3", "battery-bond", "--with", "hairdryer", "--draws", "0"),
            *("--reading", "20=25.5", "--reading", "50=28"),
        ],
    ],
    "pause": [["demo:tern-3", "--log", "10", "--order", "battery:Friday"]],
    "weigh": [["demo:tern-3", "211.3", "211.2"]],
    "refit": [["demo:tern-3", "--log", "30"], ["demo:tern-2", "battery"]],
    "seal": [["decay.csv", "--volume-ml", "10"]],
    "draft": [["talk.txt"]],
    "trials": [["demo:tern-3", "--answers", "answers.toml"]],
    "thermal": [
        ["demo:tern-3", "--replace", "pad-processor", "--with", "demo:tern-2", "--tested", "bars.csv"],
        ["--tested", "bars.csv"],
    ],
    "battery label": [["demo:tern-3"], ["--rated", "4404", "--further", "4448"]],
    "battery health": [
        ["discharge.csv", "--rated-mah", "1000", "--from", "90", "--to", "10"],
        ["discharge.csv", "--from", "50", "--to", "45"],
    ],
    "battery handling": [["demo:heron-tab"], ["--energy-wh", "19", "--condition", "swollen"]],
    "battery compare": [["demo:tern-3", "wren.device.toml"]],
    "compare": [
        ["wren.device.toml", "demo:tern-2", "--no-upkeep", "--ranking", "--draws", "1000"],
        ["wren.device.toml"] * 2,
    ],
}
PART_CALLS = [
    ["wren.device.toml", "battery", "--toolbox", "toolbox.toml", "--assumed"],
    ["wren.device.toml", "battery", "--toolbox", "box-2.toml"],
    ["wren.device.toml", "display", "--power", "off"],
    ["ordered.toml", "battery"],
]


@pytest.fixture
def files(small, toolbox, tmp_path):
    """Records that bring out keys which only show where something is amiss."""
    locked = SMALL.replace(
        'id = "display-clips"\nkind = "clip"', 'id = "display-clips"\nkind = "clip"\nbehind = ["battery"]'
    ).replace('behind = [["lid"], ["display"]]', 'behind = ["display"]')
    ordered = SMALL.replace('{ open = "lid-bond" }, { lift = ["lid"] },', '{ lift = ["lid"] },')
    texts = {
        "talk.txt": "[0:02] lifted the frame\n[0:05] back cover off\n[0:09] four screws. Tea.\nno time\n",
        "spoilt.toml": SMALL.replace("count = 4", "count = 0"),
        "locked.toml": locked,
        "gap.toml": demo.text("tern-2").replace('repair_information = "free_professional"\n', ""),
        "low.toml": demo.text("tern-2").replace("updates_years = 5", "updates_years = 1"),
        "ordered.toml": ordered,
        "answers.toml": ANSWERS,
        "decay.csv": "seconds,pressure,celsius\n0,111325,20\n60,111275,20\n",
        "discharge.csv": "t/s,U/V,I/A\n0,4.1,0\n1,4.0,-0.2\n7200,3.7,-0.2\n14400,3.3,-0.2\n14401,3.4,0\n",
        "bars.csv": "thickness_mm,impedance_cm2k_w\n0.5,2.1\n1,3.7\n2,7.1\n",
        "box-2.toml": 'tools = ["heating mat", "opening pick", "spudger"]\n',
    }
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")


def seen_in(command, calls, shape):
    """The keys that some calls print, each checked on the way."""
    seen = set()
    for call in calls:
        code = 1 if command == "check" else 0
        walk(data(*command.split(), *call, code=code), shape, seen, " ".join([command, *call]))
    return seen


@pytest.mark.parametrize("command", CALLS)
def test_every_key_is_documented(command, files):
    shape = f"midframe {command}" + (" FILE" if command == "ways" else "")
    assert seen_in(command, CALLS[command], shape)


def test_every_key_of_one_way_is_documented(files):
    assert seen_in("ways", PART_CALLS, "midframe ways FILE PART")


def test_every_key_of_new_is_documented():
    result = run("new", "--json", input="Wren\n\n\n\n")
    seen = set()
    walk(json.loads(result.stdout), "midframe new", seen, "new")
    assert ("midframe new", "undescribed") in seen


def test_every_key_of_the_copied_demo_is_documented():
    assert seen_in("demo", [["--copy", "copies"]], "midframe demo --copy")


@pytest.mark.slow
def test_every_key_of_the_demo_is_documented():
    assert seen_in("demo", [[]], "midframe demo")


def test_every_documented_key_of_the_commands_is_printed_somewhere(files):
    seen = seen_in("ways", PART_CALLS, "midframe ways FILE PART")
    for command, calls in CALLS.items():
        seen |= seen_in(command, calls, f"midframe {command}" + (" FILE" if command == "ways" else ""))
    left = {
        (shape, key)
        for shape, keys in shapes().items()
        for key in keys
        if not shape.startswith(("midframe new", "midframe demo"))
    }
    assert sorted(left - seen) == []


def inner(shape):
    return [text_shape[1] for text_shape in shapes()[shape].values() if text_shape[1] not in (None, "*")]


def test_every_table_is_reached_from_a_command():
    reached = {name for name in shapes() if name.startswith("midframe ")}
    while True:
        more = reached | set(chain.from_iterable(map(inner, reached)))
        if more == reached:
            break
        reached = more
    assert sorted(shapes().keys() - reached) == []
