"""The work instruction to one part, ordered from a planner: the way, its precaution, then the instruction."""

from __future__ import annotations

import msgspec

from midframe.publish.contents import Instruction
from midframe.publish.instruction import instruction
from midframe.ways.power import Passing, Powered, power_first
from midframe.ways.solve import Planner, found
from midframe.ways.toolbox import Toolbox, missing_of
from midframe.ways.way import Way


def instruction_to(
    planner: Planner,
    target: str,
    *,
    power: Passing = "passing",
    toolbox: Toolbox | None = None,
    date: str = "",
    language: str = "en",
) -> Instruction:
    """The instruction to one part by the planner's best way.

    Parameters
    ----------
    power
        Whether the battery is unplugged first: where the way comes by, in any case, or not looked at.
    toolbox
        What is at hand; the instruction says what is missing.
    date
        Printed as it is given.
    language
        Code of the language of the instruction.

    Raises
    ------
    NoWay, UnknownPart
        Where there is no way to the part, or no such part.

    Examples
    --------
    >>> from midframe.demo import load
    >>> instruction_to(Planner(load("tern-2")), "battery").target
    'Battery'
    """
    way, condition = with_precaution(planner, target, power)
    lacks = None
    if toolbox is not None:
        lacks = [thing.name for thing in missing_of(way.count, toolbox).things]
    return instruction(
        planner.record, way, missing_tools=lacks, date=date, condition=condition, language=language
    )


def with_precaution(planner: Planner, target: str, power: Passing = "passing") -> tuple[Way, str]:
    """The best way with power off as early as asked, and what it keeps to at a cost, in words."""
    way = found(planner.way(target))
    return powered_way(planner, way, power_first(planner, way, power))


def powered_way(planner: Planner, way: Way, powered: Powered) -> tuple[Way, str]:
    """A way with its precaution put in, and what it keeps to at a cost, in words."""
    value = planner.objective.value(powered.count)
    strict = powered.passing == "strict"
    kept = "with the battery unplugged first" if strict else "but for the battery plug opened early"
    condition = kept if value != way.value else ""
    arranged = msgspec.structs.replace(
        way,
        moves=powered.moves,
        count=powered.count,
        value=value,
        proven=powered.proven if condition and strict else way.proven,
    )
    return arranged, condition
