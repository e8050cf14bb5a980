from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load
from midframe.faults import BadSetting, UnknownPart
from midframe.record.draft import begin
from midframe.stripdown import Done, answer, apply, condition_questions, log_questions, most_needed, settle


@pytest.fixture
def counted_otherwise():
    """Tern 2 on which three screws were counted where the record has four."""
    record = msgspec.structs.replace(load("tern-2"), log=())
    return apply(
        record, Done(verb="unscrew", what="lower-cover-screws", count=3, note="one missing"), 9
    ).record


@pytest.fixture
def assumed():
    """A record with one assumed condition of a joint."""
    record = begin("Tern", "phone")
    for place, (verb, what) in enumerate(
        [("unclip", "Lid"), ("lift", "Lid"), ("unscrew", "Plate"), ("lift", "Plate"), ("unplug", "Cell")]
    ):
        record = apply(record, Done(verb=verb, what=what), 10 * place).record
    return record


@pytest.mark.parametrize(("take", "count"), [("here", 3), ("record", 4)])
def test_a_difference_is_settled_either_way_and_the_log_keeps_it(counted_otherwise, take, count):
    (question,) = log_questions(counted_otherwise)
    settled = settle(counted_otherwise, question, take)
    assert next(one for one in settled.joints if one.id == "lower-cover-screws").count == count
    assert log_questions(settled) == ()
    assert "3 counted" in settled.log[0].note
    assert "one missing" in settled.log[0].note
    with pytest.raises(UnknownPart):
        settle(settled, question, take)


def test_every_assumed_condition_is_asked_with_the_parts_that_were_off(assumed):
    questions = condition_questions(assumed)
    assert [(one.kind, one.subject) for one in questions] == [
        ("joint", "plate-screws"),
        ("joint", "cell-plug"),
    ]
    assert questions[1].choices == ("plate", "lid")


def test_an_answer_confirms_drops_or_replaces(assumed):
    def plug(record):
        return next(one for one in record.joints if one.id == "cell-plug")

    assert plug(answer(assumed, "joint", "cell-plug", holds=True)).behind == (("plate",),)
    assert plug(answer(assumed, "joint", "cell-plug", holds=False)).behind == ()
    other = answer(assumed, "joint", "cell-plug", holds=False, instead=("lid",))
    assert (plug(other).behind, plug(other).assumed) == ((("lid",),), False)
    with pytest.raises(BadSetting, match="other parts"):
        answer(assumed, "joint", "cell-plug", holds=False, instead=("frame",))
    with pytest.raises(UnknownPart):
        answer(other, "joint", "cell-plug", holds=True)


def test_what_most_parts_wait_for_is_asked_first(assumed):
    record = assumed
    for place, (verb, what) in enumerate([("unplug", "Coil"), ("lift", "Cell"), ("unscrew", "Board")]):
        record = apply(record, Done(verb=verb, what=what), 60 + 10 * place).record
    subjects = [one.subject for one in most_needed(record)]
    assert subjects[0] == "plate-screws"
    assert sorted(subjects) == sorted(one.subject for one in condition_questions(record))
