"""History: every change is there, can be read, undone, done again, restored; two versions are both kept."""

from __future__ import annotations

import re

import pytest
from msgspec.structs import replace

from midframe.demo import load
from web.conftest import AT


def with_mass(record, part, mass_g):
    parts = tuple(replace(one, mass_g=mass_g) if one.id == part else one for one in record.parts)
    return replace(record, parts=parts)


@pytest.fixture
def edited(store):
    """A record with two edits after its begin; gives its id."""
    kept = store.new(load("tern-2"), at=AT)
    first = store.save(kept.id, with_mass(kept.record, "battery", 50.0), base=1, summary="Weighed", at=AT)
    store.save(kept.id, with_mass(first.record, "display", 40.0), base=first.revision, author="Kim", at=AT)
    return kept.id


def mass(store, record_id, part):
    return next(one.mass_g for one in store.get(record_id).record.parts if one.id == part)


def test_revisions_stand_newest_first_with_their_words(client, edited):
    page = client.get(f"/r/{edited}/history").text
    assert re.findall(r'class="number">(\d+)<', page) == ["3", "2", "1"]
    assert "Weighed" in page
    assert "Kim" in page


def test_a_revision_tells_what_it_changed(client, edited):
    page = client.get(f"/r/{edited}/history", params={"revision": 2}).text
    changes = re.search(r'class="changes">(.*?)</ul>', page, re.DOTALL)[1]
    assert "50" in changes
    assert changes.count("<li>") == 1


def test_undo_takes_one_change_back_and_redo_brings_it_again(client, store, edited):
    before = mass(store, edited, "display")
    assert before == 40.0
    assert client.post(f"/r/{edited}/undo").headers["location"] == f"/r/{edited}/history"
    assert mass(store, edited, "display") == next(p.mass_g for p in load("tern-2").parts if p.id == "display")
    client.post(f"/r/{edited}/redo")
    assert mass(store, edited, "display") == 40.0


def test_undo_with_nothing_left_says_so_and_stays(client, store):
    name = store.new(load("tern-2"), at=AT).id
    answer = client.post(f"/r/{name}/undo")
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert store.get(name).record == load("tern-2")


def test_restore_is_a_revision_of_its_own(client, store, edited):
    client.post(f"/r/{edited}/restore/1")
    assert store.get(edited).record == load("tern-2")
    assert store.get(edited).revision == 4


def test_two_changes_of_one_field_are_both_shown_and_one_is_chosen(client, store):
    name = store.new(load("tern-2"), at=AT).id
    record = store.get(name).record
    store.save(name, with_mass(record, "battery", 51.0), base=1, at=AT)
    second = store.save(name, with_mass(record, "battery", 52.0), base=1, at=AT)
    assert second.beside
    page = client.get(f"/r/{name}/versions").text
    assert "51" in page
    assert "52" in page
    address = re.search(rf'action="(/r/{name}/versions/\d+)"', page)[1]
    assert client.post(address, data={}).status_code == 422
    client.post(address, data={"take": "mine"})
    assert mass(store, name, "battery") == 52.0
    assert "Nothing waits for a choice" in client.get(f"/r/{name}/versions").text


def test_an_address_with_a_foolish_number_is_no_crash(client, edited):
    for query in ("revision=x", "revision=99999999999", "before=-1", "revision=77"):
        assert client.get(f"/r/{edited}/history?{query}").status_code in (200, 404)
