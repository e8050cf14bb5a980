"""What one owns: what a way needs besides, and the best way with owned things alone."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from typing import Any, cast

import msgspec

from midframe.faults import RecordFault
from midframe.record.findings import Finding
from midframe.record.model import Text
from midframe.record.reader import Reading, parsed
from midframe.ways.count import Count
from midframe.ways.restrict import restricted
from midframe.ways.rules import listed
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound, Way
from midframe.ways.wording import Difference, difference, plural

LIKE = 0.75
"""How alike two names must be for the one to be proposed for the other: house choice."""


class Toolbox(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Tools (bits among them) and consumables that are at hand, by the names records use."""

    tools: tuple[Text, ...]
    consumables: tuple[Text, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """All that is owned, in the order of the file."""
        return (*self.tools, *self.consumables)


class MissingThing(msgspec.Struct, frozen=True):
    """A tool or consumable not owned, the moves (from 1) that take it, the owned thing most like it."""

    name: str
    consumable: bool
    moves: tuple[int, ...]
    nearest: str | None


class Missing(msgspec.Struct, frozen=True):
    """All that a way needs and the toolbox lacks, with a sentence to say first of all."""

    things: tuple[MissingThing, ...]
    text: str


class WithToolbox(msgspec.Struct, frozen=True):
    """The best way, what it needs that is not owned, and the best way with owned things alone.

    `difference` is what the way with owned things does otherwise; absent where
    nothing is missing or there is no such way.
    """

    best: Way | NoWayFound
    missing: Missing
    owned: Way | NoWayFound
    difference: Difference | None


def parse(text: str, file: str = "") -> Toolbox:
    """The toolbox in this TOML text: `tools = [...]`, `consumables = [...]`.

    Raises `RecordFault` with every fault, each with its place and what would
    be right; `file` is only named in them.

    Examples
    --------
    >>> parse('tools = ["spudger", "opening pick"]').tools
    ('spudger', 'opening pick')
    """
    reading = Reading(file)
    toolbox = reading.value(parsed(text, file), cast(Any, Toolbox), "", "")
    if reading.findings:
        raise RecordFault(reading.findings)
    return cast(Toolbox, toolbox)


def check(toolbox: Toolbox, file: str = "") -> tuple[Finding, ...]:
    """Notes about names that stand in a toolbox twice, also where only case, order or spaces differ."""
    first: dict[tuple[str, ...], str] = {}
    found = []
    for key, names in (("tools", toolbox.tools), ("consumables", toolbox.consumables)):
        for number, name in enumerate(names):
            path, words = f"{key}[{number}]", sorted_words(name)
            if words in first:
                told = f'"{name}", which stands at {first[words]} already'
                found.append(Finding("note", file, path, "", told, "each thing once"))
            first.setdefault(words, path)
    return tuple(found)


def known(name: str) -> str:
    """A name by which things are told apart: case and spaces do not matter.

    >>> known("  Hexalobular 4  driver ")
    'hexalobular 4 driver'
    """
    return " ".join(name.casefold().split())


def sorted_words(name: str) -> tuple[str, ...]:
    """The words of a name in one order."""
    return tuple(sorted(name.casefold().split()))


def nearest(name: str, owned: Iterable[str]) -> str | None:
    """The owned thing whose name is most like this one; never one with another figure or size in it.

    >>> nearest("hexalobular 4 driver", ["spudger", "driver hexalobular 4", "hexalobular 3 driver"])
    'driver hexalobular 4'
    >>> nearest("hexalobular 4 driver", ["hexalobular 3 driver"]) is None
    True
    """
    candidates = {" ".join(sorted_words(one)): one for one in owned if figures(one) == figures(name)}
    close = difflib.get_close_matches(" ".join(sorted_words(name)), list(candidates), n=1, cutoff=LIKE)
    return candidates[close[0]] if close else None


def figures(name: str) -> tuple[str, ...]:
    """The words of a name that hold a digit."""
    return tuple(word for word in sorted_words(name) if any(sign.isdigit() for sign in word))


def owns(toolbox: Toolbox) -> Callable[[tuple[str, ...]], bool]:
    """Whether all of some tools and consumables are owned; the bare hand always is."""
    names = frozenset(map(known, toolbox.names))
    return lambda tools: all(known(tool) in names for tool in tools)


def missing(way: Way, toolbox: Toolbox) -> Missing:
    """What a way needs that is not owned, in the order of need: to be said first of all."""
    return missing_of(way.count, toolbox)


def missing_of(count: Count, toolbox: Toolbox) -> Missing:
    """The same for any counted sequence of moves."""
    has = owns(toolbox)
    taken: dict[str, list[int]] = {}
    for number, move in enumerate(count.moves, start=1):
        for name in dict.fromkeys(tool for step in move.operations for tool in step.tools):
            if not has((name,)):
                taken.setdefault(name, []).append(number)
    things = tuple(
        MissingThing(name, name in count.consumables, tuple(moves), nearest(name, toolbox.names))
        for name, moves in taken.items()
    )
    return Missing(things, in_words(things))


def in_words(things: tuple[MissingThing, ...]) -> str:
    """What is missing as a sentence."""
    if not things:
        return "all that is needed is in the toolbox"
    return f"not in the toolbox: {listed(map(thing_words, things))}"


def thing_words(thing: MissingThing) -> str:
    """One missing thing with the number of its moves, and what may be meant by it."""
    like = f'; is it "{thing.nearest}"?' if thing.nearest else ""
    return f"{thing.name} ({plural(len(thing.moves), 'move')}{like})"


def owned_planner(planner: Planner, toolbox: Toolbox) -> Planner:
    """The same planner, but one that opens and lifts with owned things alone."""
    return restricted(planner, allowed=owns(toolbox))


def best_without(planner: Planner, target: str, toolbox: Toolbox) -> Way | NoWayFound:
    """The best way to a part without anything that is not owned; `UnknownPart` for an unknown id."""
    return with_toolbox(planner, target, toolbox).owned


def with_toolbox(planner: Planner, target: str, toolbox: Toolbox) -> WithToolbox:
    """The best way, what it needs besides the toolbox, and the best way with owned things alone."""
    best = planner.way(target)
    if isinstance(best, NoWayFound):
        return WithToolbox(best, Missing((), in_words(())), best, None)
    lacking = missing(best, toolbox)
    if not lacking.things:
        return WithToolbox(best, lacking, best, None)
    owned = owned_planner(planner, toolbox).way(target)
    if isinstance(owned, NoWayFound):
        names = listed(thing.name for thing in lacking.things)
        reason = f"no way with what is in the toolbox; the best way needs {names} besides"
        return WithToolbox(best, lacking, NoWayFound(target, reason), None)
    return WithToolbox(best, lacking, owned, difference(planner.record, owned.count, best.count))
