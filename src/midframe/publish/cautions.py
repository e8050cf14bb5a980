"""Which hazards a way carries and what is said about each; local rules and licensed practice go first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from midframe.publish.contents import Hazard
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


CAUTIONS: Mapping[str, Caution] = {
    "cell": Caution(
        "Lithium cell",
        (
            "Never puncture, bend, crush or lever against the cell; near it use blunt, non-metal edges.",
            "Discharge to 30 % or less before heat or prying (common practice). Never bridge its contacts.",
            "Keep a metal tray, dry sand and a clear way out at hand.",
        ),
    ),
    "swollen": Caution(
        "Swollen, hot, hissing or smelling cell: stop",
        (
            "No heat, no prying, no charging. Never puncture a swollen cell to let it down: the gas burns "
            "and is toxic [kane-county-batteries, page].",
            "If it heats up, move it with a metal tool to a place that cannot burn and call the fire service "
            "[kane-county-batteries, page].",
        ),
        ("kane-county-batteries",),
    ),
    "heat": Caution(
        "Heat",
        (
            "Heat burns skin and harms the cell and the display: measure where you heat, keep the cell's "
            "surface below 60 °C (common practice), and stop when in doubt.",
            "Stay with the device while heat is on. Never heat a swollen or damaged cell.",
        ),
    ),
    "solvent": Caution(
        "Solvent",
        (
            "The vapour of isopropanol ignites at any bench: flash point 11.7 °C [niosh-npg-0359, entry].",
            "Never together with heat, a hot tool, a flame or charging: let everything cool before, let all "
            "of it evaporate after. Ventilate, wear gloves, keep the quantity small.",
        ),
        ("niosh-npg-0359",),
    ),
    "glass": Caution(
        "Glass",
        ("Glass may splinter: eye protection, cut-resistant gloves; tape over cracked glass before prying.",),
    ),
    "static": Caution(
        "Static electricity",
        ("Wrist strap and dissipative mat, both on the common earth point, before any board is touched.",),
    ),
    "mains": Caution(
        "Mains-powered hot tools",
        (
            "Inspect cable and plug, use a socket with residual-current device, rest hot tools on a stand.",
            "Solder with extraction and eye protection, and only with the battery disconnected.",
        ),
    ),
    "live": Caution(
        "Opened while the battery is connected",
        ("The battery's plug is not opened before: switch the device off, keep metal off the contacts.",),
    ),
    "local": Caution(
        "Local rules go first",
        (
            "Local codes and the practice of licensed trades go before this sheet, and so does the waste "
            "law for cells. Who lacks the training or the means for a caution above leaves the work to "
            "someone who has both.",
        ),
    ),
}
"""Cautions by key, in the order in which they are printed; common practice where no source is named."""


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
