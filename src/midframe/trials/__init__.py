"""Function checks before and after a job: which apply to a record, and what is worse than before."""

from midframe.trials.answers import (
    Answers,
    When,
    anew,
    answered,
    answers,
    left_over,
    of_plain,
    with_answers,
)
from midframe.trials.difference import (
    CHANGE_WORDS,
    CHANGES,
    OUTCOMES,
    Difference,
    Moved,
    change,
    difference,
    worse,
)
from midframe.trials.usual import USUAL, Asked, Trial, trials

__all__ = [
    "CHANGES",
    "CHANGE_WORDS",
    "OUTCOMES",
    "USUAL",
    "Answers",
    "Asked",
    "Difference",
    "Moved",
    "Trial",
    "When",
    "anew",
    "answered",
    "answers",
    "change",
    "difference",
    "left_over",
    "of_plain",
    "trials",
    "with_answers",
    "worse",
]
