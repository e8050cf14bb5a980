"""Function checks before and after a job side by side: what is worse than before comes first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

import msgspec

from midframe.faults import UnknownPart
from midframe.record.model import Outcome, Record, Spec
from midframe.trials.usual import Trial, trials

OUTCOMES = ("works", "worse", "does not work", "not tried")
"""What a check may come to; "worse": it works, but not as well as it should."""

CHANGE_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "worse": "Worse than before",
        "still not right": "Still not right",
        "not tried": "Not tried after",
        "better": "Better than before",
        "tried only after": "Works, not tried before",
        "same": "As before",
    }
)
"""What became of a check, as a heading; in this order, so that what is worse than before comes first."""

CHANGES = tuple(CHANGE_WORDS)
"""The order in which differences are told."""

NOT_TRIED = Outcome(outcome="not tried")


class Moved(msgspec.Struct, frozen=True):
    """A figure read before and after; `difference` is after less before, None where one is missing."""

    label: str
    unit: str
    before: float | str | None
    after: float | str | None
    difference: float | None


class Difference(msgspec.Struct, frozen=True):
    """One check before and after; `change` is one of `CHANGES`."""

    trial: Trial
    before: Outcome
    after: Outcome
    change: str
    figures: tuple[Moved, ...] = ()


def difference(
    record: Record, before: Mapping[str, Outcome], after: Mapping[str, Outcome]
) -> tuple[Difference, ...]:
    """The checks before and after, what is worse than before in front.

    A check that is for one side only stands in the list with that side alone, as "tried only after" or
    "not tried".

    Parameters
    ----------
    before, after
        Outcome by id of the check; what is absent was not tried.

    Raises
    ------
    UnknownPart
        For an id that is no check of this record.

    >>> from midframe import demo
    >>> works, fails = Outcome(outcome="works"), Outcome(outcome="does not work")
    >>> told = difference(demo.load("tern-3"), {"touch": works}, {"touch": fails})
    >>> told[0].trial.id, told[0].change
    ('touch', 'worse')
    """
    every = trials(record)
    known = [trial.id for trial in every]
    for said in (before, after):
        for name in said:
            if name not in known:
                raise UnknownPart(f"no check '{name}'; there are {', '.join(known)}")
    lines = []
    for trial in every:
        a, b = before.get(trial.id, NOT_TRIED), after.get(trial.id, NOT_TRIED)
        lines.append(Difference(trial, a, b, change(a.outcome, b.outcome), moved(a.figures, b.figures)))
    return tuple(sorted(lines, key=lambda line: CHANGES.index(line.change)))


def change(before: str, after: str) -> str:
    """What became of one check. Not right after and not tried before counts as worse: who can say otherwise.

    >>> change("works", "worse"), change("does not work", "worse"), change("works", "not tried")
    ('worse', 'better', 'not tried')
    """
    if after == "not tried":
        return "not tried"
    now = OUTCOMES.index(after)
    if before == "not tried":
        return "worse" if now else "tried only after"
    then = OUTCOMES.index(before)
    if now == then:
        return "still not right" if now else "same"
    return "worse" if now > then else "better"


def moved(before: Sequence[Spec], after: Sequence[Spec]) -> tuple[Moved, ...]:
    """Figures of the same name and unit side by side, in the order in which they were read.

    >>> old, new = Spec(label="cycles", value=310.0), Spec(label="cycles", value=312.0)
    >>> moved([old], [new])[0].difference
    2.0
    """
    then = {(one.label, one.unit): one.value for one in before}
    now = {(one.label, one.unit): one.value for one in after}
    return tuple(
        Moved(label, unit, a, b, b - a if isinstance(a, float) and isinstance(b, float) else None)
        for label, unit in dict.fromkeys([*then, *now])
        for a, b in [(then.get((label, unit)), now.get((label, unit)))]
    )


def worse(differences: Sequence[Difference]) -> tuple[Difference, ...]:
    """What is worse than before."""
    return tuple(line for line in differences if line.change == "worse")
