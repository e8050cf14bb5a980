"""What the sheet of parts and joints lists, and what the forms offer to choose from."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, get_args
from urllib.parse import quote

import msgspec

from midframe.record import Record, model
from midframe.record.model import Condition
from midframe.record.structure import seats
from midframe.web.edit_fields import Options, Section, words
from midframe.web.edit_sections import SECTIONS


class Row(msgspec.Struct, frozen=True):
    """One line of the sheet: the thing's id, what it is called, what is told of it, its mark."""

    id: str
    name: str
    facts: str
    mark: str = ""


def rows_of(record: Record) -> dict[str, tuple[Row, ...]]:
    """The lines of every list of the record."""
    names = {part.id: part.name for part in record.parts}
    seat_of = seats(record)
    return {
        "parts": tuple(
            Row(part.id, part.name, part_facts(record, part, names, seat_of), assumed(part))
            for part in record.parts
        ),
        "joints": tuple(joint_row(joint, names) for joint in record.joints),
        "layers": tuple(
            Row(one.id, f"{one.kind.capitalize()} between {listed(one.between, names)}", one.note)
            for one in record.layers
        ),
        "seals": tuple(
            Row(one.id, f"{one.kind.capitalize()} at {listed(one.at, names)}", one.material)
            for one in record.seals
        ),
        "checks": tuple(Row(one.id, one.text, f"{WHEN[one.when]}") for one in record.checks),
        "tools": tuple(Row(one.name, one.name, words(one.group or "")) for one in record.tools),
    }  # fmt: skip


def joint_row(joint: model.Joint, names: dict[str, str]) -> Row:
    """The line of a joint, called by what it holds where it has no name."""
    called = joint.name or " – ".join(named(joint.holds, names))
    return Row(joint.id, called, joint_facts(joint, names), assumed(joint))


WHEN: Mapping[str, str] = MappingProxyType(
    {"both": "before and after", "before": "before the work", "after": "after the work"}
)
"""When a function check is made, in words."""


def assumed(thing: model.Part | model.Joint) -> str:
    """The mark of what a person has still to confirm."""
    return "assumed" if thing.assumed else ""


def listed(ids: tuple[str, ...], names: dict[str, str]) -> str:
    """Names for ids, in words."""
    return " and ".join(named(ids, names))


def named(ids: tuple[str, ...], names: dict[str, str]) -> list[str]:
    """Names for ids."""
    return [names.get(one, one) for one in ids]


def part_facts(
    record: Record, part: model.Part, names: dict[str, str], seat_of: dict[str, str | None]
) -> str:
    """A part in one line."""
    seat = seat_of.get(part.id)
    facts = [
        "the body" if part.id == record.device.body else "",
        words(part.role) if part.role != "other" else "",
        f"under {condition_words(part.under, names)}" if part.under else "",
        f"on {names.get(seat, seat)}" if seat and seat != record.device.body else "",
    ]
    return ", ".join(fact for fact in facts if fact)


def joint_facts(joint: model.Joint, names: dict[str, str]) -> str:
    """A joint in one line."""
    facts = [
        f"{joint.count} {joint.kind}{'s' if joint.count > 1 else ''}" if joint.count else joint.kind,
        " × ".join(
            one for one in (joint.thread, f"{joint.length_mm:g} mm" if joint.length_mm else "") if one
        ),
        joint.drive,
        "cable" if joint.tether else "",
        f"behind {condition_words(joint.behind, names)}" if joint.behind else "",
    ]
    return ", ".join(fact for fact in facts if fact)


def condition_words(condition: Condition, names: dict[str, str]) -> str:
    """A condition in words.

    >>> condition_words((("a", "b"), ("c",)), {"a": "Cover"})
    'Cover and b, or c'
    """
    return ", or ".join(" and ".join(named(one, names)) for one in condition)


def places_of(record: Record, path: str) -> str:
    """The address, within the record, of the form that a finding's path leads to; empty where there is none.

    >>> from midframe.demo import load
    >>> places_of(load("tern-3"), "parts[0].mass_g"), places_of(load("tern-3"), "device.kind")
    ('/edit/parts/frame', '/edit/device')
    """
    if path.startswith("device"):
        return "/edit/device"
    match = re.match(r"(\w+)\[(\d+)\]", path)
    if not match or match[1] not in SECTIONS or int(match[2]) >= len(getattr(record, match[1])):
        return ""
    thing = getattr(getattr(record, match[1])[int(match[2])], SECTIONS[match[1]].key)
    return f"/edit/{match[1]}/{quote(str(thing), safe='')}"


def choices_for(record: Record, section: Section, thing: str) -> dict[str, Options]:
    """What each kind of choice offers in this record."""
    parts = tuple((part.id, part.name) for part in record.parts)
    others = tuple(one for one in parts if section.name != "parts" or one[0] != thing)
    roles = tuple((role, words(role)) for role in get_args(model.Role) if role != "other")
    joints = tuple((joint.id, joint.name or joint.id) for joint in record.joints)
    taken = {one[0] for one in parts}
    return {
        "parts": others if section.name == "parts" else parts,
        "aside": tuple(one for one in others if one[0] != record.device.body),
        "seats": (("", "follows from its joints"), *others),
        "roles": roles,
        "remote": tuple((duty, duty) for duty in get_args(model.RemoteDuty)),
        "all": (*parts, *(one for one in joints if one[0] not in taken)),
    }


def shown(value: Any) -> str:
    r"""A value of a table as an entry shows it.

    >>> shown(3.0), shown([["5.1", 12.0], [7.0, 12.0]]), shown(["pry", "spudger"]), shown(None)
    ('3', '5.1 12\n7 12', 'pry, spudger', '')
    """
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, list | tuple):
        if value and isinstance(value[0], list | tuple):
            return "\n".join(" ".join(shown(one) for one in row) for row in value)
        return ", ".join(shown(one) for one in value)
    return str(value)
