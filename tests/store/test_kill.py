"""What was acknowledged is there, however a program that wrote it came to its end."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading

import pytest

from house.tree import ROOT
from midframe.store import Store
from store.bench import AT, logged, tern

CHILD = """
import sys
from pathlib import Path
from midframe.store import Store
from store.bench import AT, logged, photo
folder, record_id, first = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
for number in range(first, first + 200):
    kept = store.get(record_id)
    row = store.keep_photo(record_id, photo(f"photo {number}"), at=AT, key=f"p{number}")
    record = logged(kept.record, 10.0 + number, f"move {number}", row.hash)
    store.save(record_id, record, base=kept.revision, at=AT, kind="move", key=f"k{number}")
    print(number, row.hash, flush=True)
"""


def acknowledged(folder, record_id, first, seconds):
    """Run the child, end it with SIGKILL after a while; what it had acknowledged until then."""
    child = subprocess.Popen(
        [sys.executable, "-c", CHILD, str(folder), record_id, str(first)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": f"{ROOT / 'src'}{os.pathsep}{ROOT / 'tests'}"},
    )
    lines = [child.stdout.readline()]  # at least one move, then at random
    timer = threading.Timer(seconds, child.send_signal, [signal.SIGKILL])
    timer.start()
    lines += child.stdout.readlines()
    child.wait()
    timer.cancel()
    child.stdout.close()
    return [line.split() for line in lines if line.endswith("\n")]


def looked_at(folder, record_id, acknowledged_so_far):
    """The database is whole, every acknowledged move is in the log and its photo on the disk."""
    with sqlite3.connect(folder / "midframe.db") as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    log = {entry.note: entry for entry in store.get(record_id).record.log}
    for number, photo_hash in acknowledged_so_far:
        assert log[f"move {number}"].photo == photo_hash
        assert store.photo(photo_hash, "full").read_bytes() == f"photo {number}".encode()
    for entry in log.values():
        assert not entry.photo or store.photo(entry.photo, "small").is_file()
    store.close()


@pytest.mark.slow
def test_every_acknowledged_move_and_photo_outlives_twenty_kills(tmp_path):
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    record_id = store.new(tern(), at=AT).id
    store.close()
    chance = random.Random(20)
    seen = []
    for turn in range(20):
        told = acknowledged(tmp_path, record_id, 1000 * turn, chance.uniform(0.0, 0.4))
        assert told
        seen += told
        looked_at(tmp_path, record_id, seen)


def writer(url, folder, record_id, name, failures):
    store = Store.open(url, folder)
    try:
        for number in range(100):
            kept = store.get(record_id)
            record = logged(kept.record, float(number), f"{name} {number}")
            key = f"{record_id} {name} {number}"
            store.save(record_id, record, base=kept.revision, at=AT, kind="move", key=key)
    except Exception as error:  # told to the test, whatever it is
        failures.append(error)
    finally:
        store.close()


@pytest.mark.slow
def test_of_a_thousand_interleaved_edits_of_two_writers_none_is_lost(url, tmp_path):
    store = Store.open(url, tmp_path)
    ids = [store.new(tern(), at=AT).id for _ in range(5)]
    failures = []
    for record_id in ids:  # 200 on each record, so that the log stays as long as a real one
        threads = [
            threading.Thread(target=writer, args=(url, tmp_path, record_id, name, failures))
            for name in ("Ann", "Bo")
        ]
        for one in threads:
            one.start()
        for one in threads:
            one.join()
    assert failures == []
    for record_id in ids:
        notes = [entry.note for entry in store.get(record_id).record.log if entry.note]
        assert sorted(notes) == sorted(f"{name} {number}" for name in ("Ann", "Bo") for number in range(100))
        assert store.beside(record_id) == ()
        assert any(one.merged for one in store.history(record_id, limit=300)), "they did meet"
    store.close()
