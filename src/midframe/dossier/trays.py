"""Trays of a job: what lies together, in the order in which it came out."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.record.model import Move, Record
from midframe.screws import Group, groups
from midframe.ways.rules import Rules, State


class Tray(msgspec.Struct, frozen=True):
    """One tray or bag: its number, the parts that left with one lift, and the screws taken out before it.

    `until` is the number of the last move whose things lie in it.
    """

    number: int
    until: int
    parts: tuple[str, ...]
    names: tuple[str, ...]
    screws: tuple[Group, ...]

    @property
    def count(self) -> int:
        """How many screws lie in it."""
        return sum(group.count for group in self.screws)


def trays(record: Record, moves: Iterable[Move]) -> tuple[Tray, ...]:
    """A tray for every lift, with the screws since the one before; screws after the last lift have their own.

    Raises `IllegalMove` where the moves are no legal sequence.

    >>> from midframe import demo
    >>> from midframe.ways.teardown import teardown
    >>> record = demo.load("tern-3")
    >>> found = trays(record, teardown(record))
    >>> sum(tray.count for tray in found)
    36
    """
    rules, state = Rules(record), State()
    screws = {group.joint: group for group in groups(record)}
    found: list[Tray] = []
    waiting: list[Group] = []
    number = 0
    for number, move in enumerate(moves, start=1):
        after = rules.apply(state, move)
        if move.open in screws:
            waiting.append(screws[move.open])
        if gone := after.aside - state.aside:
            parts = tuple(part for part in rules.parts if part in gone)
            found.append(tray_of(rules, len(found) + 1, number, parts, waiting))
            waiting = []
        state = after
    if waiting:
        found.append(tray_of(rules, len(found) + 1, number, (), waiting))
    return tuple(found)


def tray_of(rules: Rules, number: int, until: int, parts: tuple[str, ...], screws: list[Group]) -> Tray:
    """A tray with the names of its parts."""
    return Tray(number, until, parts, tuple(rules.parts[part].name for part in parts), tuple(screws))
