"""An item in the words of the bench, and its grade."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from midframe.narration.draft import Item
from midframe.narration.found import Grade
from midframe.ways.wording import in_sentence

GRADES: Mapping[Grade, str] = MappingProxyType(
    {
        "said": "all of it was said",
        "filled in": "something was filled in",
        "doubtful": "a word is doubtful",
    }
)
"""What a grade means; it says where an item comes from, and is no probability."""


def item_words(item: Item) -> str:
    """An item in a few words.

    >>> item_words(Item(number=1, kind="reach", words="", start=0, end=0, cues=(), part="Battery",
    ...                 without=("Main board",)))
    'Battery: comes out without main board'
    """
    if item.kind == "figure":
        return f"{item.part}: {item.label} {item.value:g} {item.unit}"
    if item.kind == "reach":
        return f"{item.part}: comes out without {', '.join(map(in_sentence, item.without))}"
    if item.kind == "note":
        return f"Note{f' on {in_sentence(item.part)}' if item.part else ''}"
    if item.kind == "fact":
        return f"{item.part}: {item.fact}{f' to {in_sentence(item.to)}' if item.to else ''}"
    facts = "; ".join(details(item))
    return f"{item.verb.capitalize()} {in_sentence(item.part)}{f' ({facts})' if facts else ''}"


def details(item: Item) -> tuple[str, ...]:
    """What else was said of a move."""
    counted = f"{item.count} ×" if item.count else ""
    length = f"{item.length_mm:g} mm" if item.length_mm else ""
    said = " ".join(filter(None, (counted, item.drive, item.thread)))
    found = (
        said.removesuffix(" ×") if said == counted else said,
        length,
        f"from {in_sentence(item.to)}" if item.to else "",
        f"{item.celsius:g} °C" if item.celsius is not None else "",
        f"{item.seconds:g} s" if item.seconds is not None else "",
        f"with {', '.join(item.tools)}" if item.tools else "",
    )
    return tuple(filter(None, found))
