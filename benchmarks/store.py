"""A shelf of 5,000 records and moves at the bench: p50 and p95 in milliseconds, measured on this machine."""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from pathlib import Path

import msgspec

from midframe import demo
from midframe.record.model import LogEntry
from midframe.store import Store

AT = "2026-11-25T08:00:00Z"
RECORDS = 5_000
QUERIES = ("b", "ba", "batt", "battery glue", "m1.4", "note 77", "dis fl", "zzz")


def told(name: str, seconds: list[float]) -> None:
    p95 = statistics.quantiles(seconds, n=20)[-1]
    print(f"{name}: p50 {statistics.median(seconds) * 1e3:.1f} ms, p95 {p95 * 1e3:.1f} ms, n {len(seconds)}")


def timed(call, *arguments, **named):
    begin = time.perf_counter()
    answer = call(*arguments, **named)
    return time.perf_counter() - begin, answer


def main() -> None:
    devices = [demo.load(name) for name in ("tern-2", "tern-3", "heron-tab", "avocet-fold")]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
        for number in range(RECORDS):
            record = devices[number % len(devices)]
            device = msgspec.structs.replace(record.device, name=f"Bench {number}", note=f"note {number}")
            kept = store.new(msgspec.structs.replace(record, device=device), at=AT)
        told("shelf with search", [timed(store.shelf, query)[0] for query in QUERIES for _ in range(25)])
        told("shelf", [timed(store.shelf)[0] for _ in range(50)])
        moves = []
        chance = random.Random(1)
        for number in range(300):
            begin = time.perf_counter()
            now = store.get(kept.id)
            entry = LogEntry(seconds=1000.0 + number, note=f"move {chance.random():.6f}")
            record = msgspec.structs.replace(now.record, log=(*now.record.log, entry))
            store.save(kept.id, record, base=now.revision, at=AT, kind="move", key=f"k{number}")
            moves.append(time.perf_counter() - begin)
        told("move logged", moves)
        print(f"database: {(folder / 'midframe.db').stat().st_size / 1e6:.0f} MB")
        store.close()


if __name__ == "__main__":
    main()
