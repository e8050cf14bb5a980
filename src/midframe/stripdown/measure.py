"""How long it took, and with which tools, where neither was said."""

from __future__ import annotations

import math

from midframe.record.model import Joint, Record
from midframe.stripdown.done import BARE_HAND, Done
from midframe.stripdown.replay import is_work, worked_on
from midframe.stripdown.words import verb_words
from midframe.ways.bench import Bench

LONGEST_SECONDS = 1800.0
"""A longer gap between two moves is a break, not work (common practice, no source)."""

SHORTEST_SECONDS = 1.0


def moment(record: Record, at_seconds: float) -> float:
    """A time of the clock that does not lie before the last line of the log; whole seconds."""
    last = record.log[-1].seconds if record.log else 0.0
    return max(last, float(round(at_seconds))) if math.isfinite(at_seconds) else last


def seconds_taken(record: Record, done: Done, at: float) -> float | None:
    """The seconds said, else those since the last work in the log; `None` where that says nothing."""
    if done.seconds is not None:
        return done.seconds
    before = next((entry.seconds for entry in reversed(record.log) if is_work(entry)), 0.0)
    gap = at - before
    return gap if SHORTEST_SECONDS <= gap <= LONGEST_SECONDS else None


def last_tools(record: Record, verb: str, drive: str = "") -> tuple[str, ...] | None:
    """The tools of the last operation of this kind in the log; `None` where there was none."""
    joints = {joint.id: joint for joint in record.joints}
    for entry in reversed(record.log):
        joint = joints.get(entry.open or entry.on)
        if joint is None or not joint.work or (drive and joint.drive != drive):
            continue
        for operation in reversed(joint.work[0]):
            if operation.do == verb and worked_on(entry, joint.id):
                return operation.tools
    return None


def usual_tools(joint: Joint, verb: str) -> tuple[str, ...]:
    """The tools that stand in for a verb where nothing is known: the driver, else the usual one."""
    if verb == "unscrew":
        return Bench().default_operation(joint).tools
    return verb_words()[verb].tools


def tools_of(record: Record, done: Done, joint: Joint) -> tuple[str, ...]:
    """The tools said, else those of the last time, else the usual ones; none for the bare hand."""
    if done.tools is not None:
        return bare(done.tools)
    before = last_tools(record, done.verb, joint.drive if done.verb == "unscrew" else "")
    return usual_tools(joint, done.verb) if before is None else before


def bare(tools: tuple[str, ...]) -> tuple[str, ...]:
    """Tools without the bare hand, each once."""
    return tuple(dict.fromkeys(tool for tool in tools if tool.casefold() not in (BARE_HAND, "hand")))
