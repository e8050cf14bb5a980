"""What the log leaves to be asked: figures that differ, cables that lead nowhere, assumed conditions."""

from __future__ import annotations

import re
from typing import Any, Literal

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.draft import with_joint, with_part
from midframe.record.model import Condition, Joint, Part, Record
from midframe.stripdown.done import Done
from midframe.stripdown.grow import said_condition, without_mutual
from midframe.stripdown.naming import part_name
from midframe.ways.assumed import answered, assumed_subjects, question_words
from midframe.ways.wording import in_sentence, joint_words

COMPARED = ("count", "drive", "thread", "length_mm")
"""Facts of a joint that are compared with what was said."""

DIFFERS = re.compile(r"(count|drive|thread|length_mm) (.+?) here, (.+?) in the record")
"""How a log line keeps a difference until it is settled."""

FOLDED = "folded aside"


class LogQuestion(msgspec.Struct, frozen=True, kw_only=True):
    """One thing the log leaves open.

    `differs`: `fact` of the joint `subject` was said to be `here`, the record
    has `known`. `cable`: the part `subject` was folded aside, and no cable is
    known that holds it. `line` is the place in the log.
    """

    kind: Literal["differs", "cable"]
    line: int
    subject: str
    text: str
    fact: str = ""
    here: str = ""
    known: str = ""


class ConditionQuestion(msgspec.Struct, frozen=True, kw_only=True):
    """An assumed condition to be confirmed: of what, what it says, the parts it may be instead."""

    kind: Literal["part", "joint"]
    subject: str
    text: str
    condition: Condition
    choices: tuple[str, ...]


def differences(joint: Joint, done: Done) -> tuple[str, ...]:
    """What was said of a joint that is known otherwise, as the words of a log line."""
    found = []
    for fact in COMPARED:
        said, known = getattr(done, fact), getattr(joint, fact)
        if said and known and said != known:
            found.append(f"{fact} {shown(said)} here, {shown(known)} in the record")
    return tuple(found)


def shown(value: Any) -> str:
    """A figure or word as it stands in a log line."""
    return f"{value:g}" if isinstance(value, int | float) else str(value)


def log_questions(record: Record) -> tuple[LogQuestion, ...]:
    """All that the log leaves to be asked, the latest line first."""
    joints = {joint.id: joint for joint in record.joints}
    parts = {part.id for part in record.parts}
    found: list[LogQuestion] = []
    for number in reversed(range(len(record.log))):
        entry = record.log[number]
        joint = joints.get(entry.open or entry.on)
        if joint is not None:
            found += differing(joint, number, entry.note)
        part = entry.lift[0] if entry.lift else ""
        if part in parts and entry.note.startswith(FOLDED) and not tethers_of(record, part):
            name = in_sentence(part_name(record, part))
            text = f"Where does the cable lead that holds the {name}?"
            found.append(LogQuestion(kind="cable", line=number, subject=part, text=text))
    return tuple(found)


def differing(joint: Joint, number: int, note: str) -> list[LogQuestion]:
    """The unsettled differences of one log line."""
    words = joint_words(joint)
    labels = {"length_mm": "length in mm"}
    return [
        LogQuestion(
            kind="differs",
            line=number,
            subject=joint.id,
            text=f"{words[:1].upper()}{words[1:]}: {labels.get(fact, fact)} {here} here,"
            f" {known} in the record. Which is right?",
            fact=fact,
            here=here,
            known=known,
        )
        for fact, here, known in DIFFERS.findall(note)
    ]


def tethers_of(record: Record, part: str) -> tuple[Joint, ...]:
    """The cables that hold a part."""
    return tuple(joint for joint in record.joints if joint.tether and part in joint.holds)


def settle(record: Record, question: LogQuestion, take: Literal["here", "record"]) -> Record:
    """The record with a difference settled: what was said is taken over, or the record keeps its own.

    The log line keeps what was said in either case. Raises `UnknownPart` where the question is not open.
    """
    if question.kind != "differs" or question not in log_questions(record):
        raise UnknownPart(f"no open question on '{question.subject}' in line {question.line + 1} of the log")
    entry = record.log[question.line]
    asked = f"{question.fact} {question.here} here, {question.known} in the record"
    kept = "" if take == "here" else f", {question.known} kept"
    note = entry.note.replace(asked, f"{question.fact} {question.here} counted{kept}", 1)
    log = list(record.log)
    log[question.line] = msgspec.structs.replace(entry, note=note)
    settled = msgspec.structs.replace(record, log=tuple(log))
    if take == "record":
        return settled
    return with_joint(settled, question.subject, **{question.fact: value_of(question)})


def value_of(question: LogQuestion) -> str | int | float:
    """What was said, as the record holds it."""
    if question.fact == "count":
        return int(float(question.here))
    return float(question.here) if question.fact == "length_mm" else question.here


def condition_questions(record: Record) -> tuple[ConditionQuestion, ...]:
    """Every assumed condition as a question, in the order of the record.

    The choices are the parts that were lifted before, the latest first.
    """
    found = []
    for kind, subject in assumed_subjects(record):
        one = subject_of(record, kind, subject)
        condition = one.under if isinstance(one, Part) else one.behind
        found.append(
            ConditionQuestion(
                kind=kind,
                subject=subject,
                text=question_words(record, (kind, subject)),
                condition=condition,
                choices=choices(record, kind, subject, condition),
            )
        )
    return tuple(found)


def choices(record: Record, kind: str, subject: str, condition: Condition) -> tuple[str, ...]:
    """Parts that may have been in the way: those lifted before it in the log, the latest first."""
    held = {subject} if kind == "part" else set(subject_of(record, kind, subject).holds[:1])  # type: ignore[union-attr]
    before: list[str] = []
    for entry in record.log:
        if subject in (entry.open, *entry.lift):
            break
        before += entry.lift
    named = [one for alternative in condition for one in alternative]
    return tuple(dict.fromkeys(one for one in (*named, *reversed(before)) if one not in held))


def subject_of(record: Record, kind: str, subject: str) -> Part | Joint:
    """The part or joint that a question is about; raises `UnknownPart`."""
    among: tuple[Part | Joint, ...] = record.parts if kind == "part" else record.joints
    found = next((one for one in among if one.id == subject), None)
    if found is None:
        raise UnknownPart(f"no {kind} '{subject}' in the record")
    return found


def answer(record: Record, kind: str, subject: str, *, holds: bool, instead: tuple[str, ...] = ()) -> Record:
    """The record with an assumed condition answered.

    `holds`: it is confirmed as it stands. Else it is dropped, or, where
    `instead` names parts, those take its place and count as confirmed. Raises
    `UnknownPart` where nothing is assumed of that part or joint, `BadSetting`
    where `instead` names what is no part.
    """
    settled = answered(record, kind, subject, confirmed=holds)
    if holds or not instead:
        return settled
    one = subject_of(record, kind, subject)
    if isinstance(one, Part):
        condition = without_mutual(record, subject, said_condition(record, (instead,), (subject,)))
        changed = with_part(settled, subject, under=condition)
    else:
        without = () if one.tether else one.holds[:1]
        condition = said_condition(record, (instead,), without)
        changed = with_joint(settled, subject, behind=condition)
    if not condition:
        raise BadSetting(f"{subject}: found nothing that can be aside before it; right: other parts")
    return changed


def most_needed(record: Record) -> tuple[ConditionQuestion, ...]:
    """The assumed conditions, first the one that most parts wait for, directly or by way of others.

    This takes no search: a part waits for its joints and for what lies over it,
    a joint for what it lies behind. Ties keep the order of the record.
    """
    waits = waiting(record)
    targets = [part.id for part in record.parts if part.id != record.device.body]
    closures = [closure(target, waits) for target in targets]

    def parts_waiting(question: ConditionQuestion) -> int:
        return sum((question.kind, question.subject) in found for found in closures)

    return tuple(sorted(condition_questions(record), key=lambda one: -parts_waiting(one)))


def waiting(record: Record) -> dict[tuple[str, str], set[tuple[str, str]]]:
    """For each part and joint the parts and joints that it waits for directly."""
    found: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for part in record.parts:
        over = {("part", one) for alternative in part.under for one in alternative}
        found["part", part.id] = over | {
            ("joint", joint.id) for joint in record.joints if joint.holds[0] == part.id
        }
    for joint in record.joints:
        found["joint", joint.id] = {("part", one) for alternative in joint.behind for one in alternative}
    return found


def closure(target: str, waits: dict[tuple[str, str], set[tuple[str, str]]]) -> set[tuple[str, str]]:
    """The part itself and all that it waits for."""
    found: set[tuple[str, str]] = set()
    new = {("part", target)}
    while new:
        found |= new
        new = {one for name in new for one in waits.get(name, ())} - found
    return found
