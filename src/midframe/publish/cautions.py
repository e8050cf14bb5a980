"""Which hazards a way carries and what is said about each; local rules and licensed practice go first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from types import MappingProxyType

import msgspec

from midframe.publish.contents import Hazard
from midframe.publish.language import language
from midframe.record.model import Operation, Record
from midframe.ways.bench import is_heating
from midframe.ways.count import CountedMove
from midframe.ways.electrical import ELECTRICAL, cells

SOLVENTS = ("isopropanol", "adhesive remover")
HOT_TOOLS = ("soldering iron", "hot air", "heating mat")
SOLDERING = ("soldering iron", "hot air", "desoldering braid")


class Caution(msgspec.Struct, frozen=True):
    """A caution in words: what it is about, sentences, and keys of the sources its facts come from."""

    title: str
    lines: tuple[str, ...]
    sources: tuple[str, ...] = ()


CAUTIONS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "cell": (),
        "swollen": ("kane-county-batteries",),
        "heat": (),
        "solvent": ("niosh-npg-0359",),
        "glass": (),
        "static": (),
        "mains": (),
        "live": (),
        "local": (),
    }
)
"""Cautions by key, in the order in which they are printed, with the sources of their facts:
gas of a punctured cell and what to do [kane-county-batteries, page], flash point of isopropanol
[niosh-npg-0359, entry]; common practice where no source is named. Their words are in `cautions.ftl`."""


@cache
def cautions(code: str = "en") -> Mapping[str, Caution]:
    """Every caution in words of one language, in the order of `CAUTIONS`.

    >>> cautions()["heat"].title, cautions("de")["heat"].title
    ('Heat', 'Wärme')
    """
    spoken = language(code)
    return MappingProxyType(
        {
            key: Caution(
                spoken.say(f"caution-{key}-title"),
                tuple(spoken.say(f"caution-{key}-text").split("\n")),
                sources,
            )
            for key, sources in CAUTIONS.items()
        }
    )


def hazards(record: Record, moves: Sequence[CountedMove], live: Sequence[int]) -> tuple[Hazard, ...]:
    """The cautions of a way, in the order of `CAUTIONS`; `live` are moves with the battery connected."""
    found = dict(raised(record, moves))
    if live:
        found["live"] = tuple(live)
    return tuple(Hazard(key, found[key]) for key in CAUTIONS if key in found)


def raised(record: Record, moves: Sequence[CountedMove]) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Each hazard with the numbers of the moves it is about."""
    joints = {joint.id: joint for joint in record.joints}
    ways = [operations_of(record, move) for move in moves]
    touched = [
        set(move.group) | set(joints[move.move.open].holds if move.move.open else ()) for move in moves
    ]
    if own := set(cells(record)):
        at_cell = (n for n, parts in enumerate(touched, start=1) if parts & own)
        heated = (n for n, steps in enumerate(ways, start=1) if any(map(is_heating, steps)))
        yield "cell", tuple(sorted({*at_cell, *heated}))
        yield "swollen", ()
    tests = {
        "heat": lambda step: is_heating(step) or uses(step, HOT_TOOLS),
        "solvent": lambda step: uses(step, SOLVENTS),
        "mains": lambda step: uses(step, HOT_TOOLS),
    }
    for key, test in tests.items():
        if numbers := tuple(n for n, steps in enumerate(ways, start=1) if any(map(test, steps))):
            yield key, numbers
    brittle = {
        part.id for part in record.parts if "glass" in part.material and "glass-fibre" not in part.material
    }
    brittle |= {part.id for part in record.parts if part.role == "display"}
    if numbers := tuple(n for n, parts in enumerate(touched, start=1) if parts & brittle):
        yield "glass", numbers
    electrical = {"connector", "solder"}
    if any(move.move.open and joints[move.move.open].kind in electrical for move in moves):
        yield "static", ()
    yield "local", ()


def operations_of(record: Record, move: CountedMove) -> tuple[Operation, ...]:
    """All that may be done in a move: its own operations and those of the other ways of opening the joint."""
    if not move.move.open:
        return move.operations
    joint = next(joint for joint in record.joints if joint.id == move.move.open)
    return (*move.operations, *(step for alternative in joint.work for step in alternative))


def uses(step: Operation, tools: Sequence[str]) -> bool:
    """Whether an operation uses one of these tools."""
    return any(name in tool for tool in step.tools for name in tools)


def live_moves(record: Record, moves: Sequence[CountedMove]) -> tuple[int, ...]:
    """Numbers of the moves that open an electrical joint while a battery is still joined by one."""
    joints = {joint.id: joint for joint in record.joints}
    own = set(cells(record))
    electrical = {joint.id for joint in record.joints if joint.kind in ELECTRICAL}
    supply = {joint for joint in electrical if not own.isdisjoint(joints[joint].holds)}
    found = []
    for number, move in enumerate(moves, start=1):
        if move.move.open in electrical and move.move.open not in supply and supply:
            found.append(number)
        supply -= {move.move.open}
    return tuple(found)
