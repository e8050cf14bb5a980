"""Function checks on the page: answered by plain forms, kept as revisions, what is worse on top."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from midframe.store import Store
from web.conftest import AT


@pytest.fixture
def kept(store):
    return store.new(load("tern-3"), at=AT).id


def form(page, check):
    """The hidden fields of one check's form, as a browser would send them."""
    (block,) = re.findall(rf'<li id="trial-{check}".*?</li>', page, re.DOTALL)
    fields = re.findall(r'type="hidden" name="(base|key|check|when)" value="([^"]*)"', block)
    return dict(fields)


def answer(client, name, check, when, outcome, **more):
    page = client.get(f"/r/{name}/trials?show={when}").text
    return client.post(f"/r/{name}/trials", data={**form(page, check), "outcome": outcome, **more})


def test_an_answer_is_a_revision_and_is_still_there_in_a_store_opened_again(client, store, kept, tmp_path):
    answer_ = answer(client, kept, "touch", "before", "works", note="fine at the rim too")
    assert answer_.status_code == 303
    (line,) = store.get(kept).record.tried
    assert (line.check, line.before.outcome, line.before.note) == ("touch", "works", "fine at the rim too")
    assert store.history(kept)[0].summary == "Function check Touch, before the job: works"
    other = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    assert other.get(kept).record.tried == (line,)
    other.close()


def test_what_is_worse_than_before_stands_on_top_of_the_page_and_of_the_difference(client, kept):
    answer(client, kept, "touch", "before", "works")
    answer(client, kept, "picture", "before", "works")
    answer(client, kept, "touch", "after", "works")
    answer(client, kept, "picture", "after", "does not work")
    after = client.get(f"/r/{kept}/trials?show=after").text
    assert re.search(r"1 check worse than before:</strong>\s*<a[^>]*>Picture</a>", after)
    page = client.get(f"/r/{kept}/trials?show=difference").text
    heads = re.findall(r"<h2>(.*?) <span", page)
    assert heads[0] == "Worse than before"
    assert heads.index("As before") > 0
    assert "1 worse than before" in client.get(f"/r/{kept}/checks").text


def test_the_page_opens_with_what_is_to_be_done_next(client, store, kept):
    def shown():
        page = client.get(f"/r/{kept}/trials").text
        return re.search(r'show=(\w+)" aria-current="page"', page)[1]

    assert shown() == "before"
    answer(client, kept, "touch", "before", "works")
    assert shown() == "after"


def test_figures_are_kept_with_their_units_and_their_difference_is_told(client, store, kept):
    read = {"label": ["capacity when full"], "unit": ["mAh"]}
    answer(client, kept, "battery-health", "before", "worse", **read, value=["3 900"])
    answer(client, kept, "battery-health", "before", "worse", **read, value=["3900,5"])
    answer(client, kept, "battery-health", "after", "works", **read, value=["4810"])
    (line,) = store.get(kept).record.tried
    assert line.before.figures[0].value == 3900.5
    assert "(+909.5)" in client.get(f"/r/{kept}/trials?show=difference").text


def test_a_note_alone_keeps_the_answer_that_was_given(client, store, kept):
    answer(client, kept, "touch", "before", "worse")
    page = client.get(f"/r/{kept}/trials?show=before").text
    client.post(f"/r/{kept}/trials", data={**form(page, "touch"), "note": "dead strip", "keep": "yes"})
    (line,) = store.get(kept).record.tried
    assert (line.before.outcome, line.before.note) == ("worse", "dead strip")


def test_an_answer_that_is_none_is_refused_and_the_note_stays_in_the_field(client, store, kept):
    told = answer(client, kept, "touch", "before", "splendid", note="typed at length")
    assert told.status_code == 422
    assert "found &#39;splendid&#39;; right: one of works" in told.text
    assert "typed at length</textarea>" in told.text
    assert store.get(kept).record.tried == ()


def test_a_check_that_does_not_apply_is_told(client, store, kept):
    page = client.get(f"/r/{kept}/trials?show=before").text
    data = {**form(page, "touch"), "check": "hinge", "outcome": "works"}
    assert client.post(f"/r/{kept}/trials", data=data).status_code == 404
    assert client.post(f"/r/{kept}/trials", data={**data, "when": "during"}).status_code == 422


def test_the_same_tap_sent_twice_counts_once(client, store, kept):
    page = client.get(f"/r/{kept}/trials?show=before").text
    data = {**form(page, "touch"), "outcome": "works"}
    client.post(f"/r/{kept}/trials", data=data)
    head = store.head(kept)
    assert client.post(f"/r/{kept}/trials", data=data).status_code == 303
    assert store.head(kept) == head


def test_two_screens_that_answer_different_checks_from_the_same_page_both_hold(client, store, kept):
    page = client.get(f"/r/{kept}/trials?show=before").text
    for check in ("touch", "picture"):
        client.post(f"/r/{kept}/trials", data={**form(page, check), "outcome": "works"})
    assert {one.check for one in store.get(kept).record.tried} == {"touch", "picture"}
    assert store.beside(kept) == ()


def test_the_tapped_line_alone_is_what_the_script_gets(client, kept):
    address = f"/r/{kept}/trials?show=before&one=touch"
    line = client.get(address, headers={"Swap": "trial-touch"})
    assert line.headers["fragment"] == "line"
    assert line.text.count("<li ") == 1
    assert "<html" in client.get(address).text


def test_the_next_job_begins_without_answers_and_undo_brings_them_back(client, store, kept):
    answer(client, kept, "touch", "before", "works")
    held = store.get(kept)
    page = client.get(f"/r/{kept}/trials?show=before").text
    fields = dict(re.findall(r'name="(base|key)" value="([^"]*)"', page.split("/trials/anew")[1]))
    assert client.post(f"/r/{kept}/trials/anew", data=fields).status_code == 303
    assert store.get(kept).record.tried == ()
    store.undo(kept, at=AT)
    assert store.get(kept).record == held.record


def test_one_check_answered_differently_on_two_screens_leads_to_the_choice_between_them(client, store, kept):
    page = client.get(f"/r/{kept}/trials?show=after").text
    there = [
        client.post(f"/r/{kept}/trials", data={**form(page, "touch"), "outcome": outcome, "key": outcome})
        for outcome in ("works", "does not work")
    ]
    assert there[0].headers["location"].endswith("#trial-touch")
    assert there[1].headers["location"] == f"/r/{kept}/versions"
    assert len(store.beside(kept)) == 1
