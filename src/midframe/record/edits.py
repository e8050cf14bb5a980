"""Changes that reach through the whole record: another id, a part or a joint taken out."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, Literal

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.draft import with_part
from midframe.record.model import Record
from midframe.record.reader import from_plain
from midframe.record.structure import seats
from midframe.record.writer import plain

Kind = Literal["part", "joint"]
Table = dict[str, Any]

PARTS = frozenset(
    {"body", "seat", "target", "bundle", "under", "behind", "holds", "harms", "ruins", "between"}
)
"""Keys whose ids are those of parts."""

EITHER = frozenset({"at", "on"})
"""Keys whose ids may be those of parts or joints."""

ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*")


def rename(record: Record, kind: Kind, old: str, new: str) -> Record:
    """The record in which a part or joint has another id, wherever it is named.

    Raises
    ------
    UnknownPart
        When there is no such part or joint.
    BadSetting
        When the new id is taken, or is none.

    Examples
    --------
    >>> from midframe.demo import load
    >>> renamed = rename(load("tern-3"), "part", "battery", "cell")
    >>> [joint.id for joint in renamed.joints if "cell" in joint.holds]
    ['battery-plug', 'battery-bond']
    """
    required(record, kind, old)
    taken = ({one.id for one in record.parts} | {one.id for one in record.joints}) - {old}
    if not ID.fullmatch(new):
        raise BadSetting(f"id: found '{new}'; right: letters, digits, hyphens, dots and underscores")
    if new in taken:
        raise BadSetting(f"id: found '{new}', which another part or joint has; right: one of its own")
    data = mapped(plain(record), kind, lambda one: new if one == old else one)
    for table in data[f"{kind}s"]:
        table["id"] = new if table["id"] == old else table["id"]
    return from_plain(data)


def required(record: Record, kind: Kind, name: str) -> None:
    """Refuse an id that the record does not hold."""
    there = {one.id for one in record.parts} if kind == "part" else {one.id for one in record.joints}
    if name not in there:
        raise UnknownPart(f"no {kind} '{name}' in the record")


def mapped(table: Table, kind: Kind, to: Callable[[str], str]) -> Table:
    """A table of plain data with every id of this kind replaced."""
    return {key: mapped_value(key, value, kind, to) for key, value in table.items()}


def mapped_value(key: str, value: Any, kind: Kind, to: Callable[[str], str]) -> Any:
    """One value of a table: ids replaced where the key holds ids, tables looked into."""
    if isinstance(value, Mapping):
        return mapped(dict(value), kind, to)
    if isinstance(value, list):
        return [mapped_value(key, one, kind, to) for one in value]
    return to(value) if isinstance(value, str) and holds_ids(key, kind) else value


def holds_ids(key: str, kind: Kind) -> bool:
    """Whether the texts under a key are ids of this kind; `parts` and `lift` are, where they hold texts."""
    if key in EITHER:
        return True
    return key in PARTS or key in ("parts", "lift") if kind == "part" else key == "open"


def remove_part(record: Record, part: str) -> Record:
    """The record without a part: out of every condition, and with it the joints that then hold only one part.

    A log line that moved it stays as a note. What sat on it sits on the body. Orders and layers
    that make no sense without it go too.

    Raises
    ------
    UnknownPart
        When there is no such part.
    BadSetting
        When it is the body, against which all others are judged.
    """
    required(record, "part", part)
    if part == record.device.body:
        raise BadSetting(f"part {part}: found the body; right: name another part as the body first")
    kept = record
    for joint in [one.id for one in record.joints if len(set(one.holds) - {part}) < 2]:
        kept = remove_joint(kept, joint)
    data = plain(kept)
    data["parts"] = [one for one in data["parts"] if one["id"] != part]
    for one in data["parts"]:
        if one.get("seat") == part:
            one.pop("seat")
    data["layers"] = [one for one in data.get("layers", []) if part not in one["between"]]
    data["orders"] = [one for one in data.get("orders", []) if one["target"] != part]
    made = tidied(without(data, part), f"lifted {part}, since taken out of the record")
    return still_seated(record, made)


def remove_joint(record: Record, joint: str) -> Record:
    """The record without a joint; a log line that opened it stays as a note. Raises `UnknownPart`."""
    required(record, "joint", joint)
    data = plain(record)
    data["joints"] = [one for one in data["joints"] if one["id"] != joint]
    for order in data.get("orders", []):
        order["moves"] = [move for move in order["moves"] if move.get("open") != joint]
    for entry in data.get("log", []):
        if entry.get("open") == joint:
            entry.pop("open")
            entry.pop("by", None)
            said = f"opened {joint}, since taken out of the record"
            entry["note"] = f"{entry['note']} ({said})" if entry.get("note") else said
        if entry.get("on") == joint:
            entry.pop("on")
    for one in data.get("measurements", []):
        if one["on"] == joint:
            one.pop("on")
    for seal in data.get("seals", []):
        seal["at"] = [one for one in seal["at"] if one != joint]
    return still_seated(record, tidied(data, ""))


def still_seated(before: Record, after: Record) -> Record:
    """The changed record with every part on the seat it had, said where its joints no longer say it.

    A part whose seat is gone sits on the body.
    """
    old, new = seats(before), seats(after)
    there = {part.id for part in after.parts}
    for part in there - {after.device.body}:
        if new.get(part) != old.get(part):
            seat = old.get(part)
            after = with_part(after, part, seat=seat if seat in there else after.device.body)
    return after


def without(value: Any, gone: str) -> Any:
    """Plain data with an id out of every list that holds it; an alternative left empty empties its list.

    Waiting for one thing or another, where the one is no longer there, is waiting for nothing.
    """
    if isinstance(value, Mapping):
        kept = {key: without(one, gone) for key, one in value.items()}
        return {key: one for key, one in kept.items() if not (key == "on" and one == gone)}
    if not isinstance(value, list):
        return value
    if any(isinstance(one, list) for one in value) and all(isinstance(one, list) for one in value):
        shorter = [without(one, gone) for one in value]
        return [] if [] in shorter and [] not in value else shorter
    return [without(one, gone) for one in value if one != gone]


def tidied(data: Table, said: str) -> Record:
    """The record of plain data from which ids were taken out: nothing is left that says nothing."""
    for entry in data.get("log", []):
        if entry.get("lift") == []:
            entry.pop("lift")
            entry["note"] = f"{entry['note']} ({said})" if entry.get("note") else said
    for order in data.get("orders", []):
        order["moves"] = [move for move in order["moves"] if move.get("open") or move.get("lift")]
    data["seals"] = [seal for seal in data.get("seals", []) if seal["at"]]
    data["measurements"] = [one for one in data.get("measurements", []) if one.get("on")]
    return from_plain(data)


def put_in(record: Record, section: str, index: int | None, table: Table) -> Record:
    """The record with one table of a list replaced, or added where `index` is None.

    Raises
    ------
    RecordFault
        With every fault of single values; paths count from 0 as in the file.
    """
    data = plain(record)
    if section == "device":
        data["device"] = table
        return from_plain(data)
    rows = data.setdefault(section, [])
    if index is None:
        rows.append(table)
    else:
        rows[index] = table
    return from_plain(data)


def take_out(record: Record, section: str, index: int) -> Record:
    """The record without one table of a list that nothing names, such as tools, layers, checks."""
    rows = list(getattr(record, section))
    if not 0 <= index < len(rows):
        raise UnknownPart(f"no {section}[{index}] in the record")
    del rows[index]
    return msgspec.structs.replace(record, **{section: tuple(rows)})
