"""One worker process: it answers the questions of a fixed table, one after the other."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import queue
import signal
import threading
import time
from collections.abc import Mapping
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import msgspec

from midframe.faults import Fault
from midframe.record.model import Record

TOLD_EVERY = 0.1
"""Seconds between two words about the progress: house choice."""

NICE = 10
"""How far workers stand back behind the server, which takes moves at the bench meanwhile."""


ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""Variables that say how many threads linear algebra may start, read when numpy is imported."""


def one_thread() -> None:
    """Linear algebra in one thread, unless the user said otherwise: on small matrices more only wait."""
    for name in ONE_THREAD:
        os.environ.setdefault(name, "1")


class Worker:
    """The server's end of one worker process, which starts at once and stays until `kill`."""

    def __init__(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._connection, theirs = context.Pipe()
        self._process = context.Process(target=work, args=(theirs,), name="midframe answers", daemon=True)
        self._process.start()
        theirs.close()

    @property
    def alive(self) -> bool:
        """Whether it can be asked."""
        return not self._connection.closed and self._process.is_alive()

    def send(self, job: tuple[str, tuple[bytes, ...], Mapping[str, Any]]) -> None:
        """Hand over a question; `OSError` where the process has ended."""
        self._connection.send(job)

    def receive(self) -> tuple[str, Any]:
        """The next word: ("told", progress), ("done", value), ("fault", message); `EOFError` at its end."""
        kind, value = self._connection.recv()
        return str(kind), value

    def kill(self) -> None:
        """End the process at once; whoever waits for a word from it gets `EOFError`."""
        self._process.kill()

    def close(self) -> None:
        """End the process and let go of it."""
        self._process.kill()
        self._process.join(5)
        self._connection.close()


def work(connection: Connection) -> None:
    """The life of a worker: questions in, progress and answers out, until the server is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    one_thread()
    stand_back()
    jobs: queue.SimpleQueue[Any] = queue.SimpleQueue()
    threading.Thread(target=listen, args=(connection, jobs), daemon=True).start()
    while True:
        question, records, options = jobs.get()
        connection.send(answered(connection, question, records, options))


def listen(connection: Connection, jobs: queue.SimpleQueue[Any]) -> None:
    """Take questions in; when the server is gone there is nobody to work for."""
    while True:
        try:
            jobs.put(connection.recv())
        except (EOFError, OSError):
            os._exit(0)


def stand_back() -> None:
    """Let the server go first on the processor, and be the first to go where memory runs out."""
    with contextlib.suppress(OSError):
        os.nice(NICE)
    with contextlib.suppress(OSError):
        Path("/proc/self/oom_score_adj").write_text("500", encoding="ascii")


def answered(
    connection: Connection, question: str, records: tuple[bytes, ...], options: Mapping[str, Any]
) -> tuple[str, Any]:
    """What comes of one question, faults as messages."""
    from midframe.web.asked import QUESTIONS

    said = time.monotonic()

    def tell(number: int, of: int, label: str) -> None:
        nonlocal said
        if time.monotonic() - said >= TOLD_EVERY:
            said = time.monotonic()
            connection.send(("told", (number, of, label)))

    try:
        decoded = tuple(msgspec.json.decode(record, type=Record) for record in records)
        return "done", QUESTIONS[question].ask(decoded, options, tell)
    except Fault as fault:
        return "fault", str(fault)
    except MemoryError:
        return "fault", "there is not enough memory for this answer; nothing of the record was changed"
    except Exception as error:
        return "fault", f"a fault of midframe itself, not of the record: {type(error).__name__}: {error}"
