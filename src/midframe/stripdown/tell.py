"""A move and a line of the log in words."""

from __future__ import annotations

from midframe.record.model import Joint, LogEntry, Record
from midframe.stripdown.done import Done
from midframe.stripdown.naming import part_name
from midframe.stripdown.replay import Line
from midframe.ways.bench import Bench
from midframe.ways.wording import in_sentence, joint_words


def told(record: Record, done: Done, entry: LogEntry) -> str:
    """What was done, as the summary of a revision.

    >>> from midframe.record.draft import begin
    >>> told(begin("Tern", "phone"), Done(verb="note", note="one bent"), LogEntry(seconds=1, note="one bent"))
    'Note: one bent'
    """
    if done.verb == "note":
        return f"Note: {done.note}" if done.note else "Photo"
    joint = next((one for one in record.joints if one.id in (entry.open, entry.on)), None)
    if joint is not None:
        return f"{done.verb.capitalize()} {details(joint)}"
    part = entry.lift[0] if entry.lift else entry.on
    return f"{done.verb.capitalize()} {in_sentence(part_name(record, part))}"


def details(joint: Joint) -> str:
    """A joint in words, with what tells its fasteners apart."""
    size = joint.thread
    if joint.length_mm:
        size = f"{joint.thread}×{joint.length_mm:g}" if joint.thread else f"{joint.length_mm:g} mm"
    count = f"{joint.count}" if joint.count and joint.count > 1 else ""
    kind = ", ".join(filter(None, (size, joint.drive)))
    said = " × ".join(filter(None, (count, kind)))
    return f"{joint_words(joint)} ({said})" if said else joint_words(joint)


def line_words(record: Record, line: Line) -> str:
    """A line of the log as the page shows it: what was opened, lifted or noted."""
    entry = line.entry
    joints = {joint.id: joint for joint in record.joints}
    if entry.open in joints:
        joint = joints[entry.open]
        verb = joint.work[entry.by - 1][-1].do if len(joint.work) >= entry.by else usual_verb(joint)
        return f"{verb.capitalize()} {details(joint)}"
    if entry.lift:
        names = " + ".join(in_sentence(part_name(record, part)) for part in entry.lift)
        hung = any(
            joint.tether
            and joint.id not in opened_by(record, line.number)
            and not set(entry.lift).isdisjoint(joint.holds)
            for joint in record.joints
        )
        return f"{'Fold aside' if hung else 'Lift'} {names}"
    if entry.on in joints:
        return f"{entry.note.partition(':')[0].capitalize() or 'Photo'}, {joint_words(joints[entry.on])}"
    about = f" on {in_sentence(part_name(record, entry.on))}" if entry.on else ""
    return f"{'Note' if entry.note else 'Photo'}{about}"


def opened_by(record: Record, number: int) -> set[str]:
    """The joints open after a line of the log."""
    return {entry.open for entry in record.log[: number + 1] if entry.open}


def usual_verb(joint: Joint) -> str:
    """What opening a joint of a kind is called where its work does not say."""
    return Bench().default_operation(joint).do
