"""The strip-down as it is told at the bench: each move grows the record and its log."""

from midframe.stripdown.apply import Applied, apply
from midframe.stripdown.ask import (
    ConditionQuestion,
    LogQuestion,
    answer,
    condition_questions,
    log_questions,
    most_needed,
    settle,
)
from midframe.stripdown.done import BARE_HAND, VERBS, Done, Verb, done_of
from midframe.stripdown.hear import Heard, hear
from midframe.stripdown.replay import Line, Standing, preset, replay
from midframe.stripdown.state import BenchState, bench_state
from midframe.stripdown.suggest import Suggestion, suggest
from midframe.stripdown.tell import details, line_words, told

__all__ = [
    "BARE_HAND",
    "VERBS",
    "Applied",
    "BenchState",
    "ConditionQuestion",
    "Done",
    "Heard",
    "Line",
    "LogQuestion",
    "Standing",
    "Suggestion",
    "Verb",
    "answer",
    "apply",
    "bench_state",
    "condition_questions",
    "details",
    "done_of",
    "hear",
    "line_words",
    "log_questions",
    "most_needed",
    "preset",
    "replay",
    "settle",
    "suggest",
    "told",
]
