"""What is said with every plan; local rules and licensed practice go first."""

from __future__ import annotations

from typing import Literal

import msgspec

from midframe.heat.cut import is_cell
from midframe.record.model import Record

CellState = Literal["not said", "sound", "swollen", "damaged"]
WORST_FIRST: tuple[CellState, ...] = ("swollen", "damaged", "sound")


class Caution(msgspec.Struct, frozen=True):
    """A caution: what it is about, and sentences."""

    title: str
    lines: tuple[str, ...]


CELL = Caution(
    "Lithium cell",
    (
        "Look before you heat: a cell that is swollen, dented, leaking, hot by itself, hissing or smelling "
        "gets no heat at all.",
        "Discharge to 30 % or less first (common practice). Device off and unplugged.",
        "Stay with it while heat is on. Metal tray, dry sand and a clear way out at hand.",
    ),
)
STOP = Caution(
    "No heat on this cell",
    (
        "No heat, no prying, no charging. Never puncture a cell to let it down: the gas burns and is toxic "
        "[kane-county-batteries, page].",
        "If it heats up, move it with a metal tool to a place that cannot burn and call the fire service "
        "[kane-county-batteries, page].",
        "Store it apart, on sand in a loosely covered metal box (common practice), and hand it to someone "
        "trained for damaged cells.",
    ),
)
SOLVENT = Caution(
    "Never solvent and heat together",
    (
        "Isopropanol vapour ignites at any bench: flash point 11.7 °C [niosh-npg-0359, entry]. Let all of it "
        "evaporate and ventilate before heat, and let the device cool before solvent.",
    ),
)
BURNS = Caution(
    "Hot surfaces and glass",
    (
        "Heat-resistant gloves and eye protection: what softens a bond burns skin, and heated glass cracks "
        "when it is pried or cooled in one place.",
        "Keep the source moving; an even rim is safer than a hot spot.",
    ),
)
MAINS = Caution(
    "Mains-powered heat",
    ("Inspect cable and plug, use a socket with residual-current device, rest hot tools on their stand.",),
)
MODEL = Caution(
    "A model, not a thermometer",
    (
        "The section is one line across the device; corners, dirt and a source held unevenly are not in it. "
        "Measure where you heat; a reading 8 K ahead of the curve is a stop (own construction).",
    ),
)
LOCAL = Caution(
    "Local rules go first",
    ("Local codes, makers' instructions and licensed practice go before this plan.",),
)


def cell_state(record: Record, said: CellState = "not said") -> CellState:
    """The state of the cells: the worse of what the record says of them and what somebody says now.

    >>> from midframe import demo
    >>> cell_state(demo.load("tern-3"), "sound"), cell_state(demo.load("tern-3"), "damaged")
    ('sound', 'damaged')
    """
    known = {part.condition for part in record.parts if is_cell(part)} | {said}
    for state in WORST_FIRST:
        if state in known:
            return state
    return "not said"


def cautions_for(*, has_cell: bool, refused: bool) -> tuple[Caution, ...]:
    """The cautions of a plan.

    >>> [caution.title for caution in cautions_for(has_cell=True, refused=True)]
    ['No heat on this cell', 'Local rules go first']
    """
    if refused:
        return STOP, LOCAL
    cell = (CELL,) if has_cell else ()
    return (*cell, SOLVENT, BURNS, MAINS, MODEL, LOCAL)
