"""The bench in the browser: shelf, device page and logged moves over HTTP on the loopback, median and p95.

    PYTHONPATH=src .venv/bin/python -P benchmarks/web.py --records 5000 --photos 300 --rounds 100

A server of its own process over a fresh SQLite store; one client, one
connection, one request at a time. A move counts until its acknowledgement has
arrived, with the log swapped in as the page's script asks for it, and as the
outbox of a phone asks for it.
"""

from __future__ import annotations

import argparse
import http.client
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.parse
from io import BytesIO
from pathlib import Path

from msgspec.structs import replace
from PIL import Image

from midframe import demo
from midframe.photos import clean
from midframe.record.model import Photo
from midframe.store import Store

AT = "2026-11-25T08:00:00.000+00:00"
WORDS = ("tern", "heron", "plover", "lapwing", "dunlin", "knot", "avocet", "stilt")


def picture(number):
    """A photo of 1600 × 1200 pixels that no other is like."""
    drawn = Image.effect_noise((1600, 1200), 20 + number % 60).convert("RGB")
    data = BytesIO()
    drawn.save(data, "JPEG", quality=80)
    return clean(data.getvalue())


def filled(folder, records, photos):
    """A store of so many records, one of them with so many photos; gives that one's id and an empty one's."""
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    devices = [demo.load(name) for name in demo.names()]
    for number in range(records):
        record = devices[number % len(devices)]
        name = f"{WORDS[number % len(WORDS)].capitalize()} {number}"
        saved = store.new(replace(record, device=replace(record.device, name=name)), at=AT)
        store.summarise(saved.id, 1, index_class="C", index_value=3.0, drawing="")
    hashes = [store.keep_photo(saved.id, picture(number), at=AT).hash for number in range(photos)]
    shown = replace(saved.record, photos=tuple(Photo(hash=one) for one in hashes))
    store.save(saved.id, shown, base=1, at=AT)
    body = next(part for part in devices[0].parts if part.id == devices[0].device.body)
    bare = replace(
        devices[0], parts=(body,), joints=(), layers=(), seals=(), checks=(), orders=(), tools=(), log=()
    )
    fresh = store.new(replace(bare, device=replace(bare.device, name="Sanderling")), at=AT)
    store.close()
    return saved.id, fresh.id


class Bench:
    """The server and one connection to it."""

    def __init__(self, folder):
        command = [sys.executable, "-P", "-m", "midframe", "serve", "--data", str(folder), "--port", "0"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        self.address = self.process.stdout.readline().split()[-1]
        self.line = http.client.HTTPConnection(self.address.removeprefix("http://"), timeout=30)

    def ask(self, path, fields=None, **headers):
        """Milliseconds until the whole answer has come, and its size."""
        body = urllib.parse.urlencode(fields) if fields else None
        kind = {"Content-Type": "application/x-www-form-urlencoded", "Origin": self.address} if fields else {}
        start = time.perf_counter()
        self.line.request("POST" if fields else "GET", path, body, {**kind, **headers})
        answer = self.line.getresponse()
        data = answer.read()
        took = (time.perf_counter() - start) * 1000
        if answer.status not in (200, 202, 204):
            raise SystemExit(f"{path}: {answer.status} {data[:300]!r}")
        return took, len(data)

    def memory(self):
        """Resident memory of the server's own process and at its highest, in MB."""
        text = Path(f"/proc/{self.process.pid}/status").read_text()
        lines = dict(line.split(":", 1) for line in text.splitlines() if ":" in line)
        return [int(lines[name].split()[0]) / 1024 for name in ("VmRSS", "VmHWM")]

    def stop(self):
        """End the server and wait for it."""
        self.line.close()
        self.process.terminate()
        self.process.wait(10)


def moves(rounds):
    """Moves of a strip-down that goes on: a part held by screws and a plug, opened and lifted, and so on."""
    for number in range(rounds):
        part = f"Shield {number // 3}"
        yield (
            {
                "verb": "unscrew",
                "what-screw": part,
                "what": part,
                "count": "3",
                "count-screw": "3",
                "seconds": "9",
            },
            {"verb": "unplug", "what-plug": part, "what": part, "seconds": "3"},
            {"verb": "lift", "what-lift": part, "what": part, "seconds": "4"},
        )[number % 3]


def row(label, times, size):
    """One line of the table."""
    ordered = sorted(times)
    p95 = ordered[max(0, round(len(ordered) * 0.95) - 1)]
    middle, most = statistics.median(times), max(times)
    print(f"{label:<42}{len(times):6}{middle:9.1f}{p95:9.1f}{most:9.1f}{size / 1024:9.1f}", flush=True)


def measured(bench, label, asks):
    """Ask all and print their line."""
    times, size = [], 0
    for path, fields, headers in asks:
        took, size = bench.ask(path, fields, **headers)
        times.append(took)
    row(label, times, size)


def main():
    """Fill, serve, measure."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--records", type=int, default=5000)
    parser.add_argument("--photos", type=int, default=300)
    parser.add_argument("--rounds", type=int, default=100)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="midframe-bench-") as name:
        folder = Path(name)
        start = time.perf_counter()
        pictured, fresh = filled(folder, given.records, given.photos)
        size = (folder / "midframe.db").stat().st_size / 1e6
        print(f"Python {platform.python_version()}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
        print(
            f"{given.records} records, one with {given.photos} photos: filled in "
            f"{time.perf_counter() - start:.0f} s, database {size:.0f} MB"
        )
        bench = Bench(folder)
        try:
            table(bench, pictured, fresh, given.rounds)
        finally:
            bench.stop()


def table(bench, pictured, fresh, rounds):
    """Every line of the table."""
    print(f"memory after the start: {bench.memory()[0]:.0f} MB")
    print(f"{'':<42}{'times':>6}{'median':>9}{'p95':>9}{'most':>9}{'kB':>9}   (ms)")
    measured(bench, "shelf", [("/", None, {})] * rounds)
    queries = [f"/?q={WORDS[number % len(WORDS)]}+{number}" for number in range(rounds)]
    measured(bench, "shelf with a search, whole page", [(path, None, {}) for path in queries])
    measured(bench, "shelf with a search, rows alone", [(path, None, {"Swap": "rows"}) for path in queries])
    measured(bench, "device page, many photos, first", [(f"/r/{pictured}", None, {})])
    time.sleep(8)  # its ways are computed apart; the page says so until they are there
    measured(bench, "device page, many photos", [(f"/r/{pictured}", None, {})] * rounds)
    measured(bench, "photos page, many photos", [(f"/r/{pictured}/photos", None, {})] * (rounds // 4))
    for label, swap, first in (
        ("acknowledged to the outbox", "outbox", 0),
        ("log swapped in", "log", rounds),
    ):
        asks = [
            (f"/r/{fresh}/bench/moves", {**fields, "key": f"benchmark-{number}"}, {"Swap": swap})
            for number, fields in enumerate(moves(rounds * 2))
            if first <= number < first + rounds
        ]
        measured(bench, f"move logged, {label}", asks)
    measured(bench, "bench page afterwards", [(f"/r/{fresh}/bench", None, {})] * (rounds // 4))
    print("memory of the server: {:.0f} MB, at its highest {:.0f} MB".format(*bench.memory()))


if __name__ == "__main__":
    main()
