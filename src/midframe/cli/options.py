"""What several commands share: what is minimised, readings, the limit of the search, what is written."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

import click

from midframe.ways.objective import Objective
from midframe.ways.readings import Readings
from midframe.ways.way import USUAL_LIMIT

if TYPE_CHECKING:
    from midframe.record import Record
    from midframe.record.model import Move

Command = TypeVar("Command", bound=Callable[..., Any])

READINGS = (
    ("--strict-swaps", "swaps", "Q3: a tool swap counts as a step even just after a removal."),
    ("--unplugging-counts", "unplugging", "Q2: unplugging alone ends a step."),
    ("--first-tool-counts", "first_tool", "Q4: picking up the first tool is a step."),
    ("--bare-hand-counts", "bare_hand", "Q5: the bare hand is a tool like others."),
    ("--sizes-alike", "sizes_alike", "Q6: another size of the same tool is the same tool."),
    ("--no-last-openings", "no_tail", "M1: openings after the last removal are no step."),
)
"""Switches of the step count: option, name of its value, help."""


def reading_options(command: Command) -> Command:
    """Add a switch for every reading of the step count."""
    for option, name, text in reversed(READINGS):
        command = click.option(option, name, is_flag=True, help=text)(command)
    return command


def search_options(command: Command) -> Command:
    """Add the limit of the search."""
    limit = click.option(
        "--limit",
        type=click.IntRange(min=0),
        default=USUAL_LIMIT,
        show_default=True,
        callback=lambda _context, _option, value: value or None,
        metavar="STATES",
        help="End each search after so many states, 0 for never; a way cut short is not proven.",
    )
    return limit(command)


counts_option = click.option(
    "--counts",
    metavar="FILE",
    help="The shop's own jobs by role or fault (TOML: battery = 41).",
)
by_option = click.option(
    "--by",
    default="steps,seconds",
    show_default=True,
    metavar="COSTS",
    help="What is least: steps, seconds or money, or several in order.",
)


force_option = click.option("--force", is_flag=True, help="Replace OUT where it is there already.")
paper_option = click.option(
    "--paper",
    type=click.Choice(["A4", "letter"]),
    default="A4",
    show_default=True,
    help="Paper of OUT.",
)
language_option = click.option(
    "--language", default="en", show_default=True, metavar="CODE", help="Language of OUT, such as de."
)

power_option = click.option(
    "--power",
    type=click.Choice(["passing", "strict", "off"]),
    default="passing",
    show_default=True,
    help="Battery unplugged first: where the way comes by, in any case, or not looked at.",
)


def moves_to(record: Record, part: str) -> tuple[Move, ...]:
    """The moves of the way to a part, as `midframe ways` tells it: fewest steps, then least time."""
    from midframe.ways.power import power_first
    from midframe.ways.solve import Planner, found

    planner = Planner(record, Objective.parse("steps,seconds"))
    return power_first(planner, found(planner.way(part))).moves


def readings_of(options: dict[str, Any]) -> Readings:
    """The readings that the switches say; takes their values out of the options."""
    said = {name: bool(options.pop(name)) for _, name, _ in READINGS}
    return Readings(
        unplugging=said["unplugging"],
        swaps="strict" if said["swaps"] else "segment",
        first_tool=said["first_tool"],
        bare_hand=said["bare_hand"],
        bit_size=not said["sizes_alike"],
        tail=not said["no_tail"],
    )


def objective_of(by: str) -> Objective:
    """What `--by` says; raises `BadSetting`."""
    return Objective.parse(by)
