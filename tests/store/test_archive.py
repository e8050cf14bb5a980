from __future__ import annotations

import io
import json
import stat
import zipfile

import pytest
from PIL import Image

from midframe.faults import BadArchive, BadPhoto, RecordFault, TooLarge
from midframe.photos import clean
from midframe.record import write
from midframe.store import archive
from store.bench import AT, showing, tern


def picture(colour="teal", size=(2000, 1500)):
    target = io.BytesIO()
    Image.new("RGB", size, colour).save(target, format="PNG")
    return clean(target.getvalue())


@pytest.fixture
def kept(sqlite_store):
    kept = sqlite_store.new(tern(), at=AT)
    row = sqlite_store.keep_photo(kept.id, picture(), at=AT)
    sqlite_store.save(kept.id, showing(tern(), row.hash), base=1, at=AT)
    return kept


@pytest.fixture
def other(tmp_path):
    from midframe.store import Store

    opened = Store.open(f"sqlite:///{tmp_path / 'other.db'}", tmp_path / "other")
    yield opened
    opened.close()


def test_an_archive_with_originals_is_the_same_record_elsewhere(sqlite_store, kept, other):
    data = sqlite_store.export(kept.id, originals=True)
    arrived = other.bring_in(data, file="tern.zip", at=AT)
    assert arrived.record == sqlite_store.get(kept.id).record
    assert other.photo(picture().hash, "full").read_bytes() == picture().full
    assert other.history(arrived.id)[0].kind == "import"


def test_without_originals_the_photo_goes_out_at_medium_size(sqlite_store, kept, other):
    data = sqlite_store.export(kept.id)
    with zipfile.ZipFile(io.BytesIO(data)) as opened:
        assert opened.read(f"photos/{picture().hash}.jpg") == picture().medium
    arrived = other.bring_in(data, at=AT)
    (shown,) = arrived.record.photos
    assert shown.hash != picture().hash
    assert other.photo(shown.hash, "full").is_file()


def test_the_same_record_gives_the_same_archive(sqlite_store, kept):
    assert sqlite_store.export(kept.id) == sqlite_store.export(kept.id)


def test_an_archive_of_what_is_here_already_names_the_photo_that_is_here(sqlite_store, kept):
    arrived = sqlite_store.bring_in(sqlite_store.export(kept.id), at=AT)
    assert arrived.record.photos[0].hash == picture().hash
    assert arrived.id != kept.id


def test_a_record_file_is_brought_in_as_well(other):
    assert other.bring_in(write(tern()).encode(), file="tern.device.toml", at=AT).record == tern()


def test_every_fault_of_a_record_file_is_told(other):
    with pytest.raises(RecordFault) as told:
        other.bring_in(b'format = 1\nparts = 3\n[device]\nname = "x"\n', file="x.toml", at=AT)
    assert len(told.value.findings) >= 3
    assert other.shelf().total == 0


def made(files, *, manifest=None, change=None):
    """An archive with any files, and a manifest that fits them unless another is given."""
    import hashlib

    sheet = {
        "format": 1,
        "name": "Tern",
        "originals": True,
        "files": {
            name: {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data)} for name, data in files
        },
    }
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, data in (("manifest.json", json.dumps(manifest or sheet).encode()), *files):
            info = zipfile.ZipInfo(name)
            info.compress_type = zipfile.ZIP_DEFLATED
            if change:
                change(info)
            opened.writestr(info, data)
    return target.getvalue()


TOML = ("record.device.toml", write(tern()).encode())
HASH = "a" * 64


def as_link(info):
    if info.filename.startswith("photos/"):
        info.external_attr = (stat.S_IFLNK | 0o777) << 16


HOSTILE = {
    "a path that leads out": (lambda: made([TOML, ("../evil", b"x")]), "leads out"),
    "a path that leads out by backslash": (lambda: made([TOML, ("photos\\..\\..\\evil", b"x")]), "found"),
    "an absolute path": (lambda: made([TOML, ("/etc/cron.d/x", b"x")]), "absolute path"),
    "a drive": (lambda: made([TOML, ("C:evil", b"x")]), "absolute path"),
    "a link": (lambda: made([TOML, (f"photos/{HASH}.jpg", b"/etc/passwd")], change=as_link), "the link"),
    "a file of another kind": (lambda: made([TOML, ("run.sh", b"x")]), 'the file "run.sh"'),
    "no record": (lambda: made([(f"photos/{HASH}.jpg", b"x")]), "record.device.toml"),
    "a file the manifest does not name": (
        lambda: made(
            [TOML, (f"photos/{HASH}.jpg", b"x")],
            manifest={"format": 1, "name": "", "originals": True, "files": {}},
        ),
        "does not name",
    ),
    "text of no manifest": (lambda: made([TOML], manifest=[1]), "manifest.json"),
    "a format of the future": (
        lambda: made([TOML], manifest={"format": 2, "name": "", "originals": True, "files": {}}),
        "format 2",
    ),
    "an archive cut short": (lambda: made([TOML])[:-40], "damaged"),
    "nothing but its first bytes": (lambda: b"PK\x03\x04", "damaged"),
}


@pytest.mark.parametrize(("make", "said"), HOSTILE.values(), ids=list(HOSTILE))
def test_a_hostile_or_damaged_archive_is_refused_in_words(other, make, said):
    with pytest.raises(BadArchive, match=said):
        other.bring_in(make(), file="x.zip", at=AT)
    assert other.shelf().total == 0


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_a_name_that_comes_twice_is_refused(other):
    with pytest.raises(BadArchive, match="twice"):
        other.bring_in(made([TOML, TOML]), at=AT)


def test_bytes_that_are_not_those_of_the_manifest_are_refused(other):
    wrong = {
        "format": 1,
        "name": "",
        "originals": True,
        "files": {TOML[0]: {"sha256": "0" * 64, "bytes": len(TOML[1])}},
    }
    with pytest.raises(BadArchive, match="other bytes than were exported"):
        other.bring_in(made([TOML], manifest=wrong), at=AT)


def test_a_file_packed_far_too_small_is_not_unpacked(other):
    with pytest.raises(BadArchive, match="times smaller"):
        other.bring_in(made([(TOML[0], b"\0" * 30_000_000)]), at=AT)


def test_more_files_or_bytes_than_are_taken_are_refused(other, monkeypatch):
    many = [(f"photos/{number:064x}.jpg", b"x") for number in range(5)]
    monkeypatch.setattr(archive, "MOST_MEMBERS", 4)
    with pytest.raises(TooLarge, match="7 files"):
        other.bring_in(made([TOML, *many]), at=AT)
    monkeypatch.setattr(archive, "MOST_MEMBER_BYTES", 100)
    with pytest.raises(TooLarge, match="right: at most 100"):
        other.bring_in(made([TOML]), at=AT)


def test_a_photo_that_is_none_is_refused_by_name(other):
    with pytest.raises(BadPhoto, match=f"photos/{HASH}.jpg"):
        other.bring_in(made([TOML, (f"photos/{HASH}.jpg", b"no picture")]), file="x.zip", at=AT)
    assert other.shelf().total == 0


def test_a_photo_under_another_hash_than_its_own_is_refused(other):
    with pytest.raises(BadArchive, match="other bytes than its name says"):
        other.bring_in(made([TOML, (f"photos/{HASH}.jpg", picture().full)]), at=AT)
