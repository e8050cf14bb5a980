"""Two lists grown from one: which element is which, and in what order they stand together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from difflib import SequenceMatcher
from typing import Any

import msgspec

from midframe.record.model import LogEntry

Rank = Callable[[str], Any]


def aligned_log(base: Sequence[LogEntry], *sides: Sequence[LogEntry]) -> tuple[dict[str, LogEntry], ...]:
    """The lines of logs under keys: a line that comes from `base` has the same key on every side.

    A changed line is known by its second or its move; new lines are known by
    their content, so that the same line written on both sides is one.
    """
    return (
        {f"={number}": entry for number, entry in enumerate(base)},
        *(dict(zip(keys_of(base, side), side, strict=True)) for side in sides),
    )


def keys_of(base: Sequence[LogEntry], side: Sequence[LogEntry]) -> list[str]:
    """The key of each line of one side."""
    keys = [""] * len(side)
    matcher = SequenceMatcher(None, list(base), list(side), autojunk=False)
    for tag, low, high, begin, end in matcher.get_opcodes():
        if tag == "equal":
            for step in range(end - begin):
                keys[begin + step] = f"={low + step}"
        elif tag == "replace":
            for old, new in pairs(base, side, range(low, high), range(begin, end)):
                keys[new] = f"={old}"
    counted: dict[str, int] = {}
    for number, entry in enumerate(side):
        if not keys[number]:
            content = content_of(entry)
            counted[content] = counted.get(content, 0) + 1
            keys[number] = f"+{content}#{counted[content]}"
    return keys


def pairs(
    base: Sequence[LogEntry], side: Sequence[LogEntry], olds: range, news: range
) -> list[tuple[int, int]]:
    """Old and new lines that are the same one, changed: same second, or same move."""
    found: list[tuple[int, int]] = []
    free = list(olds)
    for new in news:
        for place, old in enumerate(free):
            if same_line(base[old], side[new]):
                found.append((old, new))
                free = free[place + 1 :]
                break
    return found


def same_line(old: LogEntry, new: LogEntry) -> bool:
    """Whether a line may be another one changed."""
    move = (old.open, old.lift) == (new.open, new.lift) and bool(old.open or old.lift)
    return move or old.seconds == new.seconds


def content_of(entry: LogEntry) -> str:
    """A line as text, equal for equal lines only."""
    return msgspec.json.encode(entry).decode()


def together(
    base: Sequence[str], mine: Sequence[str], theirs: Sequence[str], rank: Rank
) -> tuple[list[str], bool]:
    """All keys in one order, and whether both sides had turned the old ones round differently.

    Old keys keep their order, or take that of the side which changed it (if
    both did, theirs). New ones stand after the old one they stood after; where
    both sides put some, in order of rank, each side's own order kept.
    """
    old = set(base)
    orders = [[key for key in side if key in old] for side in (mine, theirs)]
    moved = [order != [key for key in base if key in set(order)] for order in orders]
    clash = all(moved) and common(orders[0], orders[1]) != common(orders[1], orders[0])
    skeleton = with_missing(orders[1] if moved[1] or not moved[0] else orders[0], base)
    groups = [grown(side, old) for side in (mine, theirs)]
    found: dict[str, None] = {}
    for anchor in ("", *skeleton):
        if anchor:
            found[anchor] = None
        for key in zipped(groups[0].get(anchor, ()), groups[1].get(anchor, ()), rank):
            found.setdefault(key)
    return list(found), clash


def common(one: Sequence[str], other: Sequence[str]) -> list[str]:
    """The keys of one side that the other has as well."""
    known = set(other)
    return [key for key in one if key in known]


def with_missing(order: Sequence[str], base: Sequence[str]) -> list[str]:
    """The order with the keys that this side dropped, each after the one it stood after."""
    result, known, before = list(order), set(order), ""
    for key in base:
        if key not in known:
            result.insert(result.index(before) + 1 if before else 0, key)
        before = key
    return result


def grown(side: Sequence[str], old: set[str]) -> dict[str, list[str]]:
    """The new keys of a side by the old key they stand after."""
    groups: dict[str, list[str]] = {}
    anchor = ""
    for key in side:
        if key in old:
            anchor = key
        else:
            groups.setdefault(anchor, []).append(key)
    return groups


def zipped(mine: Sequence[str], theirs: Sequence[str], rank: Rank) -> list[str]:
    """Two runs as one in order of rank, each one's own order kept; a key in both comes once.

    >>> zipped(["a", "d"], ["b", "d"], str)
    ['a', 'b', 'd']
    """
    left, right, found = list(mine), list(theirs), dict[str, None]()
    while left and right:
        found.setdefault((left if rank(left[0]) <= rank(right[0]) else right).pop(0))
    for key in (*left, *right):
        found.setdefault(key)
    return list(found)
