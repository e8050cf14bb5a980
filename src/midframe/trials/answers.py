"""The answers to function checks: as the record keeps them, as a file gives them, one more put in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import Outcome, Record, Tried
from midframe.trials.difference import OUTCOMES
from midframe.trials.usual import trials

Answers: TypeAlias = dict[str, Outcome]
When: TypeAlias = Literal["before", "after"]


def answers(record: Record) -> tuple[Answers, Answers]:
    """The answers that a record keeps, before and after, to the checks that apply to it."""
    known = {trial.id for trial in trials(record)}
    kept = [one for one in record.tried if one.check in known]
    return (
        {one.check: one.before for one in kept if one.before is not None},
        {one.check: one.after for one in kept if one.after is not None},
    )


def left_over(record: Record) -> tuple[Tried, ...]:
    """Answers that the record keeps to checks which no longer apply to its parts."""
    known = {trial.id for trial in trials(record)}
    return tuple(one for one in record.tried if one.check not in known)


def answered(record: Record, check: str, when: When, outcome: Outcome | None) -> Record:
    """The record with one more answer; None takes the answer back.

    Raises
    ------
    UnknownPart
        Where no check of this name applies at that time.
    """
    known = [trial.id for trial in trials(record, when)]
    if check not in known:
        raise UnknownPart(f"no check '{check}' {when} the job; there are {', '.join(known)}")
    held = {one.check: one for one in record.tried}
    line = msgspec.structs.replace(held.get(check) or Tried(check=check), **{when: outcome})
    if line.before is None and line.after is None:
        held.pop(check, None)
    else:
        held[check] = line
    return msgspec.structs.replace(record, tried=tuple(held.values()))


def with_answers(record: Record, before: Answers, after: Answers) -> Record:
    """The record with these answers in place of those that it has to the same checks.

    Raises `UnknownPart` where a check does not apply at that time.
    """
    sides: tuple[tuple[When, Answers], ...] = (("before", before), ("after", after))
    for when, said in sides:
        for check, outcome in said.items():
            record = answered(record, check, when, outcome)
    return record


def anew(record: Record) -> Record:
    """The record without any answer: the next job begins."""
    return msgspec.structs.replace(record, tried=())


def of_plain(data: Mapping[str, Any], file: str = "") -> tuple[Answers, Answers]:
    """Answers before and after from plain data: tables `before` and `after`, an outcome for each check.

    An outcome is one of `OUTCOMES`, or a table of `outcome`, `note` and `figures` as in the record.

    Raises
    ------
    BadSetting
        With file and place for what cannot be read.

    >>> of_plain({"after": {"touch": "works"}})[1]["touch"].outcome
    'works'
    """
    where = f"{file or 'answers'}: "
    if stray := sorted(set(data) - {"before", "after"}):
        raise BadSetting(f"{where}found '{stray[0]}'; right: the tables [before] and [after]")
    return dict(one_side(data, "before", where)), dict(one_side(data, "after", where))


def one_side(data: Mapping[str, Any], when: str, where: str) -> Iterator[tuple[str, Outcome]]:
    """The answers of one table."""
    table = data.get(when, {})
    if not isinstance(table, Mapping):
        raise BadSetting(f"{where}{when}: found {table!r}; right: a table, [{when}]")
    for name, said in table.items():
        plain = {"outcome": said} if isinstance(said, str) else said
        try:
            yield name, msgspec.convert(plain, Outcome)
        except msgspec.ValidationError as error:
            right = f"one of {', '.join(OUTCOMES)}, or a table of outcome, note, figures"
            raise BadSetting(f"{where}{when}.{name}: found {said!r} ({error}); right: {right}") from None
