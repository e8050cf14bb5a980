"""A form of a record as a table of plain data, and the faults of that table beside the fields they are in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, TypeAlias

import msgspec
from starlette.datastructures import ImmutableMultiDict

from midframe.record import Record, check
from midframe.record.draft import found
from midframe.record.edits import put_in
from midframe.record.findings import Finding
from midframe.record.writer import plain
from midframe.web.edit_fields import Field, Section

Table = dict[str, Any]
Form: TypeAlias = ImmutableMultiDict[str, Any]


def shown_table(record: Record, section: Section, index: int | None) -> Table:
    """The table of a form as the record holds it: conditions and work as lists of lists."""
    data = plain(record)
    if section.name == "device":
        return dict(data["device"])
    return {} if index is None else nested(section, data[section.name][index])


def nested(section: Section, table: Table) -> Table:
    """A table whose conditions and work are lists of lists, also where there is one alternative."""
    made = dict(table)
    for field in section.fields:
        value = made.get(field.name)
        if field.kind in ("condition", "work") and value and not isinstance(value[0], list):
            made[field.name] = [value]
    return made


def form_table(section: Section, form: Form, before: Table, record: Record) -> Table:
    """What a form says as a table: keys that it does not ask for stay as they were, empty ones are left out.

    A text where a number belongs stays a text, so that the reader of records tells it as a fault.
    """
    made = {key: value for key, value in before.items() if key not in {one.name for one in section.fields}}
    for field in section.fields:
        value = read_field(field, field.name, form, record)
        if value not in ("", None, [], {}, False):
            made[field.name] = value
    return made


def read_field(field: Field, at: str, form: Form, record: Record) -> Any:
    """The value of one field, from the form's entries that begin with `at`."""
    if field.kind == "chips":
        return texts(form, at)
    if field.kind == "group":
        values = [read_text("number", text_of(form, f"{at}.{place}"), record) for place, _ in field.options]
        return [] if all(value == "" for value in values) else values
    if field.kind == "condition":
        return [one for number in numbers(form, at) if (one := texts(form, f"{at}.{number}"))]
    if field.kind == "table":
        return read_inner(field.inner, at, form, record)
    if field.kind == "rows":
        rows = [read_inner(field.inner, f"{at}.{row}", form, record) for row in numbers(form, at)]
        return [row for row in rows if row]
    if field.kind == "work":
        one_way = msgspec.structs.replace(field, kind="rows")
        ways = [read_field(one_way, f"{at}.{way}", form, record) for way in numbers(form, at)]
        return [way for way in ways if way]
    return read_text(field.kind, text_of(form, at), record)


def read_inner(fields: Iterable[Field], at: str, form: Form, record: Record) -> Table:
    """The fields of one row that say something."""
    values = {field.name: read_field(field, f"{at}.{field.name}", form, record) for field in fields}
    return {name: value for name, value in values.items() if value not in ("", None, [], False)}


def read_text(kind: str, text: str, record: Record) -> Any:
    """One entry as its kind has it; what does not fit stays a text.

    >>> from midframe.demo import load
    >>> record = load("tern-3")
    >>> read_text("number", "3,5", record), read_text("whole", "14", record), read_text("number", "a", record)
    (3.5, 14, 'a')
    >>> read_text("points", "5.1 12; 7 12", record), read_text("names", "Battery, display", record)
    ([[5.1, 12.0], [7.0, 12.0]], ['battery', 'display'])
    """
    if kind in ("number", "value"):
        return number(text)
    if kind == "whole":
        return int(text) if re.fullmatch(r"[+-]?\d{1,15}", text) else number(text)
    if kind == "tick":
        return bool(text)
    if kind == "words":
        return [word.strip() for word in text.split(",") if word.strip()]
    if kind == "names":
        names = [word.strip() for word in text.split(",") if word.strip()]
        return [part.id if (part := found(record, name)) else name for name in names]
    if kind == "points":
        return points(text)
    return text


def number(text: str) -> float | str:
    """A number, with a decimal point or comma; anything else as it stands."""
    plain_text = text.replace(",", ".") if text.count(",") == 1 and "." not in text else text
    return (
        float(plain_text) if re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?", plain_text) else text
    )


def points(text: str) -> list[Any]:
    """One point a line, or with semicolons between them; two numbers each."""
    lines = [line.strip() for line in re.split(r"[\n;]", text) if line.strip()]
    return [
        [number(word) for word in re.split(r"\s*,\s+|\s+|(?<=\d),(?=\d+[,.]|\d+$)", line)] for line in lines
    ]


def text_of(form: Form, name: str) -> str:
    """One text entry without surrounding space, lines ended the same way everywhere."""
    value = form.get(name, "")
    return value.replace("\r\n", "\n").strip()[:20_000] if isinstance(value, str) else ""


def texts(form: Form, name: str) -> list[str]:
    """Every different text entry of a name, in order."""
    values = [value.strip() for value in form.getlist(name) if isinstance(value, str)]
    return list(dict.fromkeys(value for value in values if value))


def numbers(form: Iterable[str], at: str) -> list[int]:
    """The numbers of the rows that a form holds under a name."""
    pattern = re.compile(re.escape(at) + r"\.(\d{1,4})(?:\.|$)")
    return sorted({int(match[1]) for name in form if (match := pattern.match(name))})


# Faults


def put(record: Record, section: Section, index: int | None, table: Table) -> Record:
    """The record with the table in its place; raises `RecordFault` with every fault of a single value."""
    return put_in(record, section.name, index, table)


def new_faults(before: Record, after: Record, section: Section, index: int) -> tuple[Finding, ...]:
    """What stands in the way now within this table, and did not before."""
    known = {(one.subject, one.found) for one in check(before)}
    place = "device" if section.name == "device" else f"{section.name}[{index}]"
    return tuple(
        one
        for one in check(after)
        if one.level == "fault" and one.path.startswith(place) and (one.subject, one.found) not in known
    )


def by_field(findings: Iterable[Finding], section: Section, table: Table) -> dict[str, str]:
    """The faults of a table by the name of their field in the form."""
    told: dict[str, str] = {}
    for finding in findings:
        at = field_path(finding.path, table)
        message = f"Found {finding.found}; right: {finding.right}."
        told[at] = f"{told[at]} {message}" if at in told else message
    return {nearest_field(at, section): message for at, message in told.items()}


def field_path(path: str, table: Mapping[str, Any]) -> str:
    """The path of a finding as the name of an entry: `parts[3].specs[0].value` is `specs.0.value`.

    >>> field_path("joints[5].work[0].harms[1]", {"work": [[{}]]})
    'work.0.0.harms.1'
    """
    own = re.sub(r"^(device|\w+\[\d+\])\.?", "", path)
    dotted = re.sub(r"\[(\d+)\]", r".\1", own)
    if len(table.get("work", ())) == 1:
        dotted = re.sub(r"^work\.(\d+)\.(?!\d)", r"work.0.\1.", dotted)
    return dotted


def nearest_field(at: str, section: Section) -> str:
    """The entry of the form that a fault belongs to: lists of texts and conditions are one entry."""
    field = next((one for one in section.fields if one.name == at.split(".", maxsplit=1)[0]), None)
    if field is None:
        return at
    if field.kind in ("rows", "work", "table"):
        names = "|".join(re.escape(one.name) for one in field.inner)
        match = re.match(rf"{re.escape(field.name)}(\.\d+)*\.({names})(?=\.|$)", at)
        return match[0] if match else field.name
    if field.kind == "group":
        return at if re.fullmatch(rf"{re.escape(field.name)}\.\d", at) else f"{field.name}.0"
    return field.name
