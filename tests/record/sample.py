"""A small record that texts of tests are made from, one change each."""

from __future__ import annotations

from midframe.record import check, read

TERN = """
format = 1
[device]
name = "Tern"
kind = "phone"
body = "frame"
size_mm = [157.0, 73.5, 8.9]
mass_g = 190
ingress = "IP68"
absent = ["hinge"]

[[parts]]
id = "frame"
name = "Frame"
mass_g = 60

[[parts]]
id = "battery"
name = "Battery"
role = "battery"
mass_g = 61
under = ["mid-cover"]
specs = [{ label = "capacity", value = 4500, unit = "mAh" }]

[[parts]]
id = "mid-cover"
name = "Mid cover"
mass_g = 12

[[parts]]
id = "shield"
name = "Shield"
seat = "mid-cover"

[[joints]]
id = "battery-glue"
kind = "adhesive"
holds = ["battery", "frame"]
behind = ["mid-cover"]
soft_c = 80

[[joints]]
id = "cover-screws"
kind = "screw"
holds = ["mid-cover", "frame"]
count = 3
drive = "hexalobular 4"
thread = "M1.4"
length_mm = 3.0

[[orders]]
target = "battery"
moves = [{ open = "cover-screws" }, { lift = ["mid-cover"] }, { open = "battery-glue" }]

[[log]]
seconds = 4
open = "cover-screws"
"""

PARTS = '\n[[parts]]\nid = "{}"\nname = "more"\n{}\n'
JOINTS = '\n[[joints]]\nid = "{}"\nkind = "{}"\nholds = {}\n{}\n'


def part(name, more=""):
    return TERN + PARTS.format(name, more)


def joint(name, kind, holds, more=""):
    return TERN + JOINTS.format(name, kind, str(holds).replace("'", '"'), more)


def changed(old, new):
    assert old in TERN
    return TERN.replace(old, new, 1)


def found(text, level):
    return [one for one in check(read(text), "tern.device.toml") if one.level == level]
