"""Answers computed apart: kept, bounded, told, stopped, and faults as messages; questions are real ones."""

from __future__ import annotations

import os
import signal
import time

import msgspec
import pytest

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.web.answers import Answers, Job, encoded
from midframe.web.asked import QUESTIONS


@pytest.fixture
def answers():
    """Two workers, ended after the test."""
    made = Answers(2, kept=3)
    yield made
    made.close()


def settled(answers, *args, seconds=30.0, **options):
    """The answer once it is no longer worked on."""
    ends = time.monotonic() + seconds
    while time.monotonic() < ends:
        answer = answers.ask(*args, wait=1.0, **options)
        if answer.status != "working":
            return answer
    raise AssertionError("no answer in time")


def workers(answers):
    """The worker processes that are busy."""
    return [entry.worker for entry in answers._entries.values() if entry.worker is not None]


def until(condition, seconds=15.0):
    ends = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < ends, "it did not come to that"
        time.sleep(0.02)


def test_the_answer_is_what_the_library_says(answers):
    from midframe.dossier.index import device_index

    record = load("tern-2")
    answer = settled(answers, "index", record)
    assert answer.status == "done"
    assert answer.value == device_index(record)


def test_the_same_question_is_computed_once(answers):
    record = load("tern-2")
    first = settled(answers, "index", record)
    again = answers.ask("index", record, wait=0)
    assert again.status == "done"
    assert again.value is first.value


def test_another_option_or_another_record_is_another_question(answers):
    record = load("tern-2")
    keys = {
        answers.ask("ways", record, {"by": "seconds"}, wait=0).key,
        answers.ask("ways", record, {"by": "money"}, wait=0).key,
        answers.ask("ways", load("heron-tab"), {"by": "money"}, wait=0).key,
    }
    assert len(keys) == 3


def test_a_move_in_the_log_does_not_make_the_ways_new_but_does_make_the_instruction_new():
    from midframe.record.model import LogEntry

    record = load("tern-2")
    logged = msgspec.structs.replace(record, log=(*record.log, LogEntry(seconds=3.0, note="begun")))
    key = {
        (name, one is logged): Job(name, (encoded(one, whole=QUESTIONS[name].whole),), {}).key
        for name in ("ways", "instruction")
        for one in (record, logged)
    }
    assert key["ways", True] == key["ways", False]
    assert key["instruction", True] != key["instruction", False]


def test_a_fault_of_the_asker_comes_back_as_its_message(answers):
    answer = settled(answers, "ways", load("tern-2"), {"by": "beauty"})
    assert answer.status == "failed"
    assert "beauty" in answer.message
    assert "steps, seconds or money" in answer.message


def test_a_fault_of_the_program_is_told_and_the_worker_lives_on(answers):
    record = load("tern-2")
    answer = settled(answers, "way", record, {"by": "steps"})  # no part is named
    assert answer.status == "failed"
    assert "KeyError" in answer.message
    assert settled(answers, "index", record).status == "done"


def test_only_questions_of_the_table_are_taken(answers):
    with pytest.raises(BadSetting, match="may be device, ways"):
        answers.ask("os.system", load("tern-2"))


def test_progress_is_told_while_it_is_worked_on(answers):
    answer = answers.ask("what-if", load("avocet-fold"), {"times": False}, wait=0)
    until(lambda: answers.look(answer.key).number > 0)
    told = answers.look(answer.key)
    assert told.status == "working"
    assert told.number < told.of
    assert told.label
    assert told.seconds > 0


def test_stopping_ends_the_process_and_the_next_question_gets_a_new_one(answers):
    record = load("avocet-fold")
    answer = answers.ask("what-if", record, wait=0)
    until(lambda: workers(answers))
    (worker,) = workers(answers)
    answers.stop(answer.key)
    assert answers.look(answer.key).status == "stopped"
    until(lambda: not worker.alive)
    assert answers.ask("what-if", record, wait=0).status == "stopped"  # it is not begun again by itself
    assert settled(answers, "index", load("tern-2")).status == "done"


def test_what_was_stopped_while_it_waited_is_never_begun(answers):
    long = [answers.ask("what-if", load("avocet-fold"), {"times": on}, wait=0) for on in (True, False)]
    until(lambda: workers(answers))
    waiting = next(one for one in long if answers.look(one.key).ahead or not answers._entries[one.key].worker)
    answers.stop(waiting.key)
    assert answers.look(waiting.key).status == "stopped"
    assert len(workers(answers)) == 1


def test_a_forgotten_answer_is_computed_anew(answers):
    record = load("tern-2")
    first = settled(answers, "index", record)
    answers.forget(first.key)
    assert answers.look(first.key) is None
    assert settled(answers, "index", record).value is not first.value


def test_a_worker_that_is_killed_is_reported_and_replaced(answers):
    answer = answers.ask("what-if", load("avocet-fold"), wait=0)
    until(lambda: workers(answers))
    os.kill(workers(answers)[0]._process.pid, signal.SIGKILL)
    until(lambda: answers.look(answer.key).status == "failed")
    assert "want of memory" in answers.look(answer.key).message
    assert settled(answers, "index", load("tern-2")).status == "done"


def test_the_oldest_answers_go_first_and_those_used_again_stay(answers):
    record = load("tern-2")
    first = settled(answers, "index", record)
    second = settled(answers, "device", record)
    settled(answers, "upkeep", record)
    answers.ask("index", record, wait=0)
    settled(answers, "shelf", record)
    assert answers.look(first.key) is not None
    assert answers.look(second.key) is None


def test_a_long_question_leaves_a_process_for_a_short_one(answers):
    for times in (True, False):
        answers.ask("what-if", load("avocet-fold"), {"times": times}, wait=0)
    until(lambda: workers(answers))
    answer = settled(answers, "index", load("tern-2"), seconds=20)
    assert answer.status == "done"
    assert len(workers(answers)) == 1


def test_nothing_is_left_running_after_closing():
    made = Answers(1)
    made.ask("what-if", load("avocet-fold"), wait=0)
    until(lambda: workers(made))
    (worker,) = workers(made)
    made.close()
    assert not worker.alive
