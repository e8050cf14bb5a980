"""The step description of a counted way: what ends each step, its tools, what is undone, what comes off.

References
----------
[lbl-2023-1669, Annex VI point 1(c)]: steps with their tools and fasteners; Annex I (20): what a step is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from midframe.record.model import Joint
from midframe.ways.count import Count, CountedMove, Counter
from midframe.ways.posture import Posture, advance, start, uses_of
from midframe.ways.wording import in_sentence, joint_words, plural

SAME_TIME = "tools at the same time"


class StepLine(msgspec.Struct, frozen=True, kw_only=True):
    """One step: number, what ends it in which move (from 1), tools, joints and parts by id, in words."""

    number: int
    ends_with: str
    move: int
    tools: tuple[str, ...]
    joints: tuple[str, ...]
    parts: tuple[str, ...]
    text: str


class _Open:
    """What has been done since the last step ended."""

    def __init__(self) -> None:
        self.tools: dict[str, None] = {}
        self.joints: dict[str, None] = {}
        self.move = 0

    def add(self, move: int, tools: Iterable[str], joint: str) -> None:
        self.move = move
        self.tools.update(dict.fromkeys(tools))
        if joint:
            self.joints[joint] = None


def step_lines(counter: Counter, count: Count) -> tuple[StepLine, ...]:
    """A line for every step of a counted way, in order; as many as the count has steps."""
    lines: list[StepLine] = []
    posture, work = start(counter.bench), _Open()

    def end(kind: str, done: _Open, parts: tuple[str, ...] = ()) -> None:
        lines.append(_line(counter, len(lines) + 1, kind, done, parts))

    for number, counted in enumerate(count.moves, start=1):
        for tools, after, kinds in list(_operations(counter, counted, posture)):
            posture = after
            here = _Open()
            here.add(number, tools, counted.move.open)
            left = True
            for kind in kinds:
                if kind == "tool change":
                    end(kind, work if work.move else here)
                    work = _Open()
                elif kind == "removal":
                    work.add(number, tools, "")
                    end(kind, work, counted.aside)
                    work, left = _Open(), False
                else:
                    end(kind, here)
                    left = left and kind == SAME_TIME
            if left:
                work.add(number, tools, counted.move.open)
    if len(lines) < len(count.steps):
        end(count.steps[-1].ends_with, work)
    return tuple(lines)


def _operations(
    counter: Counter, counted: CountedMove, at: Posture
) -> Iterator[tuple[tuple[str, ...], Posture, tuple[str, ...]]]:
    """Tools of each operation of a move, the posture after it, and the steps it adds."""
    joint = counter.rules.joints.get(counted.move.open)
    uses = uses_of(
        counted.operations,
        counted.face,
        counter.readings,
        joint_kind=joint.kind if joint else None,
        consumables=counter.consumables,
    )
    for operation, use in zip(counted.operations, uses, strict=True):
        at, added = advance(at, use, counter.readings, counter.bench)
        yield operation.tools, at, added.steps


def _line(counter: Counter, number: int, kind: str, done: _Open, parts: tuple[str, ...]) -> StepLine:
    joints = [counter.rules.joints[joint] for joint in done.joints]
    names = [counter.rules.parts[part].name for part in parts]
    tools = " and ".join(done.tools) or "bare hand"
    what = [", ".join(map(fastener_words, joints))] if joints else []
    what += [", ".join(map(in_sentence, names)) + " off"] if names else []
    return StepLine(
        number=number,
        ends_with=kind,
        move=done.move,
        tools=tuple(done.tools),
        joints=tuple(done.joints),
        parts=parts,
        text=f"{number}. {tools}: {', '.join(what) or 'work'} ({kind})",
    )


def fastener_words(joint: Joint) -> str:
    """A joint in a step description, screws with their number.

    >>> fastener_words(Joint(id="s", kind="screw", holds=("a", "b"), name="Cover screws", count=9))
    'cover screws (9 screws)'
    """
    words = joint_words(joint)
    return f"{words} ({plural(joint.count or 1, 'screw')})" if joint.kind == "screw" else words
