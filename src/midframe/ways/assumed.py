"""What assumed conditions leave open: best and worst case, and the question that settles most of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, TypeAlias

import msgspec

from midframe.faults import UnknownPart
from midframe.record.model import Joint, Part, Record
from midframe.ways.bench import Bench
from midframe.ways.facts import Bits
from midframe.ways.objective import STEPS_THEN_SECONDS, Objective
from midframe.ways.orders import gets_out
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT, NoWayFound, Way
from midframe.ways.wording import choice_words, in_sentence, plural, told_apart

Answers: TypeAlias = dict[str, Way | NoWayFound]
Subject: TypeAlias = tuple[Literal["part", "joint"], str]


class Cost(msgspec.Struct, frozen=True):
    """What a way, or all ways together, take; `stuck` counts targets without a way, left out of the sums."""

    steps: int = 0
    seconds: float = 0.0
    money: float = 0.0
    stuck: int = 0


class TargetRange(msgspec.Struct, frozen=True):
    """One target: its cost where every assumed condition is dropped, and where every one is kept.

    Best and worst in the sense of the objective: where steps come first, the
    worst case has no fewer steps, but may take fewer seconds.
    """

    target: str
    best: Cost
    worst: Cost


class AssumedRange(msgspec.Struct, frozen=True):
    """The ranges of all targets and of their sum, and what rests on an assumption, by id."""

    parts: tuple[str, ...]
    joints: tuple[str, ...]
    targets: tuple[TargetRange, ...]
    best: Cost
    worst: Cost


class Outcome(msgspec.Struct, frozen=True):
    """What an answer would give: the ranges of the sum over all targets, in words and figures."""

    text: str
    best: Cost
    worst: Cost


class Question(msgspec.Struct, frozen=True):
    """One assumed condition to look at, and what either answer gives.

    `kind` and `subject` name the part or joint; `gain` is the expected
    reduction of the summed range, times two, one whole number per term of the
    objective after the number of targets without a way.
    """

    kind: Literal["part", "joint"]
    subject: str
    text: str
    gain: tuple[int, ...]
    now: Outcome
    if_confirmed: Outcome
    if_denied: Outcome


def assumed_subjects(record: Record) -> tuple[Subject, ...]:
    """Parts, then joints, with an assumed condition that says anything, in the order of the record."""
    parts: list[Subject] = [("part", part.id) for part in record.parts if part.assumed and part.under]
    joints: list[Subject] = [("joint", joint.id) for joint in record.joints if joint.assumed and joint.behind]
    return (*parts, *joints)


def answered(record: Record, kind: str, subject: str, *, confirmed: bool) -> Record:
    """The record with one question answered: confirmed, the condition stays; denied, it is dropped.

    Raises `UnknownPart` where nothing is assumed of that part or joint.
    """
    if (kind, subject) not in assumed_subjects(record):
        raise UnknownPart(f"no assumed condition of {kind} '{subject}' in the record")
    one = ((kind, subject),)
    return edited(record, confirm=one) if confirmed else edited(record, deny=one)


def edited(
    record: Record, confirm: Iterable[tuple[str, str]] = (), deny: Iterable[tuple[str, str]] = ()
) -> Record:
    """The record with some assumed conditions confirmed and others dropped."""
    settled, dropped = set(confirm), set(deny)

    def part(one: Part) -> Part:
        key = ("part", one.id)
        if key in dropped:
            return msgspec.structs.replace(one, under=(), assumed=False)
        return msgspec.structs.replace(one, assumed=False) if key in settled else one

    def joint(one: Joint) -> Joint:
        key = ("joint", one.id)
        if key in dropped:
            return msgspec.structs.replace(one, behind=(), assumed=False)
        return msgspec.structs.replace(one, assumed=False) if key in settled else one

    return msgspec.structs.replace(
        record, parts=tuple(map(part, record.parts)), joints=tuple(map(joint, record.joints))
    )


class Cases:
    """Best and worst case of one record and of its answers, with what is solved once shared."""

    def __init__(
        self,
        record: Record,
        objective: Objective,
        readings: Readings | None,
        bench: Bench | None,
        limit: int | None,
    ) -> None:
        self.record, self.objective, self.limit = record, objective, limit
        self.readings, self.bench = readings, bench
        self.bits = Bits()
        self.subjects = assumed_subjects(record)
        self.best = self.planner(edited(record, deny=self.subjects)).ways()
        self.worst = self.solved(record, self.best, [])

    def planner(self, record: Record) -> Planner:
        """A planner of an edited record."""
        return Planner(record, self.objective, self.readings, self.bench, bits=self.bits, limit=self.limit)

    def solved(self, record: Record, lower: Answers, known: list[Answers]) -> Answers:
        """Ways in a record with more conditions than the one `lower` is for.

        A way of `lower` that is still allowed is still the best; so is one of
        `known` (of a record with more conditions still) that costs no more.
        """
        planner, rules = self.planner(record), Rules(record)
        found: Answers = {}
        for target, way in lower.items():
            if isinstance(way, NoWayFound) or gets_out(rules, way.moves, target):
                found[target] = way
                continue
            equal = (answers[target] for answers in known)
            same = next((w for w in equal if isinstance(w, Way) and w.value == way.value), None)
            found[target] = same or planner.way(target)
        return found

    def confirmed(self, subject: Subject) -> Answers:
        """The best case once a condition is confirmed: it stays, the other assumed ones are dropped."""
        others = [one for one in self.subjects if one != subject]
        return self.solved(edited(self.record, deny=others), self.best, [self.worst])

    def denied(self, subject: Subject) -> Answers:
        """The worst case once a condition is denied: it is dropped, the other assumed ones stay."""
        return self.solved(edited(self.record, deny=[subject]), self.best, [self.worst])

    def total(self, answers: Answers) -> tuple[int, ...]:
        """Targets without a way, then the objective's terms, summed over all targets."""
        sums = [0] * (len(self.objective.terms) + 1)
        for way in answers.values():
            if isinstance(way, NoWayFound):
                sums[0] += 1
            else:
                sums[1:] = [before + more for before, more in zip(sums[1:], way.value, strict=True)]
        return tuple(sums)


def cost_of(way: Way | NoWayFound) -> Cost:
    """The cost of one target."""
    if isinstance(way, NoWayFound):
        return Cost(stuck=1)
    return Cost(way.steps, way.seconds, way.money)


def summed(answers: Answers) -> Cost:
    """The cost of all targets together, each taken out on its own."""
    costs = [cost_of(way) for way in answers.values()]
    return Cost(
        sum(cost.steps for cost in costs),
        sum(cost.seconds for cost in costs),
        sum(cost.money for cost in costs),
        sum(cost.stuck for cost in costs),
    )


def assumed_range(
    record: Record,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> AssumedRange:
    """Best and worst case of every target and in sum, over the conditions that are assumed."""
    cases = Cases(record, objective, readings, bench, limit)
    return AssumedRange(
        parts=tuple(name for kind, name in cases.subjects if kind == "part"),
        joints=tuple(name for kind, name in cases.subjects if kind == "joint"),
        targets=tuple(
            TargetRange(target, cost_of(way), cost_of(cases.worst[target]))
            for target, way in cases.best.items()
        ),
        best=summed(cases.best),
        worst=summed(cases.worst),
    )


def next_question(
    record: Record,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> Question | None:
    """The assumed condition whose answer narrows the results most; `None` where nothing is assumed.

    Both answers count as equally likely. With R the summed range (worst minus
    best over all targets) the expected reduction is R − (R if confirmed +
    R if denied) / 2; ties go to the first in the order of the record.
    """
    cases = Cases(record, objective, readings, bench, limit)
    found: Question | None = None
    for subject in cases.subjects:
        question = asked(cases, subject)
        if found is None or question.gain > found.gain:
            found = question
    return found


def asked(cases: Cases, subject: Subject) -> Question:
    """The question about one assumed condition, with what either answer gives."""
    confirmed, denied = cases.confirmed(subject), cases.denied(subject)
    raised = [high - low for high, low in zip(cases.total(confirmed), cases.total(cases.best), strict=True)]
    lowered = [high - low for high, low in zip(cases.total(cases.worst), cases.total(denied), strict=True)]
    return Question(
        kind=subject[0],
        subject=subject[1],
        text=question_words(cases.record, subject),
        gain=tuple(up + down for up, down in zip(raised, lowered, strict=True)),
        now=outcome("now", cases.best, cases.worst),
        if_confirmed=outcome("if so", confirmed, cases.worst),
        if_denied=outcome("if not", cases.best, denied),
    )


def question_words(record: Record, subject: Subject) -> str:
    """The question in plain words, whether this is really under or behind that."""
    kind, name = subject
    if kind == "part":
        part = next(one for one in record.parts if one.id == name)
        what, where, condition = in_sentence(part.name), "under", part.under
    else:
        joint = next(one for one in record.joints if one.id == name)
        what, where, condition = told_apart(record, joint), "behind", joint.behind
    noun = what.partition(" (")[0]
    verb = "Are" if noun.endswith("s") and not noun.endswith("ss") else "Is"
    return f"{verb} the {what} really {where} {choice_words(record, condition)}?"


def outcome(when: str, best: Answers, worst: Answers) -> Outcome:
    """A range of the sum over all targets, in words and figures."""
    low, high = summed(best), summed(worst)
    steps = plural(low.steps, "step") if low.steps == high.steps else f"{low.steps} to {high.steps} steps"
    seconds = f"{low.seconds:.0f} to {high.seconds:.0f} s"
    if round(low.seconds) == round(high.seconds):
        seconds = f"{low.seconds:.0f} s"
    stuck = f", {plural(high.stuck, 'part')} without a way in the worst case" if high.stuck else ""
    return Outcome(f"{when}: {steps}, {seconds} over all parts{stuck}", low, high)
