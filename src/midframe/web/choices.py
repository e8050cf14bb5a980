"""Choices made on a page that shape an answer: what is least, the readings, power first."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import Record
from midframe.ways.objective import Objective
from midframe.ways.readings import Readings

if TYPE_CHECKING:
    from starlette.datastructures import QueryParams

    from midframe.ways.solve import Planner

LEAST: Mapping[str, str] = MappingProxyType(
    {
        "steps,seconds": "steps, then seconds",
        "seconds": "seconds",
        "money": "money",
        "steps,money": "steps, then money",
        "money,seconds": "money, then seconds",
    }
)
"""What may be least: the objective, and its words."""

POWER: Mapping[str, str] = MappingProxyType(
    {
        "passing": "where the way comes by",
        "strict": "in any case, also by another way",
        "off": "not looked at",
    }
)
"""Battery unplugged first: the switch, and its words."""

OTHERWISE: Mapping[str, Any] = MappingProxyType(
    {
        "unplugging": True,
        "swaps": "strict",
        "first_tool": True,
        "bare_hand": True,
        "bit_size": False,
        "tail": False,
    }
)
"""For each reading of the step count the value that is not the usual one."""


class Switch(msgspec.Struct, frozen=True):
    """One reading as a switch: its name, what it says when it is on, whether it is, what is usual."""

    name: str
    text: str
    on: bool
    usual: str


def switches(readings: Readings) -> tuple[Switch, ...]:
    """Every reading of the step count as a switch.

    >>> switches(Readings(unplugging=True))[0].text
    'Q2 unplugging alone ends a step'
    """
    usual = Readings().described()
    return tuple(
        Switch(name, Readings(**{name: other}).described()[at], getattr(readings, name) == other, usual[at])
        for at, (name, other) in enumerate(OTHERWISE.items())
    )


def readings_of(query: QueryParams) -> Readings:
    """The readings that the switches of a page say: the field `reading` once for each that is on."""
    on = query.getlist("reading")
    wrong = [name for name in on if name not in OTHERWISE]
    if wrong:
        raise BadSetting(f"reading: found '{wrong[0][:40]}'; it may be {', '.join(OTHERWISE)}")
    return Readings(**{name: OTHERWISE[name] for name in on})


def one_of(query: QueryParams, name: str, allowed: Mapping[str, str]) -> str:
    """The value of a choice, the first allowed one where it is absent; raises `BadSetting`."""
    value = query.get(name) or next(iter(allowed))
    if value not in allowed:
        raise BadSetting(f"{name}: found '{value[:40]}'; it may be {', '.join(allowed)}")
    return value


def readings_in(options: Mapping[str, Any]) -> Readings:
    """The readings in the options of a question."""
    return msgspec.convert(options.get("readings", {}), Readings)


def planner_of(record: Record, options: Mapping[str, Any]) -> Planner:
    """The planner that the options of a question ask for."""
    from midframe.ways.solve import Planner

    return Planner(record, Objective.parse(options.get("by", "steps,seconds")), readings_in(options))
