"""What changed between two records, in words that can be read."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import msgspec

from midframe.record.alignment import aligned_log
from midframe.record.model import LogEntry, Record
from midframe.record.places import NAMES, Path, element_type, keyed, plain
from midframe.record.reader import fields_of, hints

UNITS: Mapping[str, str] = MappingProxyType(
    {
        "mm": "mm",
        "mm2": "mm²",
        "g": "g",
        "nm": "N·m",
        "c": "°C",
        "mk": "",
        "percent": "%",
        "years": "years",
    }
)
"""Unit at the end of a field's name, as it is read."""

LONGEST = 60
"""Signs of a value that are shown; house choice."""


class Difference(msgspec.Struct, frozen=True):
    """One thing that is not the same: `before` and `after` are plain data, `None` is absent.

    `name` is what the thing is called where its id says less; `words` is the
    whole difference in one line.
    """

    path: Path
    before: Any
    after: Any
    words: str

    def __str__(self) -> str:
        """The difference in one line."""
        return self.words


def differences(before: Record | None, after: Record) -> tuple[Difference, ...]:
    """Everything that is not the same, in the order of the file: elements added, gone, changed by field.

    Without a record before, everything is new: the device by name, each element of the lists.
    """
    if before is None:
        device = after.device
        empty = Record(format=1, device=device, parts=())
        new = Difference(("device",), None, plain(device), f"device {short(device.name)}: added")
        return (new, *of_table(empty, after, (), ""))
    return tuple(of_table(before, after, (), ""))


def summary(before: Record, after: Record, most: int = 1) -> str:
    """The first differences in one line, and how many more there are; empty where there are none."""
    found = differences(before, after)
    more = len(found) - most
    line = "; ".join(one.words for one in found[:most])
    return f"{line}; and {more} more" if more > 0 else line


def of_table(before: Any, after: Any, path: Path, thing: str) -> Iterator[Difference]:
    """The fields of a struct that are not the same."""
    struct: type[msgspec.Struct] = type(after)
    for field in fields_of(struct):
        old, new = getattr(before, field.name), getattr(after, field.name)
        if old == new:
            continue
        listed = element_type(hints(struct)[field.name])
        here = (*path, field.name)
        if listed is not None:
            yield from of_list(old, new, listed, here, thing)
        elif isinstance(old, msgspec.Struct) and type(old) is type(new):
            yield from of_table(old, new, here, f"{thing}: {field.name}" if thing else field.name)
        else:
            yield Difference(here, plain(old), plain(new), field_words(thing, field.name, old, new))


def of_list(
    before: Sequence[Any], after: Sequence[Any], kind: type[msgspec.Struct], path: Path, thing: str
) -> Iterator[Difference]:
    """The elements of a list that are new, gone or changed, and whether the others changed places."""
    if kind is LogEntry:
        old, new = aligned_log(before, after)
        keys = dict(zip(old, keyed(before, kind), strict=True)) | dict(
            zip(new, keyed(after, kind), strict=True)
        )
    else:
        old, new = keyed(before, kind), keyed(after, kind)
        keys = {key: key for key in old | new}
    for key in [*new, *(key for key in old if key not in new)]:
        one = element_words(path, new.get(key, old.get(key)), keys[key], thing)
        here = (*path, keys[key])
        if key not in old:
            yield Difference(here, None, plain(new[key]), f"{one}: added")
        elif key not in new:
            yield Difference(here, plain(old[key]), None, f"{one}: taken out")
        else:
            yield from of_table(old[key], new[key], here, one)
    stayed = [key for key in old if key in new], [key for key in new if key in old]
    if stayed[0] != stayed[1]:
        yield Difference(
            path,
            [keys[key] for key in old],
            [keys[key] for key in new],
            f"{named(path, thing)}: another order",
        )


def named(path: Path, thing: str) -> str:
    """A list in words."""
    return f"{thing}: {path[-1]}" if thing else path[-1]


def element_words(path: Path, element: Any, key: str, thing: str) -> str:
    """An element in words: its name where it has one, else what it is known by."""
    if isinstance(element, LogEntry):
        return f"log at {element.seconds:g} s{what(element)}"
    name = getattr(element, "name", "") or key
    shown = f"{name} ({key})" if name not in (key, "") and name.casefold() != key.casefold() else name
    one = f"{NAMES[path[-1]]} {short(shown)}"
    return f"{thing}: {one}" if thing else one


def what(entry: LogEntry) -> str:
    """What a line of the log says."""
    if entry.open:
        return f", {entry.open} opened"
    if entry.lift:
        return f", {', '.join(entry.lift)} lifted"
    return f', "{short(entry.note)}"' if entry.note else ""


def field_words(thing: str, field: str, old: Any, new: Any) -> str:
    """A changed field in words, with its unit.

    >>> field_words("part Battery", "mass_g", 61.0, 63.5), field_words("", "note", "", "quite new")
    ('part Battery: mass 61 → 63.5 g', 'note: "quite new"')
    """
    label, unit = label_of(field)
    start = f"{thing}: {label}" if thing else label
    if blank(new):
        return f"{start}: {shown(old)}{unit} taken out"
    if blank(old):
        return f"{start}: {shown(new)}{unit}"
    return f"{start} {shown(old)} → {shown(new)}{unit}"


def blank(value: Any) -> bool:
    """Whether nothing is said."""
    return value is None or value == "" or value == ()


def label_of(field: str) -> tuple[str, str]:
    """A field's name in words, and its unit with a space before it.

    >>> label_of("soft_c"), label_of("conductivity_w_mk"), label_of("holds")
    (('soft', ' °C'), ('conductivity', ' W/(m·K)'), ('holds', ''))
    """
    if field.endswith("_w_mk"):
        return field.removesuffix("_w_mk").replace("_", " "), " W/(m·K)"
    words = field.split("_")
    if len(words) > 1 and UNITS.get(words[-1]):
        unit = UNITS[words[-1]]
        return " ".join(words[:-1]), f" {unit}" if unit != "%" else " %"
    return field.replace("_", " "), ""


def shown(value: Any) -> str:
    """A value in few signs."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        return f"{value:g}"
    if isinstance(value, str):
        return f'"{short(value)}"' if not re.fullmatch(r"[\w.-]+", value) or " " in value else short(value)
    if isinstance(value, msgspec.Struct):
        return short(", ".join(f"{key} {shown_plain(one)}" for key, one in plain(value).items()))
    if isinstance(value, tuple):
        return several(value)
    return short(str(value))


def shown_plain(value: Any) -> str:
    """Plain data in few signs."""
    return ", ".join(map(shown_plain, value)) if isinstance(value, list | tuple) else f"{value}"


def several(values: tuple[Any, ...]) -> str:
    """A list in few signs; alternatives with "or" between them, operations by what is done."""
    if values and all(isinstance(one, tuple) and one and not isinstance(one[0], float) for one in values):
        return short(" or ".join(several(one) for one in values))
    if values and hasattr(values[0], "do"):
        return short(", ".join(one.do for one in values))
    if len(values) > 6:
        return f"{len(values)} values"
    return short(", ".join(one if isinstance(one, str) else shown(one) for one in values)) or "nothing"


def short(text: str) -> str:
    """A text on one line, cut where it is long."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 1]}…"
