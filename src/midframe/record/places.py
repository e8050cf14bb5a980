"""Places in a record that stay the same when lists grow: list, id, field, as a tuple of texts.

`("parts", "battery", "mass_g")` is a field, `("parts", "battery")` a whole
part, `("parts",)` the order of the parts, `()` the record.
"""

from __future__ import annotations

import typing
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, TypeAlias

import msgspec

from midframe.record import model
from midframe.record.reader import fields_of, hints, is_list_type, is_struct, without_none

Path: TypeAlias = tuple[str, ...]


def move_words(entry: model.LogEntry) -> str:
    """What names a line of the log within its second: its move, or that it is a note."""
    return entry.open or "+".join(entry.lift) or "note"


KEYS: Mapping[type[msgspec.Struct], Callable[[Any], str]] = MappingProxyType(
    {
        model.Part: lambda one: one.id,
        model.Joint: lambda one: one.id,
        model.Layer: lambda one: one.id,
        model.Seal: lambda one: one.id,
        model.Check: lambda one: one.id,
        model.Tried: lambda one: one.check,
        model.SealTest: lambda one: one.id,
        model.Measurement: lambda one: one.id,
        model.Tool: lambda one: one.name,
        model.Photo: lambda one: one.hash,
        model.Spec: lambda one: one.label,
        model.Order: lambda one: f"{one.target} {one.title}".strip(),
        model.LogEntry: lambda one: f"{one.seconds:g} s {move_words(one)}",
    }
)
"""What an element of a list is known by."""

NAMES: Mapping[str, str] = MappingProxyType(
    {
        "parts": "part",
        "joints": "joint",
        "tools": "tool",
        "orders": "order",
        "layers": "layer",
        "seals": "seal",
        "checks": "check",
        "tried": "function check",
        "seal_tests": "seal test",
        "figures": "figure",
        "measurements": "measurement",
        "photos": "photo",
        "log": "log line",
        "specs": "label",
    }
)
"""One element of each list, in words."""


def element_type(kind: Any) -> type[msgspec.Struct] | None:
    """The struct that a list type holds under keys; `None` for any other type."""
    kind = without_none(kind)
    if not is_list_type(kind):
        return None
    inner = typing.get_args(kind)[0]
    return inner if is_struct(inner) and inner in KEYS else None


def keyed(items: Sequence[Any], kind: type[msgspec.Struct]) -> dict[str, Any]:
    """The elements of a list by key; a key that comes again gets a number.

    >>> list(keyed([model.Tool(name="pick"), model.Tool(name="pick")], model.Tool))
    ['pick', 'pick (2)']
    """
    key = KEYS[kind]
    found: dict[str, Any] = {}
    for item in items:
        name, number = key(item), 1
        while name in found:
            number += 1
            name = f"{key(item)} ({number})"
        found[name] = item
    return found


def plain(value: Any) -> Any:
    """A value of a record as plain data, the way it is kept beside; `None` stays `None`."""
    return msgspec.to_builtins(value)


def subject(path: Path) -> str:
    """The place in words.

    >>> subject(("parts", "battery", "mass_g")), subject(("log", "4 s cover-screws")), subject(("parts",))
    ('part battery: mass_g', 'log line 4 s cover-screws', 'order of the parts')
    """
    if not path:
        return "the whole record"
    if path[0] not in NAMES:
        return ": ".join(path)
    if len(path) == 1:
        return f"order of the {'log' if path[0] == 'log' else path[0]}"
    thing = f"{NAMES[path[0]]} {path[1]}"
    return ": ".join((thing, *path[2:]))


def at(value: Any, path: Path) -> Any:
    """What stands at a place of a record or struct; `None` where nothing does.

    For `("parts",)` it is the keys in their order.
    """
    return _look(value, type(value), path)


def _look(value: Any, kind: Any, path: Path) -> Any:
    listed = element_type(kind)
    if listed is not None:
        items = keyed(value, listed)
        return list(items) if not path else _look(items.get(path[0]), listed, path[1:])
    if not path or value is None:
        return value
    struct: type[msgspec.Struct] = type(value)
    return _look(getattr(value, path[0]), hints(struct)[path[0]], path[1:])


def with_value(value: Any, path: Path, new: Any) -> Any:
    """The record with plain data at a place; `None` takes an element away or a field back to its default."""
    return _put(value, type(value), path, new)


def _put(value: Any, kind: Any, path: Path, new: Any) -> Any:
    listed = element_type(kind)
    if listed is not None:
        return _put_listed(value, listed, path, new)
    if not path:
        return new if new is None else msgspec.convert(new, kind)
    name, rest = path[0], path[1:]
    if value is None:
        raise LookupError(f"nothing stands at {'.'.join(path)}")
    struct: type[msgspec.Struct] = type(value)
    field = next(one for one in fields_of(struct) if one.name == name)
    if new is None and not rest and not field.required:
        return msgspec.structs.replace(value, **{name: field.default})
    inner = _put(getattr(value, name), hints(struct)[name], rest, new)
    return msgspec.structs.replace(value, **{name: inner})


def _put_listed(items: tuple[Any, ...], kind: type[msgspec.Struct], path: Path, new: Any) -> tuple[Any, ...]:
    by_key = keyed(items, kind)
    if not path:
        wanted = [key for key in new if key in by_key]
        return tuple(by_key[key] for key in [*wanted, *(key for key in by_key if key not in wanted)])
    key, rest = path[0], path[1:]
    if not rest and new is None:
        by_key.pop(key, None)
    elif not rest:
        by_key[key] = msgspec.convert(new, kind)
    elif key in by_key:
        by_key[key] = _put(by_key[key], kind, rest, new)
    else:
        raise LookupError(f"{NAMES.get(kind.__name__.lower(), kind.__name__.lower())} {key} is gone")
    return tuple(by_key.values())
