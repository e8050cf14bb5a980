from __future__ import annotations

import re
import time

import pytest

from midframe.record.draft import begin
from midframe.stripdown import Done, apply, condition_questions

AT = "2026-11-25T04:40:00.000+00:00"


@pytest.fixture
def stripped(store):
    """The id of a record with two assumed conditions."""
    record = begin("Tern", "phone")
    moves = [("unclip", "Lid"), ("lift", "Lid"), ("unscrew", "Plate"), ("lift", "Plate"), ("unplug", "Cell")]
    for place, (verb, what) in enumerate(moves):
        record = apply(record, Done(verb=verb, what=what), 10 * place).record
    return store.new(record, at=AT).id


def open_subjects(store, name):
    return [one.subject for one in condition_questions(store.get(name).record)]


def asked_of(html):
    return re.search(r'name="subject" value="([^"]+)"', html)[1]


def test_one_question_is_asked_and_the_rest_counted(client, stripped):
    html = client.get(f"/r/{stripped}/questions").text
    assert "2 questions open" in html
    assert html.count('name="subject"') == 1


@pytest.mark.parametrize(("said", "behind"), [("yes", (("plate",),)), ("no", ()), ("instead", (("lid",),))])
def test_an_answer_by_one_tap_settles_the_question(client, store, stripped, said, behind):
    fields = {"kind": "joint", "subject": "cell-plug", "answer": said, "instead": ["lid"], "key": "k"}
    for _ in range(2):
        client.post(f"/r/{stripped}/questions", data=fields)
    joint = next(one for one in store.get(stripped).record.joints if one.id == "cell-plug")
    assert (joint.behind, joint.assumed) == (behind, False)
    assert open_subjects(store, stripped) == ["plate-screws"]
    assert store.get(stripped).revision == 2


def test_results_tighten_until_nothing_is_assumed(client, store, stripped):
    for _ in range(2):
        html = client.get(f"/r/{stripped}/questions").text
        kind = "joint"
        answer = {"kind": kind, "subject": asked_of(html), "answer": "yes"}
        assert client.post(f"/r/{stripped}/questions", data=answer).status_code == 303
    assert open_subjects(store, stripped) == []
    for _ in range(100):
        html = client.get(f"/r/{stripped}/questions").text
        if "in sum</dt>" in html:
            break
        time.sleep(0.1)
    assert "Nothing is assumed any more" in html
    assert re.search(r"Steps to every part, in sum</dt><dd>\d+</dd>", html)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"kind": "joint", "subject": "cell-plug"}, "found none"),
        ({"kind": "joint", "subject": "cell-plug", "answer": "instead"}, "at least one"),
        ({"kind": "joint", "subject": "nowhere", "answer": "yes"}, "nowhere"),
    ],
)
def test_an_answer_that_says_nothing_is_refused_with_what_would_be_right(client, stripped, fields, words):
    answer = client.post(f"/r/{stripped}/questions", data=fields)
    assert answer.status_code == 422
    assert words in answer.text
