"""The closed list of 16 basic tools, and the group of a tool by its name.

References
----------
[lbl-2023-1669, Annex I (42) proprietary, (43) basic, (44) commercially available],
[lbl-2023-1669, Annex IV point 5, Tools]. The names of tools beyond the list are readings
(common practice, no source); they stand in `basic_tools.toml`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from typing import Any, Literal, TypeAlias

from midframe.index.evidence import Plain, Reading, ToolGroup, ToolUse

Supply: TypeAlias = Literal["spare", "product"]
OwnGroup: TypeAlias = Literal["basic", "commercial", "proprietary"]

BARE_HAND = ("", "hand", "bare hand", "bare hands", "hands", "fingers", "fingernail")
_DRIVER = re.compile(r"^(?P<drive>.+?)(?:\s+[a-z]{0,2}[\d.,/x-]+)?\s+(?P<form>screwdriver|driver|bit|key)$")

READINGS = (
    Reading(
        id="tool-names",
        text="Which tool of the list of 16 a name means is a reading: an opening pick is taken as a pick, a"
        " plastic spudger as a spudger.",
    ),
    Reading(id="tool-basic-wins", text="A tool that is both basic and supplied counts as basic (4 points)."),
    Reading(
        id="tool-supplied",
        text="A tool that comes free with the spare part or the product counts as supplied.",
    ),
    Reading(
        id="tool-outside-list",
        text="A known tool outside the list of 16 is commercially available, unless supplied or proprietary.",
    ),
)
"""Readings of this module, not law [lbl-2023-1669, Annex IV point 5, Tools]."""


class BasicTool(Plain, frozen=True):
    """One tool of the closed list: its number there and its name."""

    number: int
    name: str


class ToolTable(Plain, frozen=True):
    """The names of `basic_tools.toml`, ready to look up."""

    basic: tuple[BasicTool, ...]
    groups: dict[str, OwnGroup]
    driver_groups: dict[str, OwnGroup]
    key_groups: dict[str, OwnGroup]
    hot: frozenset[str]
    solvents: frozenset[str]


def parse_table(text: str) -> ToolTable:
    """Build the table from the text of the data file."""
    data = tomllib.loads(text)
    groups: dict[str, OwnGroup] = {}
    drivers: dict[str, OwnGroup] = {}
    keys: dict[str, OwnGroup] = {}
    for row in data["basic"]:
        groups |= dict.fromkeys([row["name"], *row["names"]], "basic")
        drivers |= dict.fromkeys(row.get("drives", ()), "basic")
        keys |= dict.fromkeys(row.get("keys", ()), "basic")
    for section in ("commercial", "heat", "solvent"):
        groups |= dict.fromkeys(data[section]["names"], "commercial")
    drivers |= dict.fromkeys(data["commercial"]["drives"], "commercial")
    return ToolTable(
        basic=tuple(_basic(row) for row in data["basic"]),
        groups=groups,
        driver_groups=drivers,
        key_groups=keys,
        hot=frozenset(data["heat"]["names"]),
        solvents=frozenset(data["solvent"]["names"]),
    )


def _basic(row: dict[str, Any]) -> BasicTool:
    return BasicTool(number=row["number"], name=row["name"])


@cache
def tool_table() -> ToolTable:
    """The table that ships with midframe.

    >>> len(tool_table().basic)
    16
    """
    return parse_table(files("midframe.index").joinpath("basic_tools.toml").read_text("utf-8"))


def own_group(name: str) -> OwnGroup | Literal["none"] | None:
    """The group a tool name has by itself, supply left aside; None for an unknown name.

    >>> own_group("Hexalobular 4 driver"), own_group("three-wing 1 driver"), own_group("moon key")
    ('basic', 'commercial', None)
    """
    plain = " ".join(name.lower().replace("_", " ").split())
    table = tool_table()
    if plain in BARE_HAND:
        return "none"
    if plain in table.groups:
        return table.groups[plain]
    driver = _DRIVER.match(plain)
    if driver is None:
        return None
    by_drive = table.key_groups if driver["form"] == "key" else table.driver_groups
    return by_drive.get(driver["drive"])


def tool_group(
    name: str, *, group: OwnGroup | None = None, supplied: Supply | None = None
) -> ToolGroup | None:
    """The group that a tool scores in, what the record says of it included.

    Parameters
    ----------
    name
        As the record writes it: "hexalobular 4 driver", "suction cup".
    group
        What the record says it is, if it knows better than the table.
    supplied
        "spare" or "product" where it comes free with one of the two.

    Returns
    -------
    ToolGroup | None
        None where the name is unknown and the record says nothing.

    Examples
    --------
    >>> tool_group("suction cup"), tool_group("suction cup", supplied="spare")
    ('commercial', 'spare_set')
    >>> tool_group("spudger", supplied="product")
    'basic'

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Tools]; readings `tool-basic-wins`, `tool-supplied`.
    """
    own = group or own_group(name)
    if own in ("basic", "none"):
        return own
    if supplied is not None:
        return "spare_set" if supplied == "spare" else "product_set"
    return own


def tool_use(name: str, *, group: OwnGroup | None = None, supplied: Supply | None = None) -> ToolUse:
    """A tool of a record as evidence; arguments as in `tool_group`.

    >>> tool_use("moon key", group="proprietary", supplied="spare")
    ToolUse(name='moon key', group='spare_set', proprietary=True)
    """
    found = tool_group(name, group=group, supplied=supplied)
    return ToolUse(name=name, group=found, proprietary=group == "proprietary")


def uses_heat(names: Iterable[str]) -> bool:
    """Whether one of the tools heats (common practice, no source).

    >>> uses_heat(["spudger", "heating mat"]), uses_heat(["spudger"])
    (True, False)
    """
    return any(" ".join(name.lower().split()) in tool_table().hot for name in names)


def uses_solvent(names: Iterable[str]) -> bool:
    """Whether one of the tools is a solvent (common practice, no source).

    >>> uses_solvent(["isopropanol"]), uses_solvent(["tweezers"])
    (True, False)
    """
    return any(" ".join(name.lower().split()) in tool_table().solvents for name in names)
