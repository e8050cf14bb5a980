"""A full disk and a folder that cannot be written: told in words, nothing lost."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from house.tree import ROOT
from midframe.faults import BadSetting, StoreTrouble
from midframe.store import Store
from store.bench import AT, logged, tern

FULL = """
import json, resource, signal, sys
from pathlib import Path
from midframe.faults import StoreTrouble
from midframe.store import Store
from store.bench import AT, logged, photo
folder, record_id = Path(sys.argv[1]), sys.argv[2]
store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))
kept, told = 0, ""
for number in range(500):
    try:
        now = store.get(record_id)
        note = "".join(f"{number}-{place} " for place in range(400))
        store.save(record_id, logged(now.record, 10.0 + number, note), base=now.revision, at=AT)
        kept += 1
    except StoreTrouble as error:
        told = str(error)
        break
try:
    store.keep_photo(record_id, photo("x" * 400_000), at=AT)
    said = ""
except StoreTrouble as error:
    said = str(error)
print(json.dumps([kept, told, said]))
"""

READ_ONLY = """
import os, sys
from pathlib import Path
from midframe.faults import StoreTrouble
from midframe.store import Store
from store.bench import AT, logged, photo, tern
folder, record_id = Path(sys.argv[1]), sys.argv[2]
if os.getuid() == 0:
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
try:
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    store.save(record_id, logged(tern(), 9.0, "x"), base=1, at=AT)
except StoreTrouble as error:
    print(error)
"""


def child(program, *arguments):
    done = subprocess.run(
        [sys.executable, "-c", program, *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"},
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def record_id(tmp_path):
    """A record in a store that is closed again."""
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    kept = store.new(tern(), at=AT)
    store.close()
    return kept.id


def reopened(tmp_path):
    return Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)


def test_a_full_disk_is_told_and_every_acknowledged_edit_is_there(tmp_path, record_id):
    kept, told, said = json.loads(child(FULL, tmp_path, record_id))
    assert kept > 0
    assert "nothing was changed" in told
    assert "found a full disk" in said
    store = reopened(tmp_path)
    assert len(store.get(record_id).record.log) == 1 + kept
    assert store.photos(record_id) == ()
    assert not list((tmp_path / "photos").rglob("*.part"))
    store.save(record_id, logged(store.get(record_id).record, 999.0, "room again"), base=1 + kept, at=AT)
    store.close()


def test_a_folder_that_cannot_be_written_is_told_and_nothing_is_lost(tmp_path, record_id):
    for path in (tmp_path, *tmp_path.parents[:3]):
        path.chmod(0o555 if path == tmp_path else 0o755)
    for path in tmp_path.iterdir():
        path.chmod(0o444)
    try:
        told = child(READ_ONLY, tmp_path, record_id)
    finally:
        tmp_path.chmod(0o755)
        for path in tmp_path.iterdir():
            path.chmod(0o644)
    assert "cannot be written" in told or "right: a store that can be opened" in told
    store = reopened(tmp_path)
    assert store.get(record_id).record == tern()
    store.close()


@pytest.mark.parametrize("url", ["mysql://bench/x", "midframe.db", "", "sqlite"])
def test_an_address_of_no_store_is_refused(tmp_path, url):
    with pytest.raises(BadSetting, match="right: sqlite:///… or postgresql://…"):
        Store.open(url, tmp_path)


def test_a_file_that_is_no_database_is_told(tmp_path):
    (tmp_path / "midframe.db").write_text("a letter, not a database " * 100)
    with pytest.raises(StoreTrouble, match="not a database"):
        reopened(tmp_path)
    assert (tmp_path / "midframe.db").read_text().startswith("a letter")


def test_a_store_of_a_newer_version_is_left_alone(tmp_path, record_id):
    import sqlite3

    with sqlite3.connect(tmp_path / "midframe.db") as connection:
        connection.execute("UPDATE alembic_version SET version_num = 'ninth'")
    connection.close()
    with pytest.raises(StoreTrouble, match="found a store of a newer version"):
        reopened(tmp_path)


def test_a_server_that_is_not_there_is_told_without_the_password(tmp_path):
    pytest.importorskip("psycopg")
    with pytest.raises(StoreTrouble) as told:
        Store.open(f"postgresql://ann:secret@/x?host={tmp_path}", tmp_path)
    assert "secret" not in str(told.value)
