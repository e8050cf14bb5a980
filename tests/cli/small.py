"""A small invented phone, and how the tests call commands."""

from __future__ import annotations

import json
from typing import Any

from click.testing import CliRunner, Result

from midframe.cli import main

SMALL = """
format = 1

[device]
name = "Wren"
kind = "phone"
body = "frame"
invented = true
mass_g = 180
updates_years = 5
repair_information = "public"
absent = ["hinge", "front_camera", "rear_camera", "charging_port", "button", "microphone", "speaker"]

[[parts]]
id = "frame"
name = "Frame"

[[parts]]
id = "lid"
name = "Back cover"
role = "back_cover"
spare = "end_user"
price = 20

[[parts]]
id = "display"
name = "Display assembly"
role = "display"
spare = "end_user"
price = 90
remote = ["notification"]

[[parts]]
id = "board"
name = "Main board"
role = "main_board"
under = ["lid"]
assumed = true

[[parts]]
id = "battery"
name = "Battery"
role = "battery"
spare = "end_user"
price = 30
under = [["lid"], ["display"]]

[[joints]]
id = "lid-bond"
kind = "adhesive"
holds = ["lid", "frame"]
face = "back"
fastener = "resupplied"
renew = { item = "Adhesive frame", amount = 1, price = 4 }
work = [
  { do = "heat rim", with = ["heating mat"], seconds = 200 },
  { do = "cut", with = ["opening pick"], seconds = 60, risk = 0.02, harms = ["lid"] },
]

[[joints]]
id = "display-clips"
kind = "clip"
holds = ["display", "frame"]
face = "front"
fastener = "reusable"

[[joints]]
id = "display-flex"
kind = "connector"
holds = ["display", "board"]
tether = true
behind = ["display"]
fastener = "reusable"

[[joints]]
id = "board-screws"
kind = "screw"
holds = ["board", "frame"]
behind = ["lid"]
assumed = true
count = 4
drive = "hexalobular 4"
thread = "M1.4"
length_mm = 3
fastener = "reusable"

[[joints]]
id = "battery-plug"
kind = "connector"
holds = ["battery", "board"]
tether = true
behind = [["lid"], ["display"]]
fastener = "reusable"

[[joints]]
id = "battery-bond"
kind = "adhesive"
holds = ["battery", "frame"]
behind = [["lid"], ["display"]]
fastener = "removable"
work = [
  [{ do = "pull tab", seconds = 40 }],
  [
    { do = "soak", with = ["isopropanol"], seconds = 30 },
    { do = "pry", with = ["prying lever"], seconds = 90 },
  ],
]

[[orders]]
target = "battery"
title = "Battery"
source = "Invented manual"
moves = [
  { open = "lid-bond" }, { lift = ["lid"] },
  { open = "battery-plug" }, { open = "battery-bond" }, { lift = ["battery"] },
]
"""

TOOLBOX = 'tools = ["opening pick", "spudger", "hexalobular 4 driver"]\n'


def run(*arguments: str, **settings: Any) -> Result:
    """One call of the command line; an exception that is no exit is raised."""
    result = CliRunner().invoke(main, list(arguments), **settings)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


def data(*arguments: str, code: int = 0) -> Any:
    """What a call with --json prints."""
    result = run(*arguments, "--json")
    assert result.exit_code == code, result.output
    return json.loads(result.stdout)
