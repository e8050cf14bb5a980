"""What hands and device are in the middle of, and what the next bit of work adds to steps and seconds.

One small automaton serves both the counting of any sequence and the costs of
the search, so that the two cannot disagree.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import msgspec

from midframe.record.model import Face, JointKind, Operation
from midframe.ways.bench import CONSUMABLES, Bench, is_cleaning, is_heating
from midframe.ways.readings import Readings

HAND: frozenset[str] = frozenset()


class Posture(NamedTuple):
    """Tools last held, whether the hand is bare now, whether work with them has begun a step, the face up.

    Work by bare hand begins no step of its own (Q5): a tool taken up after it is
    taken up as if after the removal before.
    """

    tools: frozenset[str]
    bare: bool
    begun: bool
    face: Face


class Use(msgspec.Struct, frozen=True):
    """One operation as the counting sees it.

    `ends` is what ends with it: a removal, or (C7, Q2) the operation itself;
    `extra_tools` counts the tools used at the same time beyond the first (C6); consumables are none.
    """

    tools: frozenset[str]
    seconds: float
    face: Face | None = None
    ends: str = ""
    extra_tools: int = 0


class Added(NamedTuple):
    """What one use adds: steps with the rule each rests on, seconds of work, of change and of flip."""

    steps: tuple[str, ...]
    change_seconds: float
    flip_seconds: float


def held_tools(
    names: tuple[str, ...], readings: Readings, consumables: frozenset[str] = CONSUMABLES
) -> frozenset[str]:
    """The tools that count as held: consumables only where nothing else is, sizes as reading Q6 says."""
    real = [name for name in names if name not in consumables] or list(names)
    return frozenset(real if readings.bit_size else map(without_size, real))


def without_size(tool: str) -> str:
    """The tool without its size: `hexalobular 4 driver` → `hexalobular driver`."""
    return " ".join(word for word in tool.split() if not any(sign.isdigit() for sign in word))


def uses_of(
    work: Sequence[Operation],
    face: Face | None,
    readings: Readings,
    *,
    joint_kind: JointKind | None,
    consumables: frozenset[str] = CONSUMABLES,
) -> tuple[Use, ...]:
    """The uses that the work of one move makes of hands and tools; `joint_kind` is None for a lift.

    Where unplugging ends a step (Q2), the last operation of a connector does.
    """
    uses = [use_of(step, face, readings, lift=joint_kind is None, consumables=consumables) for step in work]
    if readings.unplugging and joint_kind == "connector" and not uses[-1].ends:
        uses[-1] = msgspec.structs.replace(uses[-1], ends="unplugging")
    return tuple(uses)


def use_of(
    step: Operation, face: Face | None, readings: Readings, *, lift: bool, consumables: frozenset[str]
) -> Use:
    """The use one operation makes of hands and tools."""
    tools = held_tools(step.tools, readings, consumables)
    if lift:
        ends = "removal"
    elif is_heating(step):
        ends = "heating"
    elif is_cleaning(step):
        ends = "cleaning"
    else:
        ends = ""
    extra = 0 if consumables.issuperset(step.tools) else len(tools) - 1
    return Use(tools, step.seconds or 0.0, face, ends, extra)


def start(bench: Bench) -> Posture:
    """The closed device on the bench, nothing in hand."""
    return Posture(HAND, False, False, bench.start_face)


def advance(at: Posture, use: Use, readings: Readings, bench: Bench) -> tuple[Posture, Added]:
    """The posture after one use, and what it added [lbl-2023-1669, Annex I (20); C1, C6, C7, Q2–Q5]."""
    steps: list[str] = []
    begun, change_seconds = at.begun, 0.0
    tools, bare = at.tools, at.bare
    if use.tools:
        if change := swap(at, use.tools, readings):
            steps += ["tool change"] if change == "counted" else []
            begun = False
        change_seconds = bench.change_seconds if use.tools != at.tools else 0.0
        tools, bare = use.tools, False
    elif readings.bare_hand:
        if at.tools and not at.bare:
            steps += ["tool change"] if counted(at, readings) else []
            begun = False
        bare = True
    steps += ["tools at the same time"] * use.extra_tools
    if use.ends:
        steps.append(use.ends)
        begun = begun and use.ends != "removal"
    elif use.tools or readings.bare_hand:
        begun = True
    turned = use.face is not None and use.face != at.face
    face = at.face if use.face is None else use.face
    flip_seconds = bench.flip_seconds if turned else 0.0
    return Posture(tools, bare, begun, face), Added(tuple(steps), change_seconds, flip_seconds)


def swap(at: Posture, tools: frozenset[str], readings: Readings) -> str:
    """What taking up the tools is: nothing, a `free` swap or a `counted` one."""
    if tools == at.tools and not at.bare:
        return ""
    if not at.tools and not at.bare:
        return "counted" if readings.first_tool else "free"
    return "counted" if counted(at, readings) else "free"


def counted(at: Posture, readings: Readings) -> bool:
    """Whether putting away what is in hand counts as a step now (Q3)."""
    return readings.swaps == "strict" or at.begun


def tail(at: Posture, readings: Readings) -> bool:
    """Whether the way ends inside a step that has no removal of its own (M1)."""
    return readings.tail and at.begun
