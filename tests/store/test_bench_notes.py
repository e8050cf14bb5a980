"""Notes of the bench: threads that only grow, on both databases, also through an older store and a backup."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from alembic import command
from alembic.config import Config

from midframe import store as package
from midframe.faults import BadSetting
from midframe.store import Store
from midframe.store.engine import NEWEST, engine_for, step_of, writing

AT = "2026-11-25T09:40:00Z"


def test_a_thread_is_read_in_the_order_it_was_written(store):
    for number in range(3):
        store.add_note("heat/a", "reading", f"[{number}]", at=AT, author="Ann")
    store.add_note("heat/b", "reading", "[9]", at=AT)
    assert [note.content for note in store.notes("heat/a")] == ["[0]", "[1]", "[2]"]
    assert store.notes("heat/a")[0].author == "Ann"
    assert store.notes("nowhere") == ()


def test_the_same_key_counts_once(store):
    first = store.add_note("heat/a", "reading", "[1]", at=AT, key="k")
    again = store.add_note("heat/a", "reading", "[1]", at=AT, key="k")
    assert again == first
    assert len(store.notes("heat/a")) == 1
    with pytest.raises(BadSetting, match="another thread"):
        store.add_note("heat/b", "reading", "[1]", at=AT, key="k")


def test_two_screens_at_once_both_stand(store):
    with ThreadPoolExecutor(4) as pool:
        list(pool.map(lambda n: store.add_note("heat/a", "reading", str(n), at=AT), range(12)))
    assert sorted(int(note.content) for note in store.notes("heat/a")) == list(range(12))


def test_a_note_that_is_too_long_is_refused(store):
    with pytest.raises(BadSetting, match="200001 signs"):
        store.add_note("heat/a", "reading", "x" * 200_001, at=AT)


def test_a_store_of_the_first_step_is_brought_up_to_date(url, tmp_path):
    engine = engine_for(url)
    config = Config()
    config.set_main_option("script_location", f"{package.__path__[0]}/migrations")
    with writing(engine) as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "first")
    assert step_of(engine) == "first"
    engine.dispose()
    opened = Store.open(url, tmp_path / "data")
    assert step_of(opened.engine) == NEWEST
    assert opened.add_note("heat/a", "reading", "[1]", at=AT).id == 1
    opened.close()


def test_notes_go_through_a_backup_and_can_be_added_to_after(store, tmp_path):
    store.add_note("heat/a", "reading", "[1]", at=AT)
    store.backup(tmp_path / "copy", at=AT)
    store.add_note("heat/a", "reading", "[2]", at=AT)
    with pytest.raises(BadSetting, match="replaced"):
        store.restore_backup(tmp_path / "copy", at=AT)
    store.restore_backup(tmp_path / "copy", at=AT, replace=True)
    assert [note.content for note in store.notes("heat/a")] == ["[1]"]
    assert store.add_note("heat/a", "reading", "[3]", at=AT).id > 1


def test_a_note_is_a_change_that_open_pages_are_told_of(store):
    before = store.heads()
    assert store.last_note("job:a") == 0
    note = store.add_note("job:a", "told", "{}", at=AT)
    store.add_note("job:b", "told", "{}", at=AT)
    assert store.last_note("job:a") == note.id
    assert store.heads() > before


def test_a_job_is_told_and_folded_the_same_on_both_databases(store):
    from midframe.publish.job import InHole, PutAway, Ticked
    from midframe.web.jobs import job_at, tell
    from store.bench import tern

    name = store.new(tern(), at=AT).id
    tell(store, name, [Ticked("close a"), InHole("a", 1, "A")], at=AT, author="Ann", key="one")
    tell(store, name, [Ticked("close a"), InHole("a", 1, "A")], at=AT, author="Ann", key="one")
    tell(store, name, [PutAway((("device", "shelf ⅔"),))], at=AT, author="Bo")
    job = job_at(store, name)
    assert (job.ticks["close a"].author, dict(job.holes), dict(job.places)) == (
        "Ann",
        {("a", 1): "A"},
        {"device": "shelf ⅔"},
    )
    assert len(store.notes(f"job:{name}")) == 2
