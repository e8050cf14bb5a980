from __future__ import annotations

import sqlite3

import pytest

from midframe.faults import BadArchive, BadSetting, StoreTrouble
from midframe.store import Store
from store.bench import AT, logged, photo, showing, tern, with_part


@pytest.fixture
def filled(store):
    """A store with two records, edits, a photo, a version set aside, a black-out."""
    first = store.new(tern(), at=AT)
    kept = store.keep_photo(first.id, photo("inside"), at=AT, key="p")
    store.save(first.id, showing(tern(), kept.hash), base=1, at=AT, key="k")
    store.save(first.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT)
    store.save(first.id, with_part(tern(), "battery", mass_g=63.0), base=1, at=AT)
    gone = store.keep_photo(first.id, photo("serial"), at=AT)
    store.replace_photo(first.id, gone.hash, photo("black"), at=AT)
    store.new(logged(tern(), 9, "zephyr"), at=AT, state="waiting")
    return store


def everything(store):
    rows = store.shelf().rows
    return [
        (
            row,
            [store.get(row.id, one.number) for one in store.history(row.id)],
            store.history(row.id),
            store.beside(row.id),
            [store.photo(one.hash, "full").read_bytes() for one in store.photos(row.id)],
        )
        for row in rows
    ]


@pytest.mark.parametrize("onto", ["sqlite", "the same"])
def test_a_store_comes_back_from_its_backup_as_it_was(filled, tmp_path, request, url, onto):
    manifest = filled.backup(tmp_path / "copy", at=AT)
    assert (manifest.records, manifest.photos, len(manifest.files)) == (2, 2, 7)
    before = everything(filled)
    if onto == "sqlite":
        other = Store.open(f"sqlite:///{tmp_path / 'other.db'}", tmp_path / "other")
        other.restore_backup(tmp_path / "copy", at=AT)
    else:
        other = filled
        other.save(before[0][0].id, logged(tern(), 99, "later"), base=1, at=AT)
        _, aside = other.restore_backup(tmp_path / "copy", at=AT, replace=True)
        assert (aside / "manifest.json").exists()
    assert everything(other) == before
    assert other.shelf("zeph").total == 1
    assert other.new(tern(), at=AT).id
    again = other.save(before[1][0].id, tern(), base=1, at=AT, key="k")
    assert again.repeated, "keys are part of a backup"
    if other is not filled:
        other.close()


def test_a_backup_of_sqlite_goes_into_postgresql(sqlite_store, tmp_path, postgresql):
    import psycopg

    with psycopg.connect(f"host={postgresql} user=bench dbname=postgres", autocommit=True) as connection:
        connection.execute("CREATE DATABASE moved TEMPLATE template0")
    kept = sqlite_store.new(tern(), at=AT)
    sqlite_store.backup(tmp_path / "copy", at=AT)
    other = Store.open(f"postgresql://bench@/moved?host={postgresql}", tmp_path / "other")
    other.restore_backup(tmp_path / "copy", at=AT)
    assert other.get(kept.id) == sqlite_store.get(kept.id)
    other.close()


def test_a_backup_is_never_written_over_anything(filled, tmp_path):
    (tmp_path / "copy").mkdir()
    (tmp_path / "copy" / "note").write_text("mine")
    with pytest.raises(BadSetting, match="right: a new or an empty folder"):
        filled.backup(tmp_path / "copy", at=AT)
    assert (tmp_path / "copy" / "note").read_text() == "mine"


def test_a_store_that_holds_something_is_not_replaced_unless_told(filled, tmp_path):
    filled.backup(tmp_path / "copy", at=AT)
    with pytest.raises(BadSetting, match="found a store that holds records"):
        filled.restore_backup(tmp_path / "copy", at=AT)


@pytest.fixture
def copy(sqlite_store, tmp_path):
    kept = sqlite_store.new(tern(), at=AT)
    sqlite_store.keep_photo(kept.id, photo("inside"), at=AT)
    sqlite_store.backup(tmp_path / "copy", at=AT)
    return tmp_path / "copy"


def flip(path):
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


DAMAGES = {
    "one bit of the database": lambda copy: flip(copy / "midframe.db"),
    "one bit of a photo": lambda copy: flip(next(copy.glob("photos/*/*.m.jpg"))),
    "a photo gone": lambda copy: next(copy.glob("photos/*/*.s.jpg")).unlink(),
    "a file more": lambda copy: (copy / "photos" / "more.jpg").write_bytes(b"x"),
    "no manifest": lambda copy: (copy / "manifest.json").unlink(),
    "a manifest cut short": lambda copy: (copy / "manifest.json").write_text('{"format": 1'),
}


@pytest.mark.parametrize("damage", DAMAGES.values(), ids=list(DAMAGES))
def test_a_damaged_backup_is_refused_and_nothing_is_changed(sqlite_store, copy, tmp_path, damage):
    damage(copy)
    empty = Store.open(f"sqlite:///{tmp_path / 'other.db'}", tmp_path / "other")
    with pytest.raises(BadArchive, match="right: "):
        empty.restore_backup(copy, at=AT)
    assert empty.shelf().total == 0
    empty.close()


def test_a_damaged_photo_of_the_store_stops_the_backup(sqlite_store, tmp_path):
    kept = sqlite_store.new(tern(), at=AT)
    row = sqlite_store.keep_photo(kept.id, photo("inside"), at=AT)
    flip(sqlite_store.photo(row.hash, "full"))
    with pytest.raises(StoreTrouble, match="found other bytes than were kept"):
        sqlite_store.backup(tmp_path / "copy", at=AT)
    assert not (tmp_path / "copy").exists()


def test_the_database_of_a_backup_passes_its_own_check(copy):
    with sqlite3.connect(copy / "midframe.db") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
