"""The server ended at any moment: what it acknowledged is there, the rest comes once when sent again."""

from __future__ import annotations

import contextlib
import http.client
import io
import random
import signal
import sqlite3
import threading
import time
import urllib.parse

import pytest
from PIL import Image

from midframe.record.draft import begin
from midframe.store import Store
from web.conftest import AT, free_port, serving

pytestmark = pytest.mark.slow

ROUNDS, MOVES = 20, 200


def photo(number):
    """A small picture that differs for each number."""
    held = io.BytesIO()
    Image.new("RGB", (64, 48), (number % 256, 90, 120)).save(held, "JPEG")
    return held.getvalue()


def parts_of(number):
    """A move as the outbox of a phone sends it; every tenth brings a photo."""
    fields = {"verb": "note", "note": f"note {number}"}
    boundary = "part-of-the-form"
    lines = []
    for name, value in fields.items():
        lines += [f"--{boundary}", f'Content-Disposition: form-data; name="{name}"', "", value]
    body = "\r\n".join(lines).encode()
    if number % 10 == 0:
        head = 'Content-Disposition: form-data; name="photo"; filename="p.jpg"\r\nContent-Type: image/jpeg'
        body += f"\r\n--{boundary}\r\n{head}\r\n\r\n".encode() + photo(number)
    return body + f"\r\n--{boundary}--\r\n".encode(), f"multipart/form-data; boundary={boundary}"


def send(address, record, number):
    """Whether the server acknowledged the move."""
    host = urllib.parse.urlsplit(address).netloc
    body, kind = parts_of(number)
    headers = {"Origin": address, "Swap": "outbox", "Idempotency-Key": f"move-{number}", "Content-Type": kind}
    with contextlib.closing(http.client.HTTPConnection(host, timeout=10)) as line:
        line.request("POST", f"/r/{record}/bench/moves", body, headers)
        answer = line.getresponse()
        answer.read()
        assert answer.status < 300, (answer.status, number)


def work_until_killed(address, process, record, waiting, chance):
    """Send what waits, in order, while the process lives; it is killed after a random time."""
    killer = threading.Timer(chance.uniform(0.02, 0.25), process.send_signal, [signal.SIGKILL])
    killer.start()
    while waiting:
        try:
            send(address, record, waiting[0])
        except (OSError, http.client.HTTPException):
            break
        waiting.pop(0)
        time.sleep(0.01)
    killer.cancel()


def test_no_acknowledged_move_or_photo_is_lost_and_none_counts_twice(tmp_path):
    folder, chance = tmp_path / "data", random.Random(7)
    folder.mkdir()
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    record = store.new(begin("Plover", "phone"), at=AT).id
    store.close()
    waiting, rounds = list(range(MOVES)), 0
    while waiting:
        acknowledged = MOVES - len(waiting)
        with serving(folder, port=free_port()) as (address, process):
            if rounds < ROUNDS:
                work_until_killed(address, process, record, waiting, chance)
                process.kill()
                process.wait()
                rounds += 1
            else:
                while waiting:
                    send(address, record, waiting.pop(0))
        with contextlib.closing(sqlite3.connect(folder / "midframe.db")) as database:
            assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert MOVES - len(waiting) >= acknowledged
    assert rounds == ROUNDS
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    log = store.get(record).record.log
    assert sorted(int(entry.note.split()[-1]) for entry in log) == list(range(MOVES))
    taken = [entry.photo for entry in log if entry.photo]
    assert len(taken) == MOVES // 10
    for name in taken:
        Image.open(store.photo(name, "full")).verify()
    store.close()
