"""TOML text to a record; every fault is reported at once, with the place and what would be right."""

from __future__ import annotations

import math
import re
import tomllib
import types
import typing
from collections.abc import Iterable
from functools import cache
from typing import Any, TypeGuard

import msgspec

from midframe.faults import RecordFault
from midframe.record.describe import expected, nearest, shown, within
from midframe.record.findings import Finding
from midframe.record.model import Record

BROKEN: Any = object()
"""Stands for a value that had a fault, until all of them are gathered."""


def read(text: str, file: str = "") -> Record:
    """The record in this TOML text.

    Faults of single values are gathered and raised together as `RecordFault`;
    ids that lead nowhere are the business of `check`. `file` is only named in
    the findings.
    """
    return from_plain(parsed(text, file), file)


def from_plain(data: object, file: str = "") -> Record:
    """The record in plain data (dicts, lists, texts, numbers), as TOML or JSON gives them.

    Raises `RecordFault` with every fault.
    """
    reading = Reading(file)
    record = reading.value(data, Record, "", "")
    if reading.findings:
        raise RecordFault(reading.findings)
    return typing.cast(Record, record)


def faults_of(data: object, file: str = "") -> tuple[Finding, ...]:
    """The faults of single values in plain data, as findings; empty where it can be read."""
    try:
        from_plain(data, file)
    except RecordFault as fault:
        return fault.findings
    return ()


def parsed(text: str, file: str = "") -> dict[str, Any]:
    """The text as plain data; raises `RecordFault` with line and column where it is no TOML."""
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except ValueError as error:
        found, path = place(str(error))
    except RecursionError:
        found, path = "brackets nested too deep to read", ""
    right = "TOML: key = value, texts in double quotes, a number without its unit"
    raise RecordFault([Finding("fault", file, path, "", f"text that is no TOML: {found}", right)])


def place(message: str) -> tuple[str, str]:
    """A parser's message and the place it names.

    >>> place("Invalid value (at line 3, column 5)")
    ('Invalid value', 'line 3, column 5')
    """
    match = re.fullmatch(r"(.*) \(at (.*)\)", message, re.DOTALL)
    if match is None:
        return message or "no message", ""
    return match[1], match[2]


@cache
def hints(struct: type[msgspec.Struct]) -> dict[str, Any]:
    """The types of a struct's fields with their ranges."""
    return typing.get_type_hints(struct, include_extras=True)


fields_of = cache(msgspec.structs.fields)
"""The fields of a struct, looked up once."""


class Reading:
    """One pass over plain data that gathers findings as it goes."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.findings: list[Finding] = []

    def fault(self, path: str, subject: str, found: str, right: str) -> Any:
        """Notes a fault and gives the broken value."""
        self.findings.append(Finding("fault", self.file, path, subject, found, right))
        return BROKEN

    def value(self, data: object, kind: Any, path: str, subject: str) -> Any:
        """One value as the type asks, or broken."""
        kind = without_none(kind)
        if is_struct(kind):
            return self.table(data, kind, path, subject)
        if typing.get_origin(kind) is not tuple:
            return self.leaf(data, kind, path, subject)
        inner = typing.get_args(kind)
        if inner[-1] is not Ellipsis:
            return self.group(data, inner, path, subject)
        if is_list_type(inner[0]):
            return self.alternatives(data, kind, path, subject)
        return self.listing(data, inner[0], path, subject)

    def table(self, data: object, struct: type[msgspec.Struct], path: str, subject: str) -> Any:
        """A table as a struct: known keys, none missing, each value right."""
        if not isinstance(data, dict):
            return self.fault(
                path, subject, shown(data), f"a table ({', '.join(struct.__struct_encode_fields__)})"
            )
        own = data.get("id")
        subject = own if isinstance(own, str) and own else subject
        fields = fields_of(struct)
        names = [field.encode_name for field in fields]
        for key in data:
            if key not in names:
                self.unknown_key(key, names, path, subject)
        values: dict[str, Any] = {}
        for field in fields:
            at = f"{path}.{field.encode_name}" if path else field.encode_name
            if field.encode_name in data:
                values[field.name] = self.value(
                    data[field.encode_name], hints(struct)[field.name], at, subject
                )
            elif field.required:
                values[field.name] = self.missing(hints(struct)[field.name], at, subject)
        return BROKEN if any(value is BROKEN for value in values.values()) else struct(**values)

    def unknown_key(self, key: object, names: list[str], path: str, subject: str) -> None:
        """Notes a key that the format does not have."""
        word = str(key)
        close = nearest(word, names)
        right = f'the key "{close}", if that is meant' if close else f"one of the keys {', '.join(names)}"
        self.fault(f"{path}.{word}" if path else word, subject, f'the unknown key "{word}"', right)

    def missing(self, kind: Any, path: str, subject: str) -> Any:
        """Notes a key that has to be there."""
        if path == "format":
            return self.fault(path, subject, "no format number", "format = 1 as the first line")
        kind = without_none(kind)
        key = path.rpartition(".")[2]
        if is_struct(kind):
            return self.fault(path, subject, f"no table [{key}]", f"a table [{key}]")
        if is_list_type(kind):
            return self.fault(
                path,
                subject,
                f"no {key}",
                f"[[{key}]] tables" if path == "parts" else f"a list {key} = [ … ]",
            )
        return self.fault(path, subject, f"no {key}", expected(kind))

    def listing(self, data: object, kind: Any, path: str, subject: str) -> Any:
        """A list of any length, each element on its own."""
        if not isinstance(data, list | tuple):
            right = (
                f"[[{path}]] tables" if is_struct(kind) and "." not in path else f"a list, each {words(kind)}"
            )
            return self.fault(path, subject, shown(data), right)
        return self.elements(data, [kind] * len(data), path, subject)

    def group(self, data: object, kinds: tuple[Any, ...], path: str, subject: str) -> Any:
        """A list of fixed length."""
        if not isinstance(data, list | tuple) or len(data) != len(kinds):
            return self.fault(path, subject, shown(data), f"a list of {len(kinds)}, each {words(kinds[0])}")
        return self.elements(data, kinds, path, subject)

    def elements(self, data: Iterable[object], kinds: Iterable[Any], path: str, subject: str) -> Any:
        """Each element as its type asks; broken if any is."""
        values = tuple(
            self.value(one, kind, f"{path}[{number}]", subject)
            for number, (one, kind) in enumerate(zip(data, kinds, strict=True))
        )
        return BROKEN if any(value is BROKEN for value in values) else values

    def alternatives(self, data: object, kind: Any, path: str, subject: str) -> Any:
        """A list of lists of which one is to hold; a flat list is the only one."""
        inner = typing.get_args(kind)[0]
        each = words(typing.get_args(inner)[0])
        if not isinstance(data, list | tuple):
            return self.fault(path, subject, shown(data), f"a list, each {each}, or a list of such lists")
        nested = [isinstance(one, list | tuple) for one in data]
        if not any(nested):
            flat = self.value(data, inner, path, subject)
            return flat if flat is BROKEN else (flat,) if flat else ()
        if not all(nested):
            return self.fault(
                path,
                subject,
                "a list that is partly flat, partly of lists",
                "either one flat list or a list of lists only",
            )
        for number, one in enumerate(data):
            if not one:
                self.fault(
                    f"{path}[{number}]",
                    subject,
                    "an empty alternative",
                    "an alternative that names something, or none at all",
                )
        return self.elements(data, [inner] * len(data), path, subject)

    def leaf(self, data: object, kind: Any, path: str, subject: str) -> Any:
        """A text, number or truth value within its range."""
        if path == "format" and (isinstance(data, bool) or data != 1):
            return self.fault(
                path, subject, f"format {shown(data)}", "format = 1, the only one this version reads"
            )
        if isinstance(data, float) and not math.isfinite(data):
            return self.fault(path, subject, shown(data), expected(kind))
        if isinstance(data, str) and not data.isascii() and not is_unicode(data):
            return self.fault(path, subject, "a text with half a surrogate pair", "text that UTF-8 can hold")
        try:
            return msgspec.convert(data, kind)
        except (msgspec.ValidationError, OverflowError):
            return self.fault(path, subject, shown(data), suggestion(data, kind))


def suggestion(data: object, kind: Any) -> str:
    """What would be right, with the nearest of the allowed words where there are such."""
    right = expected(kind)
    allowed = [word for word in typing.get_args(kind) if isinstance(word, str)]
    close = nearest(data, allowed) if isinstance(data, str) else None
    if isinstance(data, int | float) and not isinstance(data, bool) and data > 0:
        return within(kind, data)
    return f'"{close}", if that is meant; {right}' if close else right


def without_none(kind: Any) -> Any:
    """The type of a field that is there, `None` taken off."""
    if typing.get_origin(kind) not in (types.UnionType, typing.Union):
        return kind
    kept = [one for one in typing.get_args(kind) if one is not type(None)]
    return kept[0] if len(kept) == 1 else kind


def is_struct(kind: Any) -> TypeGuard[type[msgspec.Struct]]:
    """Whether the type is a table of the record."""
    return isinstance(kind, type) and issubclass(kind, msgspec.Struct)


def is_list_type(kind: Any) -> bool:
    """Whether the type is a list of any length."""
    return typing.get_origin(kind) is tuple and typing.get_args(kind)[-1] is Ellipsis


def is_unicode(text: str) -> bool:
    """Whether the text can be written as UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def words(kind: Any) -> str:
    """What one element of a list is, in words."""
    kind = without_none(kind)
    if is_struct(kind):
        return f"a table ({', '.join(kind.__struct_encode_fields__)})"
    if typing.get_origin(kind) is tuple:
        return f"a list of {len(typing.get_args(kind))}, each {words(typing.get_args(kind)[0])}"
    return expected(kind)
