"""From spoken notes: captions in, each item looked at and kept at once, a record out."""

from __future__ import annotations

import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from midframe.narration import Begun, draft_of, read_captions
from midframe.record import check, faults
from midframe.store import Store
from midframe.stripdown import condition_questions
from midframe.web import drafts
from web.conftest import AT, serving

TALK = (
    "[0:02] The back cover is off.\n"
    "[0:09] Nine number three star screws on the mid cover. No, eight.\n"
    "[0:31] Mid cover out.\n"
    "[0:40] My tea is cold.\n"
)


@pytest.fixture
def draft(client):
    """The address of a draft of three items."""
    answer = client.post("/draft", data={"name": "Stint", "captions": TALK, "clock": "yes", "key": "k1"})
    assert answer.status_code == 303
    return answer.headers["location"]


def test_captions_become_a_page_of_items_with_words_times_and_where_they_come_from(client, draft):
    page = client.get(draft).text
    assert "3 items, 3 not looked at" in page
    assert "Unscrew mid cover (8 × hexalobular 3)" in page
    assert "“Nine number three star screws on the mid cover. No, eight.”" in page
    assert "Something was filled in" in page
    assert "My tea is cold." in page
    assert draft in client.get("/draft").text


def test_the_same_form_twice_makes_one_draft(client, draft, store):
    again = client.post("/draft", data={"name": "Stint", "captions": TALK, "clock": "yes", "key": "k1"})
    assert again.headers["location"] == draft
    assert len(drafts.listed(store)) == 1


def test_a_file_of_captions_is_read_and_names_the_device(client):
    given = {"file": ("dunlin_4.txt", TALK.encode())}
    answer = client.post("/draft", data={"key": "k"}, files=given)
    assert "<h1>Dunlin 4" in client.get(answer.headers["location"]).text


def test_what_cannot_be_read_comes_back_with_what_is_wrong(client, store):
    answer = client.post("/draft", data={"name": "Stint", "captions": "<b>no</b> times", "key": "k"})
    assert answer.status_code == 422
    assert "no time in front of any of 1 lines" in answer.text
    assert "&lt;b&gt;no&lt;/b&gt; times</textarea>" in answer.text
    assert 'value="Stint"' in answer.text
    assert drafts.listed(store) == ()


def test_each_choice_is_kept_at_once_and_outlives_the_server(client, draft, store, tmp_path):
    client.post(f"{draft}/items", data={"do": "confirm", "number": "1", "key": "a"})
    client.post(f"{draft}/items", data={"do": "throw out", "number": "3", "key": "b"})
    client.post(f"{draft}/items", data={"do": "correct", "number": "2", "count": "7", "key": "c"})
    other = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    now = drafts.review_of(other, draft.removeprefix("/draft/"))
    other.close()
    assert [(entry.state, entry.changed) for entry in now.entries] == [
        ("confirmed", False),
        ("confirmed", True),
        ("out", False),
    ]
    assert now.entries[1].item.count == 7


def test_a_choice_sent_twice_counts_once(client, draft, store):
    for _ in range(2):
        client.post(f"{draft}/items", data={"do": "keep as a note", "number": "1", "key": "a"})
    assert len(drafts.review_of(store, draft.removeprefix("/draft/")).entries) == 4


def test_a_wrong_correction_is_told_and_what_was_typed_is_kept(client, draft):
    answer = client.post(
        f"{draft}/items", data={"do": "correct", "number": "2", "count": "lots", "part": "Plate", "key": "a"}
    )
    assert answer.status_code == 422
    assert "count: found &#39;lots&#39;" in answer.text
    assert 'value="lots"' in answer.text
    assert 'value="Plate"' in answer.text


def test_a_script_gets_the_items_alone(client, draft):
    answer = client.post(
        f"{draft}/items", data={"do": "confirm", "number": "1", "key": "a"}, headers={"Swap": "items"}
    )
    assert answer.headers["fragment"] == "items"
    assert "3 items, 2 not looked at" in answer.text


def test_the_record_is_made_once_with_its_questions_waiting(client, draft, store):
    client.post(f"{draft}/items", data={"do": "throw out", "number": "3", "key": "b"})
    answer = client.post(f"{draft}/record")
    assert answer.status_code == 303
    name = answer.headers["location"].removeprefix("/r/")
    record = store.get(name).record
    assert record.device.name == "Stint"
    assert [entry.lift for entry in record.log if entry.lift] == [("back-cover",)]
    assert faults(check(record)) == ()
    assert [one.subject for one in condition_questions(record)] == ["mid-cover-screws"]
    assert client.get(f"/r/{name}/questions").status_code in (200, 202)
    assert client.post(f"{draft}/record").headers["location"] == f"/r/{name}"
    assert f'href="/r/{name}"' in client.get(draft).text
    assert store.shelf().total == 1


def test_a_draft_that_is_not_there_answers_404_in_words(client):
    answer = client.get("/draft/zzz")
    assert answer.status_code == 404
    assert "zzz" in answer.text


def test_a_long_talk_is_kept_whole(store, monkeypatch):
    monkeypatch.setattr(drafts, "PIECE", 500)
    begun = Begun(name="Stint", draft=draft_of(read_captions(TALK)))
    name = drafts.begin(store, begun, at=AT, author="", key="k")
    now = drafts.review_of(store, name)
    assert now.begun == begun
    assert len(store.notes(drafts.thread_of(name))) > 1


@pytest.mark.browser
@pytest.mark.slow
def test_a_draft_is_looked_through_on_a_phone_without_barriers(tmp_path, opened):
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    begun = Begun(name="Stint", draft=draft_of(read_captions(TALK)))
    name = drafts.begin(store, begun, at=AT, author="", key="k")
    store.close()
    with serving(tmp_path) as (address, _):
        page = opened(f"{address}/draft/{name}", width=390)
        assert Axe().run(page).response["violations"] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        page.locator("#do-1").click()
        page.locator("#items").get_by_text("3 items, 2 not looked at").wait_for()
        page.locator("#correct-2 summary").click()
        page.locator("#f-2-count").fill("7")
        assert Axe().run(page).response["violations"] == []
        page.locator("#correct-2 button").click()
        page.locator("#items").get_by_text("Unscrew mid cover (7 × hexalobular 3)").wait_for()
        page.get_by_role("button", name="Make the record").click()
        page.wait_for_url(re.compile(r"/r/[a-z0-9]+$"))
        page.goto("about:blank")  # before the server ends
