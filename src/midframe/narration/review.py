"""A draft as it is looked through: each item confirmed, corrected or thrown out, step by step."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Any, Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting
from midframe.narration.build import KIND_OF, Choices
from midframe.narration.draft import Draft, Item, Passed
from midframe.record.model import DeviceKind
from midframe.stripdown import VERBS
from midframe.stripdown.done import clean

State: TypeAlias = Literal["open", "confirmed", "out"]
Doing: TypeAlias = Literal[
    "confirm", "throw out", "take back", "correct", "keep as a note", "confirm all said"
]

MOVES = tuple(verb for verb in VERBS if verb != "note")
FACTS = (*KIND_OF, "seal")
WHOLE = ("count",)
FIGURES = ("length_mm", "seconds", "celsius", "value")
TEXTS = ("part", "to", "drive", "thread", "label", "unit")
LISTS = ("tools", "without")
FIELDS: Mapping[str, tuple[str, ...]] = {
    "move": ("verb", "part", "to", "count", "drive", "thread", "length_mm", "seconds", "celsius", "tools"),
    "figure": ("part", "label", "value", "unit"),
    "reach": ("part", "without"),
    "fact": ("part", "fact", "to"),
    "note": ("part",),
}
"""What can be corrected in an item of a kind."""


class Begun(msgspec.Struct, frozen=True, kw_only=True):
    """A draft that is to be looked through, and of which device."""

    name: str
    kind: DeviceKind = "phone"
    invented: bool = False
    clock: bool = True
    draft: Draft
    damaged: tuple[str, ...] = ()


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """One thing done to an item, by number; for words kept aside `number` is their place from 1."""

    do: Doing
    number: int = 0
    fields: Mapping[str, str] = {}


class Entry(msgspec.Struct, frozen=True):
    """An item as it stands now, what was said of it, and whether a person changed it."""

    item: Item
    state: State = "open"
    changed: bool = False


class Review(msgspec.Struct, frozen=True):
    """A draft with all that was done to it: its items, and the words still kept aside by their place."""

    begun: Begun
    entries: tuple[Entry, ...]
    aside: Mapping[int, Passed]

    @property
    def open(self) -> int:
        """How many items nobody has looked at."""
        return sum(entry.state == "open" for entry in self.entries)

    @property
    def kept(self) -> Draft:
        """The draft that goes into the record, thrown out items left away."""
        items = tuple(entry.item for entry in self.entries if entry.state != "out")
        return Draft(items=items, aside=tuple(self.aside.values()))

    @property
    def choices(self) -> Choices:
        """What the person said of the device."""
        begun = self.begun
        return Choices(name=begun.name, kind=begun.kind, invented=begun.invented, clock=begun.clock)


def looked_through(begun: Begun, steps: Iterable[Step]) -> Review:
    """The draft after some steps; one that cannot be done, as where two screens did the same, is passed over.

    >>> from midframe.narration.captions import read_captions
    >>> from midframe.narration.draft import draft_of
    >>> begun = Begun(name="Stint", draft=draft_of(read_captions("0:03 nine screws on the mid cover")))
    >>> done = looked_through(begun, [Step(do="correct", number=1, fields={"count": "8"})])
    >>> done.entries[0].item.count, done.entries[0].state, done.open
    (8, 'confirmed', 0)
    """
    entries = tuple(Entry(item) for item in begun.draft.items)
    now = Review(begun, entries, dict(enumerate(begun.draft.aside, start=1)))
    for step in steps:
        with suppress(BadSetting):
            now = stepped(now, step)
    return now


def stepped(before: Review, step: Step) -> Review:
    """The draft after one step more; raises `BadSetting` where it cannot be done."""
    if step.do == "confirm all said":
        said = tuple(
            msgspec.structs.replace(entry, state="confirmed")
            if entry.state == "open" and entry.item.grade == "said"
            else entry
            for entry in before.entries
        )
        return msgspec.structs.replace(before, entries=said)
    if step.do == "keep as a note":
        return with_note(before, step.number)
    entry = entry_of(before, step.number)
    if step.do == "correct":
        entry = Entry(corrected_item(entry.item, step.fields), "confirmed", True)
    else:
        states: Mapping[str, State] = {"confirm": "confirmed", "throw out": "out", "take back": "open"}
        entry = msgspec.structs.replace(entry, state=states[step.do])
    entries = tuple(entry if one.item.number == step.number else one for one in before.entries)
    return msgspec.structs.replace(before, entries=entries)


def entry_of(before: Review, number: int) -> Entry:
    """The entry of an item; raises `BadSetting`."""
    found = next((entry for entry in before.entries if entry.item.number == number), None)
    if found is None:
        raise BadSetting(f"item {number}: found none; right: one of 1 to {len(before.entries)}")
    return found


def with_note(before: Review, place: int) -> Review:
    """The draft with words that were kept aside as a note of the log."""
    passed = before.aside.get(place)
    if passed is None:
        raise BadSetting("the words kept aside: found none at this place; they are a note already")
    item = Item(
        number=len(before.entries) + 1,
        kind="note",
        words=passed.words,
        start=passed.start,
        end=passed.end,
        cues=passed.cues,
    )
    aside = {key: one for key, one in before.aside.items() if key != place}
    return Review(before.begun, (*before.entries, Entry(item, "confirmed")), aside)


def corrected_item(item: Item, fields: Mapping[str, str]) -> Item:
    """The item with what a person typed; an empty field takes a fact away, one not given leaves it.

    Raises `BadSetting` with the field, what was found and what would be right.
    """
    facts: dict[str, Any] = {}
    for name in FIELDS[item.kind]:
        if name in fields:
            facts[name] = typed(name, clean(fields[name], 400))
    changed = msgspec.structs.replace(item, **facts)
    if not changed.part and changed.kind != "note":
        raise BadSetting("part: found nothing; right: the name of a part")
    if changed.kind == "figure" and changed.value is None:
        raise BadSetting("value: found nothing; right: the figure on the label")
    if changed.kind == "reach" and not changed.without:
        raise BadSetting("without: found nothing; right: parts that need not come out, with commas")
    return changed


def typed(name: str, text: str) -> Any:
    """A field as it was typed, in the shape of the item; raises `BadSetting`."""
    if name in LISTS:
        return tuple(filter(None, (clean(one) for one in text.split(","))))
    if name == "verb":
        return one_of(name, text, MOVES)
    if name == "fact":
        return one_of(name, text, FACTS)
    if name in TEXTS:
        return clean(text)
    if not text:
        return None
    return figure(name, text)


def one_of(name: str, text: str, allowed: tuple[str, ...]) -> str:
    """A word out of a list."""
    if text not in allowed:
        raise BadSetting(f"{name}: found '{text}'; right: one of {', '.join(allowed)}")
    return text


def figure(name: str, text: str) -> float | int:
    """A number from 0, whole where it counts; raises `BadSetting`.

    >>> figure("length_mm", "2,5"), figure("count", "9")
    (2.5, 9)
    """
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    low = -273.15 if name == "celsius" else 0.0
    whole = name not in WHOLE or (value.is_integer() and 1 <= value <= 1e6)
    above = name not in ("length_mm", "value") or value > 0
    if not (math.isfinite(value) and low <= value <= 1e9 and whole and above):
        right = "a whole number from 1" if name in WHOLE else "a number, such as 2.5"
        raise BadSetting(f"{name}: found '{text}'; right: {right}")
    return int(value) if name in WHOLE else value
