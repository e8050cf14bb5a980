"""Tool names and groups: the closed list of 16.

[lbl-2023-1669, Annex I (43)] and, alike, [eco-2023-1670, Annex I (50)].
"""

from __future__ import annotations

import pytest

from midframe.index.basic_tools import own_group, tool_group, tool_table, uses_heat, uses_solvent

# The list of the act, in its order.
BASIC = [
    "screwdriver for slotted heads",
    "screwdriver for cross recess",
    "screwdriver for hexalobular recess",
    "hexagon socket key",
    "combination wrench",
    "combination pliers",
    "combination pliers for wire stripping and terminal crimping",
    "half round nose pliers",
    "diagonal cutters",
    "multigrip pliers",
    "locking pliers",
    "prying lever",
    "tweezers",
    "magnifying glass",
    "spudger",
    "pick",
]


def test_the_table_holds_the_sixteen_basic_tools_in_order():
    assert [(tool.number, tool.name) for tool in tool_table().basic] == list(enumerate(BASIC, start=1))


@pytest.mark.parametrize("name", BASIC)
def test_every_name_of_the_list_is_basic_and_stays_so_when_supplied(name):
    assert tool_group(name) == "basic"
    assert tool_group(name, supplied="product") == tool_group(name, supplied="spare") == "basic"


@pytest.mark.parametrize(
    "name",
    [
        "hexalobular 4 driver",
        "Hexalobular T4 driver",
        "cross recess 00 driver",
        "cross recess PH000 bit",
        "slotted 2 driver",
        "slotted 1.5 screwdriver",
        "hexagon socket 1.5 key",
        "opening pick",
        "fine tweezers",
        "plastic_spudger",
    ],
)
def test_drivers_of_the_three_recesses_and_common_names_are_basic(name):
    assert tool_group(name) == "basic"


@pytest.mark.parametrize(
    "name",
    [
        "three-wing 1 driver",
        "five-lobe 2 driver",
        "hexalobular pin 8 driver",
        "hexagon socket 1.5 driver",
        "suction cup",
        "heating mat",
        "hot air",
        "isopropanol",
        "soldering iron",
        "eject pin",
        "scalpel",
    ],
)
def test_known_tools_outside_the_list_are_commercial_unless_supplied(name):
    assert tool_group(name) == "commercial"
    assert tool_group(name, supplied="spare") == "spare_set"
    assert tool_group(name, supplied="product") == "product_set"
    assert tool_group(name, group="proprietary") == "proprietary"


def test_the_record_may_know_better_than_the_table():
    assert tool_group("moon key", group="basic") == "basic"
    assert tool_group("moon key", group="proprietary") == "proprietary"
    assert tool_group("moon key", group="proprietary", supplied="spare") == "spare_set"


@pytest.mark.parametrize("name", ["moon key", "driver", "spiral 3 driver", "three-wing 1 key"])
def test_an_unknown_name_has_no_group(name):
    assert own_group(name) is None
    assert tool_group(name) is None


def test_the_bare_hand_is_no_tool():
    assert {tool_group(name) for name in ("", "bare hand", "Fingers")} == {"none"}


def test_heat_and_solvents_are_told_from_the_names():
    assert uses_heat(["Hot air"])
    assert uses_heat(["spudger", "soldering iron"])
    assert not uses_heat(["isopropanol", "tweezers"])
    assert uses_solvent(["Isopropanol"])
    assert not uses_solvent(["heating mat"])
