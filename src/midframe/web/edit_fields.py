"""What the forms of a record are made of: fields, groups, sections."""

from __future__ import annotations

from typing import Any, Literal, get_args

import msgspec

from midframe.record import model

Kind = Literal[
    "text",
    "area",
    "number",
    "whole",
    "value",
    "choice",
    "tick",
    "group",
    "points",
    "words",
    "names",
    "chips",
    "condition",
    "rows",
    "table",
    "work",
]

Options = tuple[tuple[str, str], ...]


class Field(msgspec.Struct, frozen=True):
    """One field of a form.

    `name` is the key in the file. `options` are the values of a choice and their words, or the labels
    of a group; `of` says where the options of chips come from; `inner` are the fields of rows and tables.
    """

    name: str
    label: str
    kind: Kind = "text"
    unit: str = ""
    hint: str = ""
    options: Options = ()
    of: str = ""
    inner: tuple[Field, ...] = ()


class Group(msgspec.Struct, frozen=True):
    """Fields under one heading; closed until somebody opens it, where `closed`."""

    title: str
    fields: tuple[Field, ...]
    closed: bool = True


class Section(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of table: what it is called, its key, its fields."""

    name: str
    one: str
    key: str = "id"
    groups: tuple[Group, ...]

    @property
    def fields(self) -> tuple[Field, ...]:
        """All fields in order."""
        return tuple(field for group in self.groups for field in group.fields)


def words(value: str) -> str:
    """A value of the file as words.

    >>> words("rear_camera"), words("end_user")
    ('rear camera', 'end user')
    """
    return value.replace("_", " ")


def choices(kind: Any, none: str = "not known") -> Options:
    """The values of a choice with their words; the first stands for nothing said."""
    values = tuple((value, words(value)) for value in get_args(kind))
    return (("", none), *values) if none else values


RENEW = Field(
    "renew",
    "New on refit",
    "table",
    inner=(
        Field("item", "What"),
        Field("amount", "How much", "number"),
        Field("unit", "Unit", hint="piece, mm2, g"),
        Field("price", "Price of that amount", "number"),
    ),
)
HARMS = Field("harms", "What it may harm", "names", hint="Names of parts, with commas between them")
TOOLS = Field("with", "Tools, used together", "words", hint="With commas between them")
RISK = Field("risk", "Chance of harm per opening", "number", unit="0 to 1")
SECONDS = Field("seconds", "Time", "number", unit="s")
NOTE = Field("note", "Note", "area")
FACE = Field("face", "Reached from", "choice", options=choices(model.Face, "any side"))
ASSUMED = Field("assumed", "What must be aside is a guess, not yet confirmed by a person", "tick")

OPERATION = (
    Field("do", "What is done"),
    TOOLS,
    SECONDS,
    RISK,
    HARMS,
    Field("ruins", "What it always ruins", "names"),
    Field("note", "Note"),
)
