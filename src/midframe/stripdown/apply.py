"""One move of the strip-down makes one line of the log, and the record grows by what it tells."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from midframe.faults import BadSetting
from midframe.record.draft import with_joint, with_part
from midframe.record.model import Condition, Joint, Lift, LogEntry, Operation, Part, Photo, Record
from midframe.stripdown.ask import FOLDED, LogQuestion, differences, log_questions
from midframe.stripdown.done import LIFTS, Done, tidy
from midframe.stripdown.grow import (
    gaps,
    pending,
    said_condition,
    unfinished,
    with_new_joint,
    with_new_part,
    with_work,
    without_mutual,
)
from midframe.stripdown.matching import continued, joint_for, pair_of
from midframe.stripdown.measure import bare, moment, seconds_taken, tools_of, usual_tools
from midframe.stripdown.naming import joint_named, joint_names, new_part, part_named
from midframe.stripdown.replay import Standing, preset, replay
from midframe.stripdown.tell import told
from midframe.stripdown.words import verb_words

replace = msgspec.structs.replace


class Applied(msgspec.Struct, frozen=True):
    """The record after a move, its line of the log, the ids made, a summary, what is to be asked."""

    record: Record
    entry: LogEntry
    made: tuple[str, ...]
    words: str
    questions: tuple[LogQuestion, ...]


def apply(record: Record, done: Done, at_seconds: float) -> Applied:
    """The record after one move, done at a time of the clock in seconds.

    What the record knows already is never overwritten: where the move says
    otherwise, the log line keeps it and a question comes back. Raises
    `BadSetting` where the move does not say what was done to what.
    """
    said = tidy(done)
    at = moment(record, at_seconds)
    doing: Callable[[Record, Done, float], tuple[Record, LogEntry]] = (
        noted if said.verb == "note" else lifted if said.verb in LIFTS else worked
    )
    grown, entry = doing(record, said, at)
    grown = with_photo(grown, entry)
    known = set(ids_of(record))
    return Applied(
        record=grown,
        entry=entry,
        made=tuple(one for one in ids_of(grown) if one not in known),
        words=told(grown, said, entry),
        questions=tuple(one for one in log_questions(grown) if grown.log[one.line] == entry),
    )


def ids_of(record: Record) -> tuple[str, ...]:
    """The ids of all parts, then of all joints."""
    return (*(part.id for part in record.parts), *(joint.id for joint in record.joints))


def logged(record: Record, entry: LogEntry, at_line: int | None = None) -> Record:
    """The record with one more line of the log, at its end or before a line."""
    place = len(record.log) if at_line is None else at_line
    return replace(record, log=(*record.log[:place], entry, *record.log[place:]))


def with_photo(record: Record, entry: LogEntry) -> Record:
    """The record with the photo of a line in its list, and the part that it shows."""
    if not entry.photo or entry.photo in {photo.hash for photo in record.photos}:
        return record
    joints = {joint.id: joint for joint in record.joints}
    parts = {part.id for part in record.parts}
    subject = entry.open or entry.on
    shown = joints[subject].holds[:1] if subject in joints else entry.lift or (subject,)
    photo = Photo(hash=entry.photo, parts=tuple(part for part in shown if part in parts))
    return replace(record, photos=(*record.photos, photo))


def note_of(*words: str) -> str:
    """The note of a log line from its phrases, empty ones left out."""
    return "; ".join(filter(None, words))


def noted(record: Record, done: Done, at: float) -> tuple[Record, LogEntry]:
    """A note or photo, on the part or joint that it names, if there is one."""
    part, joint = part_named(record, done.what), joint_named(record, done.what)
    on = part.id if part is not None else joint.id if joint is not None else ""
    about = f"{done.what}: " if done.what and not on else ""
    entry = LogEntry(seconds=at, on=on, note=f"{about}{done.note}" if done.note else about, photo=done.photo)
    return logged(record, entry), entry


def condition_of(
    record: Record, done: Done, guess: tuple[str, ...], without: tuple[str, ...]
) -> tuple[Condition, bool]:
    """What must be aside: as said, which counts as confirmed, else the guess, which is assumed."""
    if done.behind is not None:
        return said_condition(record, done.behind, without), False
    kept = tuple(part for part in guess if part not in without)
    return ((kept,), True) if kept else ((), False)


def lifted(record: Record, done: Done, at: float) -> tuple[Record, LogEntry]:
    """A part lifted or folded aside; a bond that was only heated or soaked gave way with it."""
    part = part_named(record, done.what)
    if part is None and joint_named(record, done.what) is not None:
        raise BadSetting(f"{done.verb}: found the joint '{done.what}'; right: a part")
    if part is not None and part.id == record.device.body:
        raise BadSetting(f"{done.verb}: found '{done.what}', the body; right: a part that comes off it")
    record, part = ensured(record, done, done.what, part)
    if done.verb == "fold aside":
        record = cabled(record, done, part.id)
    record = gave_way(record, part.id, at)
    standing = replay(record)
    if part.id in standing.aside:
        entry = LogEntry(
            seconds=at, on=part.id, note=note_of(f"{done.verb} again", done.note), photo=done.photo
        )
        return logged(record, entry), entry
    if pending(part):
        record = described(record, done, part.id, standing, at)
    loose = done.verb == "fold aside" and not any(
        joint.tether and part.id in joint.holds for joint in record.joints
    )
    note = note_of(FOLDED if loose else "", done.note)
    entry = LogEntry(seconds=at, lift=(part.id,), note=note, photo=done.photo)
    return logged(record, entry), entry


def ensured(record: Record, done: Done, name: str, part: Part | None) -> tuple[Record, Part]:
    """The record with a part of this name, and that part."""
    if part is not None:
        return record, part
    made = new_part(record, name, done.role if name == done.what else None)
    return with_new_part(record, made), made


def described(record: Record, done: Done, part: str, standing: Standing, at: float) -> Record:
    """The record with what the first lift of a part tells: what had to be aside, face, tools, time."""
    guess = preset(record, standing, part, lift=True)
    condition, assumed = condition_of(record, done, guess, (part,))
    condition = without_mutual(record, part, condition)
    tools = bare(done.tools or ())
    seconds = seconds_taken(record, done, at)
    facts: dict[str, Any] = {"under": condition, "assumed": assumed and bool(condition)}
    if tools or seconds is not None:
        facts["lift"] = Lift(tools=tools, seconds=seconds)
    if done.face is not None:
        facts["face"] = done.face
    return with_part(record, part, **facts)


def cabled(record: Record, done: Done, part: str) -> Record:
    """The record with the cable on which a part is folded aside, where it was said where that leads."""
    if not done.to:
        return record
    record, other = ensured(record, done, done.to, part_named(record, done.to))
    if other.id == part or any(
        joint.tether and {part, other.id} <= set(joint.holds) for joint in record.joints
    ):
        return record
    new, name = joint_names(record, "connector", part, None)
    cable = Joint(id=new, name=name, kind="connector", holds=(part, other.id), tether=True, assumed=True)
    return with_new_joint(record, cable)


def gave_way(record: Record, part: str, at: float) -> Record:
    """The record in which bonds of the part that were heated or soaked, not opened, are open now."""
    opened = replay(record).state.open
    for joint in record.joints:
        if joint.holds[0] == part and not joint.tether and unfinished(joint) and joint.id not in opened:
            record = logged(record, LogEntry(seconds=at, open=joint.id))
    return record


def worked(record: Record, done: Done, at: float) -> tuple[Record, LogEntry]:
    """Work on a joint: known or new, opened by it or not."""
    standing = replay(record)
    pair = pair_of(record, done, standing)
    joint = joint_for(record, done, pair, standing)
    verb = verb_words()[done.verb]
    if joint is not None:
        return known_joint(record, done, joint, standing, at)
    if not verb.opens and pair.part in standing.aside:
        return remarked(record, done, pair.part, at)
    before = replace(done, seconds=seconds_taken(record, done, at))
    record, part = ensured(record, done, pair.part, part_named(record, pair.part))
    record, other = ensured(record, done, pair.other, part_named(record, pair.other))
    late = standing.left_at(part.id)
    tether = verb.joins == "connector" and (done.tether is not False or late is not None)
    line = None if tether or not verb.opens else late
    if line is not None:
        standing, at = replay(record, line), record.log[line].seconds
        before = replace(done)
    record, joint = made_joint(record, before, (part.id, other.id), standing, tether=tether)
    return opened(record, done, joint, at, line)


def made_joint(
    record: Record, done: Done, holds: tuple[str, str], standing: Standing, *, tether: bool
) -> tuple[Record, Joint]:
    """The record with a new joint, as the move tells it; `done` carries the seconds to keep."""
    kind = verb_words()[done.verb].joins or "other"
    without = () if tether else holds[:1]
    condition, assumed = condition_of(record, done, preset(record, standing), without)
    new, name = joint_names(record, kind, holds[0], done.count)
    screw = {"drive": done.drive, "thread": done.thread, "length_mm": done.length_mm}
    joint = Joint(
        id=new,
        kind=kind,
        holds=holds,
        name=name,
        fastener=done.fastener,
        tether=tether,
        face=done.face,
        behind=condition,
        assumed=assumed,
        count=done.count if kind in ("screw", "clip", "solder") else None,
        **(screw if kind == "screw" else {}),  # type: ignore[arg-type]
    )
    joint = replace(joint, work=work_of(record, done, joint))
    return with_new_joint(record, joint), joint


def work_of(record: Record, done: Done, joint: Joint) -> tuple[tuple[Operation, ...], ...]:
    """The work on a new joint; left out where it says no more than the bench's default for its kind."""
    tools = tools_of(record, done, joint)
    usual = done.verb != "peel" and verb_words()[done.verb].opens and tools == usual_tools(joint, done.verb)
    if usual and done.seconds is None:
        return ()
    return ((Operation(do=done.verb, tools=tools, seconds=done.seconds),),)


def known_joint(
    record: Record, done: Done, joint: Joint, standing: Standing, at: float
) -> tuple[Record, LogEntry]:
    """Work on a joint that the record knows: gaps are filled, an unfinished bond gets one more operation."""
    seconds = seconds_taken(record, done, at)
    screw = {"count": done.count, "drive": done.drive, "thread": done.thread, "length_mm": done.length_mm}
    facts = gaps(joint, fastener=done.fastener, face=done.face, **(screw if joint.kind == "screw" else {}))
    operation = Operation(do=done.verb, tools=tools_of(record, done, joint), seconds=seconds)
    again = joint.id in standing.state.open
    if pending(joint) or (done.behind is not None and joint.assumed):
        without = () if joint.tether else joint.holds[:1]
        condition, assumed = condition_of(record, done, preset(record, standing), without)
        facts |= {"behind": condition, "assumed": assumed}
    if pending(joint) and not joint.work:
        facts["work"] = work_of(record, replace(done, seconds=seconds), joint)
    record = with_joint(record, joint.id, **facts) if facts else record
    if continued(record, joint, standing) if again else unfinished(joint):
        record = with_work(record, joint.id, operation)
        if again:
            record = closed_before(record, joint.id)
            again = False
    if again:
        return remarked(record, done, joint.id, at)
    return opened(record, done, joint, at, None)


def closed_before(record: Record, joint: str) -> Record:
    """The record whose last opening of a joint is only work on it: it is opened by what comes next."""
    log = list(record.log)
    place = max(number for number, entry in enumerate(log) if entry.open == joint)
    one = next(one for one in record.joints if one.id == joint)
    done = one.work[0][max(0, len(one.work[0]) - 2)].do
    log[place] = replace(log[place], open="", by=1, on=joint, note=note_line(done, log[place].note))
    return replace(record, log=tuple(log))


def note_line(verb: str, *words: str) -> str:
    """The note of work that opens nothing: what was done, then the rest."""
    rest = note_of(*words)
    return f"{verb}: {rest}" if rest else verb


def opened(record: Record, done: Done, joint: Joint, at: float, line: int | None) -> tuple[Record, LogEntry]:
    """The log line of work on a joint, put before a line where it comes late."""
    words = (*differences(joint, done), done.note)
    if verb_words()[done.verb].opens:
        entry = LogEntry(seconds=at, open=joint.id, note=note_of(*words), photo=done.photo)
    else:
        entry = LogEntry(seconds=at, on=joint.id, note=note_line(done.verb, *words), photo=done.photo)
    return logged(record, entry, line), entry


def remarked(record: Record, done: Done, on: str, at: float) -> tuple[Record, LogEntry]:
    """A log line about work that changes nothing: on a joint that is open already, on a part that is off."""
    entry = LogEntry(seconds=at, on=on, note=note_line(done.verb, done.note), photo=done.photo)
    return logged(record, entry), entry
