"""A record to TOML text: one canonical form, so that a small change is a small difference.

Keys stand in the order of the model, defaults are left out, the record's
lists are always `[[tables]]`, a single alternative is written flat.
"""

from __future__ import annotations

import hashlib
import re
import typing
from types import MappingProxyType
from typing import Any

import msgspec

from midframe.record.model import Record
from midframe.record.reader import fields_of, hints, is_list_type, without_none

WIDTH = 100
"""Columns up to which a list of plain values stays on one line; house choice."""

ESCAPES = MappingProxyType(
    {'"': '\\"', "\\": "\\\\", "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r"}
)


def write(record: Record) -> str:
    """The record as canonical TOML text; `read(write(record)) == record`."""
    data = plain(record)
    single = {
        key: value for key, value in data.items() if not isinstance(value, dict) and not holds_table(value)
    }
    blocks = [lines(single)]
    for key, value in data.items():
        if isinstance(value, dict):
            blocks.append(f"[{key}]\n" + lines(value))
        elif key not in single:
            blocks.extend(f"[[{key}]]\n" + lines(table) for table in value)
    return "\n".join(blocks)


def digest(record: Record) -> str:
    """SHA-256 of the canonical text, as 64 hexadecimal digits: equal for equal records only."""
    return hashlib.sha256(write(record).encode()).hexdigest()


def plain(record: Record) -> dict[str, Any]:
    """The record as plain data in the shape of the file: defaults out, one alternative flat."""
    return table_of(record)


def table_of(struct: msgspec.Struct) -> dict[str, Any]:
    """A struct as a table of the keys that differ from their default."""
    kinds = hints(type(struct))
    return {
        field.encode_name: plain_value(getattr(struct, field.name), kinds[field.name])
        for field in fields_of(type(struct))
        if field.required or getattr(struct, field.name) != field.default
    }


def plain_value(value: object, kind: Any) -> Any:
    """One value as plain data."""
    if isinstance(value, msgspec.Struct):
        return table_of(value)
    if not isinstance(value, tuple):
        return value
    kind = without_none(kind)
    inner = typing.get_args(kind)[0]
    if is_list_type(kind) and is_list_type(inner) and len(value) == 1 and value[0]:
        return plain_value(value[0], inner)
    return [plain_value(one, inner) for one in value]


def lines(table: dict[str, Any]) -> str:
    """The keys of a table, one to a line; long lists and lists of tables over several."""
    return "".join(f"{key} = {text_of(value, room=WIDTH - len(key) - 3)}\n" for key, value in table.items())


def text_of(value: object, room: int = WIDTH, indent: str = "") -> str:
    """A value in TOML; a list that holds tables or outgrows the room goes over several lines."""
    if not isinstance(value, list):
        return inline(value)
    flat = inline(value)
    if len(flat) <= room and not holds_table(value):
        return flat
    deeper = indent + "  "
    inner = "".join(f"{deeper}{text_of(one, WIDTH - len(deeper) - 1, deeper)},\n" for one in value)
    return f"[\n{inner}{indent}]"


def holds_table(value: object) -> bool:
    """Whether a list has a table in it at any depth."""
    return isinstance(value, dict) or (isinstance(value, list) and any(holds_table(one) for one in value))


def inline(value: object) -> str:
    """A value in TOML on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return number(value)
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        inner = ", ".join(f"{key} = {inline(one)}" for key, one in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list):
        return f"[{', '.join(inline(one) for one in value)}]"
    raise TypeError(f"a record holds no {type(value).__name__}")


def number(value: int | float) -> str:
    """A number in its shortest form.

    >>> number(61.0), number(0.25), number(-0.0)
    ('61', '0.25', '0')
    """
    whole = isinstance(value, int) or (value.is_integer() and abs(value) < 1e15)
    return str(int(value)) if whole else repr(value)


def quoted(text: str) -> str:
    r"""A text as a TOML basic string.

    >>> print(quoted('14" case'))
    "14\" case"
    """
    return (
        '"'
        + re.sub(r'[\x00-\x1f"\\\x7f]', lambda sign: ESCAPES.get(sign[0]) or f"\\u{ord(sign[0]):04X}", text)
        + '"'
    )
