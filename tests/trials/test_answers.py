from __future__ import annotations

import msgspec
import pytest

from midframe.faults import BadSetting, UnknownPart
from midframe.record import read, write
from midframe.record.model import Outcome, Spec, Tried
from midframe.trials import anew, answered, answers, left_over, of_plain
from screws.builders import record

WORKS, FAILS = Outcome(outcome="works"), Outcome(outcome="does not work", note="dark at the rim")


def test_answers_are_kept_by_the_record_and_read_back_from_its_file():
    said = Outcome(outcome="worse", figures=(Spec(label="cycles", value=312.0),))
    kept = answered(answered(record(), "picture", "before", said), "picture", "after", FAILS)
    again = read(write(kept))
    assert answers(again) == ({"picture": said}, {"picture": FAILS})


def test_an_answer_taken_back_leaves_nothing_behind():
    kept = answered(record(), "touch", "before", WORKS)
    assert answered(kept, "touch", "before", None) == record()


def test_not_tried_said_on_purpose_is_an_answer():
    said = Outcome(outcome="not tried", note="no card at hand")
    assert answers(answered(record(), "touch", "before", said))[0] == {"touch": said}


def test_the_next_job_begins_without_answers():
    assert anew(answered(record(), "touch", "after", FAILS)) == record()


def test_a_check_that_does_not_apply_is_refused():
    with pytest.raises(UnknownPart, match="no check 'hinge' after the job; there are touch"):
        answered(record(), "hinge", "after", WORKS)


def test_answers_to_checks_that_no_longer_apply_are_told_and_not_lost():
    old = Tried(check="hinge", before=WORKS)
    kept = msgspec.structs.replace(record(), tried=(old,))
    assert left_over(kept) == (old,)
    assert answers(kept) == ({}, {})
    assert old in answered(kept, "touch", "before", WORKS).tried


def test_answers_in_a_file_may_be_a_word_or_a_table():
    before, after = of_plain(
        {"before": {"touch": "works"}, "after": {"touch": {"outcome": "does not work", "note": "x"}}}
    )
    assert (before["touch"], after["touch"].note) == (WORKS, "x")


@pytest.mark.parametrize(
    ("data", "word"),
    [
        ({"befor": {}}, "found 'befor'; right: the tables"),
        ({"before": ["touch"]}, "before: found"),
        ({"before": {"touch": "fine"}}, r"answers\.toml: before\.touch: found 'fine'.*right: one of works"),
        ({"after": {"touch": {"outcome": "works", "remark": ""}}}, "after.touch"),
        ({"after": {"touch": 3}}, "after.touch: found 3"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(data, word):
    with pytest.raises(BadSetting, match=word):
        of_plain(data, "answers.toml")
