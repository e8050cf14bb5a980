"""Where the work stands after the log: what was done is believed, what the rules say is kept beside it."""

from __future__ import annotations

import msgspec

from midframe.faults import IllegalMove
from midframe.record.model import LogEntry, Move, Record
from midframe.ways.rules import Rules, State

WORK_VERBS = ("heat", "soak", "peel", "pry", "unscrew", "unplug", "unclip", "desolder")
"""With these words begins the note of a log line that works on a joint without opening it."""


class Line(msgspec.Struct, frozen=True):
    """One line of the log: its place from 0, what it put aside, why the rules would not have let it."""

    number: int
    entry: LogEntry
    aside: tuple[str, ...] = ()
    against: str = ""


class Standing(msgspec.Struct, frozen=True):
    """The state after the log, the parts aside in the order in which they left, and the lines."""

    state: State
    aside: tuple[str, ...]
    lines: tuple[Line, ...]

    def left_at(self, part: str) -> int | None:
        """The place in the log where a part was put aside."""
        return next((line.number for line in self.lines if part in line.aside), None)


def replay(record: Record, upto: int | None = None) -> Standing:
    """The standing after the log, or after its first `upto` lines.

    A line that the rules of the moves forbid still counts: the hand on the
    bench knows better than the record. It carries the reason (`against`).
    """
    rules = Rules(record)
    places = {part.id: place for place, part in enumerate(record.parts)}
    state = State()
    aside: dict[str, None] = {}
    lines = []
    for number, entry in enumerate(record.log[:upto]):
        after, against = stepped(rules, state, entry)
        left = tuple(sorted(after.aside - state.aside, key=places.__getitem__))
        aside.update(dict.fromkeys(left))
        lines.append(Line(number, entry, left, against))
        state = after
    return Standing(state, tuple(aside), tuple(lines))


def stepped(rules: Rules, state: State, entry: LogEntry) -> tuple[State, str]:
    """The state after one line, and why the rules forbid it where they do."""
    opens = entry.open if entry.open in rules.joints else ""
    lifts = tuple(part for part in entry.lift if part in rules.parts and part != rules.body)
    if not opens and not lifts:
        return state, ""
    try:
        return rules.apply(state, Move(open=opens) if opens else Move(lift=lifts)), ""
    except IllegalMove as fault:
        forced = State(state.open | {opens} if opens else state.open, state.aside | set(lifts))
        return forced, str(fault).partition(": ")[2]


def worked_on(entry: LogEntry, joint: str) -> bool:
    """Whether a line is work on a joint: it opens it, or names it and begins with what was done."""
    return entry.open == joint or (entry.on == joint and entry.note.partition(":")[0] in WORK_VERBS)


def is_work(entry: LogEntry) -> bool:
    """Whether a line is a move or work on a joint, no mere note or photo."""
    return bool(entry.open or entry.lift) or (bool(entry.on) and entry.note.partition(":")[0] in WORK_VERBS)


def preset(record: Record, standing: Standing, part: str = "", *, lift: bool = False) -> tuple[str, ...]:
    """What probably had to be aside for the next opening, or for the lift of a part.

    That is what was lifted since the last opening; where nothing was, the same
    as for the last opening. A part whose own joints were opened needs nothing
    besides them then.
    """
    joints = {joint.id: joint for joint in record.joints}
    since: list[str] = []
    last: tuple[str, ...] = ()
    for line in standing.lines:
        since += line.aside
        worked = line.entry.open or (line.entry.on if is_work(line.entry) else "")
        if worked in joints:
            last = met(joints[worked].behind, standing)
            since = []
    if since:
        found = since
    elif lift and any(
        part in joint.holds and not joint.tether and joint.id in standing.state.open
        for joint in record.joints
    ):
        found = []
    else:
        found = list(last)
    return tuple(one for one in dict.fromkeys(found) if one not in (record.device.body, part))


def met(condition: tuple[tuple[str, ...], ...], standing: Standing) -> tuple[str, ...]:
    """The alternative of a condition that is aside; nothing where none is."""
    return next((one for one in condition if set(one) <= set(standing.aside)), ())
