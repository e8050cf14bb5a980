from __future__ import annotations

from midframe.ways.bench import Bench
from midframe.ways.electrical import cautions_of, cell_connectors, live_joints, opening
from ways.records import joint, opened, part, record, work

JOINTS = (
    joint("battery-plug", "battery board", "connector", tether=True),
    joint("cell-link", "battery second", "connector", tether=True),
    joint("battery-glue", "battery frame", "adhesive"),
    joint("second-tabs", "second board", "solder"),
    joint("camera-plug", "camera board", "connector", tether=True),
    joint("shield-solder", "shield board", "solder"),
)


def phone():
    cells = [part(name, role="battery", seat="frame") for name in ("battery", "second")]
    others = [part(name, seat="frame") for name in ("board", "camera", "shield")]
    return record([*cells, *others], JOINTS)


def test_connectors_of_cells_lead_to_what_is_no_cell():
    assert cell_connectors(phone()) == ("battery-plug", "second-tabs")


def test_all_other_electrical_joints_are_live():
    assert live_joints(phone()) == {"cell-link", "camera-plug", "shield-solder"}


def test_cautions_last_until_every_cell_is_disconnected():
    moves = [
        opened(name) for name in ("camera-plug", "battery-plug", "shield-solder", "second-tabs", "cell-link")
    ]
    assert [(caution.move, caution.text) for caution in cautions_of(phone(), moves)] == [
        (1, "device off; this connector is opened live"),
        (3, "device off; this solder joint is opened live"),
    ]


def test_a_joint_is_opened_the_way_that_ruins_and_takes_least():
    quick = (work("cut", [], 2.0, ruins=("camera",)),)
    slow, usual = (work("unscrew", [], 30.0),), (work("unplug", [], 5.0),)
    assert opening(joint("plug", "camera board", work=(quick, slow, usual)), Bench()) == opened("plug", 3)
