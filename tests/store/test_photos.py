from __future__ import annotations

import msgspec
import pytest

from midframe.faults import UnknownRecord
from midframe.store import Store
from midframe.store.photo_files import leftovers
from store.bench import AT, logged, photo, showing, tern, with_part


@pytest.fixture
def kept(store):
    return store.new(tern(), at=AT)


def files(store):
    return sorted(path.name for path in (store.folder / "photos").rglob("*") if path.is_file())


def test_a_photo_is_kept_in_three_sizes_under_its_hash(store, kept):
    one = photo("inside")
    row = store.keep_photo(kept.id, one, at=AT)
    assert (row.hash, row.width, row.height, row.bytes) == (one.hash, 4000, 3000, 6)
    sizes = [store.photo(one.hash, size).read_bytes() for size in ("full", "medium", "small")]
    assert sizes == [one.full, one.medium, one.small]
    path = store.photo(one.hash, "full")
    assert path == store.folder / "photos" / one.hash[:2] / f"{one.hash}.jpg"
    assert leftovers(store.folder) == ()


def test_the_same_bytes_are_kept_once(store, kept):
    first = store.keep_photo(kept.id, photo("inside"), at=AT)
    other = store.new(tern(), at=AT)
    assert store.keep_photo(other.id, photo("inside"), at=AT) == first
    assert len(files(store)) == 3
    assert store.photos(kept.id) == store.photos(other.id) == (first,)


def test_a_photo_sent_twice_under_one_key_counts_once(store, kept):
    store.keep_photo(kept.id, photo("inside"), at=AT, key="k")
    assert store.keep_photo(kept.id, photo("inside"), at=AT, key="k").hash == photo("inside").hash
    assert len(store.photos(kept.id)) == 1


def test_a_photo_for_no_record_is_refused_before_anything_is_written(store):
    with pytest.raises(UnknownRecord):
        store.keep_photo("nosuchone", photo("inside"), at=AT)
    assert files(store) == []


@pytest.mark.parametrize("asked", ["0" * 64, "../../etc/passwd", "A" * 64, ""])
def test_an_unknown_photo_is_told_and_no_path_is_made_of_it(store, kept, asked):
    with pytest.raises(UnknownRecord, match="found no photo"):
        store.photo(asked)


def test_a_photo_whose_file_is_gone_says_what_to_do(store, kept):
    store.keep_photo(kept.id, photo("inside"), at=AT)
    store.photo(photo("inside").hash, "small").unlink()
    with pytest.raises(UnknownRecord, match="bring it back from a backup"):
        store.photo(photo("inside").hash, "small")


@pytest.fixture
def shown(store, kept):
    """A record that shows a photo in the list, at a part and in the log, and one set aside that names it."""
    old = store.keep_photo(kept.id, photo("serial number"), at=AT)
    record = logged(with_part(showing(tern(), old.hash), "battery", photos=(old.hash,)), 9, "", old.hash)
    saved = store.save(kept.id, record, base=1, at=AT)
    shown = saved.record
    caption = msgspec.structs.replace(shown.photos[0], caption="label")
    store.save(kept.id, msgspec.structs.replace(shown, photos=(caption,)), base=2, at=AT)
    other = msgspec.structs.replace(shown.photos[0], caption="sticker")
    store.save(kept.id, msgspec.structs.replace(shown, photos=(other,)), base=2, at=AT)
    return old.hash


def hashes(record):
    return {
        *(one.hash for one in record.photos),
        *(one.photo for one in record.log if one.photo),
        *(one for part in record.parts for one in part.photos),
    }


def test_a_black_out_leaves_no_copy_of_the_old_photo(store, kept, shown):
    new = photo("black")
    assert store.beside(kept.id)[0].path == ("photos", shown, "caption")
    saved = store.replace_photo(kept.id, shown, new, at=AT)
    assert all(name.startswith(new.hash) for name in files(store))
    assert hashes(saved.record) == {new.hash}
    for revision in range(2, saved.revision + 1):
        assert hashes(store.get(kept.id, revision).record) == {new.hash}
    assert store.beside(kept.id)[0].path == ("photos", new.hash, "caption")
    assert store.settle(store.beside(kept.id)[0].id, "mine", at=AT).record.photos[0].caption == "sticker"
    assert store.photo(shown, "full").read_bytes() == new.full, "the old hash answers with the new photo"
    assert shown.encode() not in store.export(kept.id)
    assert [row.photo for row in store.shelf().rows] == [new.hash]


def test_a_black_out_holds_for_every_record_that_shows_the_photo(store, kept, shown):
    other = store.new(showing(tern(), shown), at=AT)
    store.replace_photo(kept.id, shown, photo("black"), at=AT)
    assert hashes(store.get(other.id).record) == {photo("black").hash}


def test_an_edit_made_before_a_black_out_and_sent_after_it_shows_the_new_photo(store, kept, shown):
    before = store.get(kept.id)
    store.replace_photo(kept.id, shown, photo("black"), at=AT)
    saved = store.save(kept.id, with_part(before.record, "shield", note="bent"), base=before.revision, at=AT)
    assert hashes(saved.record) == {photo("black").hash}


def test_a_blacked_out_photo_sent_again_stays_away(store, kept, shown):
    store.replace_photo(kept.id, shown, photo("black"), at=AT)
    assert store.keep_photo(kept.id, photo("serial number"), at=AT).hash == photo("black").hash
    assert all(name.startswith(photo("black").hash) for name in files(store))


def test_a_photo_blacked_out_twice_answers_with_the_last(store, kept, shown):
    store.replace_photo(kept.id, shown, photo("black"), at=AT)
    store.replace_photo(kept.id, photo("black").hash, photo("blacker"), at=AT)
    assert store.photo(shown, "full").read_bytes() == b"blacker"
    assert hashes(store.get(kept.id, 2).record) == {photo("blacker").hash}


def test_a_black_out_is_a_revision_that_undo_passes_over(store, kept, shown):
    saved = store.replace_photo(kept.id, shown, photo("black"), at=AT)
    assert store.history(kept.id)[0].kind == "black_out"
    undone = store.undo(kept.id, at=AT)
    assert store.history(kept.id)[0].of == saved.revision - 1
    assert hashes(undone.record) == {photo("black").hash}


def test_a_black_out_cut_short_is_finished_when_the_store_is_opened(url, tmp_path):
    store = Store.open(url, tmp_path)
    kept = store.new(tern(), at=AT)
    old = store.keep_photo(kept.id, photo("serial number"), at=AT).hash
    path = store.photo(old, "full")
    store.replace_photo(kept.id, old, photo("black"), at=AT)
    path.write_bytes(b"serial number")  # as if the program had ended before the file was deleted
    store.close()
    Store.open(url, tmp_path).close()
    assert not path.exists()
