"""The ways to all parts as one table."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.cli.sheets.figures import count, duration, minutes, money
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.record import Record
from midframe.record.model import PRIORITY_ROLES, Part
from midframe.ways.assumed import AssumedRange, Cost, Question, assumed_subjects
from midframe.ways.toolbox import Toolbox, missing
from midframe.ways.way import NoWayFound, Way
from midframe.ways.wording import in_sentence

NAMED = 4
"""How many parts a line names before it counts them."""

COLUMNS = (
    Column("part", wraps=True),
    Column("steps", figures=True),
    Column("moves", figures=True),
    Column("min", figures=True),
    Column("tools", figures=True),
    Column("proven"),
)
Answers = Mapping[str, Way | NoWayFound]


def title_of(record: Record) -> str:
    """The device in a line: name, kind, invented or not."""
    device = record.device
    words = [
        device.kind,
        *(["foldable"] if device.foldable else []),
        *(["invented"] if device.invented else []),
    ]
    return f"{device.name} ({', '.join(words)})"


def ways_sheet(record: Record, answers: Answers, by: str) -> list[str]:
    """The ways to all parts, priority parts first, and what they rest on."""
    width = sheet_width()
    lines = paragraph(f"{title_of(record)}: ways in, least {in_order(by)}", width)
    first, others = split(record, answers)
    rows = [row(part, answers[part.id]) for part in first]
    rows += [[""] * (len(COLUMNS) + 1)] if first and others else []
    rows += [row(part, answers[part.id]) for part in others]
    lines += ["", *table([*COLUMNS, Column(record.device.currency, figures=True)], rows, width)]
    lines += ["", *paragraph(foot(answers) + assumptions(record), width)]
    for part in record.parts:
        answer = answers.get(part.id)
        if isinstance(answer, NoWayFound):
            lines += paragraph(f"{part.name}: no way in: {answer.reason}", width, "", "  ")
    return lines


def split(record: Record, answers: Answers) -> tuple[list[Part], list[Part]]:
    """Parts with a priority role, and the others, each in the order of the record."""
    there = [part for part in record.parts if part.id in answers]
    first = [part for part in there if {part.role, *part.also} & set(PRIORITY_ROLES)]
    return first, [part for part in there if part not in first]


def row(part: Part, answer: Way | NoWayFound) -> list[str]:
    """One part's row."""
    if isinstance(answer, NoWayFound):
        return [part.name, "", "", "", "", "no way", ""]
    return [
        part.name,
        str(answer.steps),
        str(len(answer.moves)),
        minutes(answer.seconds) + ("*" if mostly_default(answer) else ""),
        str(len(answer.count.tools)),
        "yes" if answer.proven else "no",
        money(answer.money),
    ]


def mostly_default(way: Way) -> bool:
    """Whether more than half of a way's time is the bench's default, not the record's."""
    own = sum(move.seconds for move in way.count.moves if not move.default_times)
    return own * 2 < way.seconds


def in_order(by: str) -> str:
    """`steps,seconds` in words.

    >>> in_order("steps, seconds"), in_order("money")
    ('steps, then least seconds', 'money')
    """
    return ", then least ".join(word.strip() for word in by.split(","))


def foot(answers: Answers) -> str:
    """What the columns mean and how far the ways are proven."""
    found = [answer for answer in answers.values() if isinstance(answer, Way)]
    open_ended = sum(not way.proven for way in found)
    proof = (
        f"Not proven: {count(open_ended, 'way')}; the search was ended by its limit."
        if open_ended
        else "Proven: under the rules and readings no way costs less."
    )
    starred = any(mostly_default(way) for way in found)
    default = "; *: more than half of it default times of the bench" if starred else ""
    return (
        "Priority parts of the index first. steps: as the regulation counts them; min: minutes of work"
        f" at median times{default}; money: labour, renewals and expected breakage. {proof}"
    )


def assumptions(record: Record) -> str:
    """How many conditions of the record are assumed, if any are."""
    number = len(assumed_subjects(record))
    if not number:
        return ""
    told = count(number, "condition is", "conditions are")
    return f" {told} assumed, not yet confirmed: --assumed gives the best and the worst case."


def lacking_part(record: Record, answers: Answers, toolbox: Toolbox, file: str) -> list[str]:
    """What the toolbox lacks, and for which parts: said first of all."""
    width = sheet_width()
    lacking: dict[str, list[str]] = {}
    names = {part.id: in_sentence(part.name) for part in record.parts}
    for target, answer in answers.items():
        if isinstance(answer, Way):
            for thing in missing(answer, toolbox).things:
                lacking.setdefault(thing.name, []).append(names[target])
    if not lacking:
        return [*paragraph(f"Toolbox {file}: all that any of these ways needs is in it.", width), ""]
    lines = paragraph(f"Toolbox {file}: missing for the ways below", width)
    few = [(thing, for_parts(parts, len(answers))) for thing, parts in lacking.items()]
    return [*lines, *pairs(few, width, "  "), ""]


def for_parts(parts: list[str], of: int) -> str:
    """For which parts a thing is missing."""
    if len(parts) <= NAMED:
        return f"for {'; '.join(parts)}"
    return f"for {len(parts)} of {of} parts"


def assumed_sheet(record: Record, cases: AssumedRange, question: Question | None) -> list[str]:
    """Best and worst case of the parts for which assumed conditions matter, and what to look at next."""
    width = sheet_width()
    conditions = len(cases.parts) + len(cases.joints)
    lines = ["", f"{count(conditions, 'condition is', 'conditions are')} assumed, not yet confirmed"]
    names = {part.id: part.name for part in record.parts}
    rows = [
        [names[one.target], case_words(one.best), case_words(one.worst)]
        for one in cases.targets
        if one.best != one.worst
    ]
    if rows:
        heads = [Column("part", wraps=True), Column("if none holds"), Column("if all hold")]
        lines += ["", *table(heads, rows, width)]
    elif conditions:
        lines += paragraph("No way depends on them.", width)
    if question is not None:
        lines += ["", *paragraph(f"Look at: {question.text} ({question.kind} {question.subject})", width)]
        for outcome in (question.now, question.if_confirmed, question.if_denied):
            lines += paragraph(outcome.text, width, "  ", "    ")
    return lines


def case_words(cost: Cost) -> str:
    """Steps and time of one case."""
    return "no way" if cost.stuck else f"{count(cost.steps, 'step')}, {duration(cost.seconds)}"
