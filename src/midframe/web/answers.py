"""Long questions, computed apart from the server: warm worker processes, kept answers, progress, stopping."""

from __future__ import annotations

import hashlib
import threading
import time
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from typing import Any, Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import Record
from midframe.web.asked import QUESTIONS
from midframe.web.worker import Worker

Status: TypeAlias = Literal["working", "done", "failed", "stopped"]
Rank: TypeAlias = Literal[0, 1, 2]

MOST_WAITING = 200
"""Questions that may wait at once: house choice."""

DIED = (
    "the process that computed this ended before it had an answer, most likely for want of memory; "
    "nothing of the record was changed. Ask again, or ask for less"
)


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of a question now.

    `seconds` is how long it has been worked on, or took; `ahead` how many questions are computed before it;
    `number` of `of` single results are there, the last one `label`. `value` is there where the status is
    `done`, `message` where it is `failed`.
    """

    key: str
    words: str
    status: Status
    seconds: float
    ahead: int = 0
    number: int = 0
    of: int = 0
    label: str = ""
    value: Any = None
    message: str = ""

    @property
    def whole_seconds(self) -> int:
        """Seconds so far, whole."""
        return int(self.seconds)


class Job(msgspec.Struct, frozen=True):
    """What a worker is sent: the name of the question, records as JSON, options."""

    question: str
    records: tuple[bytes, ...]
    options: Mapping[str, Any]

    @property
    def key(self) -> str:
        """Digest of all of it: the same question about the same records has the same key."""
        found = hashlib.sha256(
            self.question.encode() + b"\0" + msgspec.json.encode(self.options, order="sorted")
        )
        for record in self.records:
            found.update(b"\0" + hashlib.sha256(record).digest())
        return found.hexdigest()[:40]


class _Entry:
    """One question while it is waiting, worked on and kept."""

    def __init__(self, job: Job, rank: Rank, number: int) -> None:
        self.job: Job | None = job
        self.key, self.question, self.rank, self.number = job.key, QUESTIONS[job.question], rank, number
        self.status: Status = "working"
        self.began, self.ended = time.monotonic(), 0.0
        self.told: tuple[int, int, str] = (0, 0, "")
        self.worker: Worker | None = None
        self.value: Any = None
        self.message = ""

    @property
    def waits(self) -> bool:
        """Whether no worker has begun with it."""
        return self.status == "working" and self.worker is None

    def end(self, status: Status, value: Any = None, message: str = "") -> None:
        """The last word on it."""
        self.status, self.value, self.message, self.worker, self.job = status, value, message, None, None
        self.ended = time.monotonic()


class Answers:
    """Answers by question, record and options; the newest `kept` stay, `processes` work at once.

    Workers are started when first needed and kept warm. Long questions and those of the background leave
    one process free for short ones where there are two.
    """

    def __init__(self, processes: int = 2, kept: int = 256) -> None:
        self.processes, self.kept = max(1, processes), kept
        self._changed = threading.Condition()
        self._entries: OrderedDict[str, _Entry] = OrderedDict()
        self._keepers: list[threading.Thread] = []
        self._number = 0
        self._closed = False

    def ask(
        self,
        question: str,
        record: Record | Sequence[Record],
        options: Mapping[str, Any] | None = None,
        *,
        wait: float = 0.3,
        background: bool = False,
    ) -> Answer:
        """What is known of a question; it is begun where it is new, and waited for `wait` seconds at most.

        Raises `BadSetting` for a question that is not in the table, or where too many wait.
        """
        if question not in QUESTIONS:
            raise BadSetting(f"question: found '{question}'; it may be {', '.join(QUESTIONS)}")
        records = (record,) if isinstance(record, Record) else tuple(record)
        whole = QUESTIONS[question].whole
        job = Job(question, tuple(encoded(one, whole=whole) for one in records), dict(options or {}))
        rank: Rank = 2 if background else 1 if QUESTIONS[question].long else 0
        with self._changed:
            entry = self._entries.get(job.key) or self._begin(job, rank)
            entry.rank = min(entry.rank, rank)
            self._entries.move_to_end(entry.key)
            self._changed.wait_for(lambda: entry.status != "working" or self._closed, timeout=wait)
            return self._answer(entry)

    def look(self, key: str) -> Answer | None:
        """What is known of a question that was asked, by its key; None where it was let go."""
        with self._changed:
            entry = self._entries.get(key)
            return None if entry is None else self._answer(entry)

    def stop(self, key: str) -> None:
        """End a question that is worked on; its worker process is ended with it."""
        with self._changed:
            entry = self._entries.get(key)
            if entry is None or entry.status != "working":
                return
            worker = entry.worker
            entry.end("stopped")
            if worker is not None:
                worker.kill()
            self._changed.notify_all()

    def forget(self, key: str) -> None:
        """Let an answer go, so that it is computed anew when it is asked for."""
        with self._changed:
            entry = self._entries.get(key)
            if entry is not None and entry.status != "working":
                del self._entries[key]

    def close(self) -> None:
        """End all workers; nothing can be asked any more."""
        with self._changed:
            self._closed = True
            for entry in self._entries.values():
                if entry.worker is not None:
                    entry.worker.kill()
            self._changed.notify_all()
        for keeper in self._keepers:
            keeper.join()

    def _begin(self, job: Job, rank: Rank) -> _Entry:
        """A new question at the end of those that wait; a keeper is started where there are too few."""
        waiting = sum(entry.waits for entry in self._entries.values())
        if waiting >= MOST_WAITING:
            raise BadSetting(
                f"found {waiting} questions waiting; right: fewer at a time. Ask again in a while"
            )
        self._number += 1
        entry = self._entries[job.key] = _Entry(job, rank, self._number)
        for old in [one for one in self._entries.values() if one.status != "working"]:
            if len(self._entries) <= self.kept:
                break
            del self._entries[old.key]
        if len(self._keepers) < self.processes and not self._closed:
            keeper = threading.Thread(
                target=self._keep, name=f"answers {len(self._keepers) + 1}", daemon=True
            )
            self._keepers.append(keeper)
            keeper.start()
        self._changed.notify_all()
        return entry

    def _answer(self, entry: _Entry) -> Answer:
        working = entry.status == "working"
        number, of, label = entry.told
        order = (entry.rank, entry.number)
        ahead = sum(one.waits and (one.rank, one.number) < order for one in self._entries.values())
        return Answer(
            key=entry.key,
            words=entry.question.words,
            status=entry.status,
            seconds=(time.monotonic() if working else entry.ended) - entry.began,
            ahead=ahead if entry.waits else 0,
            number=number,
            of=of,
            label=label,
            value=entry.value,
            message=entry.message,
        )

    def _next(self) -> _Entry | None:
        """The question that comes next for a free worker, by rank and age; None where none may begin."""
        entries = self._entries.values()
        long = sum(entry.worker is not None and entry.rank > 0 for entry in entries)
        full = self.processes > 1 and long >= self.processes - 1
        able = [entry for entry in entries if entry.waits and not (full and entry.rank > 0)]
        return min(able, key=lambda entry: (entry.rank, entry.number), default=None)

    def _keep(self) -> None:
        """Look after one worker process: hand it questions, note what it says, replace it when it ended."""
        worker = Worker()
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._closed or self._next() is not None)
                entry = None if self._closed else self._next()
                job = entry.job if entry is not None else None
                if entry is None or job is None:
                    break
                if not worker.alive:
                    worker.close()
                    worker = Worker()
                entry.worker, entry.began = worker, time.monotonic()
            self._follow(entry, worker, job)
        worker.close()

    def _follow(self, entry: _Entry, worker: Worker, job: Job) -> None:
        """One question from its beginning to its end."""
        ended: tuple[Status, Any, str] = ("failed", None, DIED)
        try:
            worker.send((job.question, job.records, job.options))
            while True:
                kind, told = worker.receive()
                if kind == "told":
                    entry.told = told
                    continue
                ended = ("done", told, "") if kind == "done" else ("failed", None, told)
                break
        except (EOFError, OSError):
            worker.close()
        with self._changed:
            if entry.status == "working":
                entry.end(*ended)
            elif worker.alive:
                worker.close()
            self._changed.notify_all()


def encoded(record: Record, *, whole: bool) -> bytes:
    """A record as a worker is sent it; without log, photos and what was measured unless `whole`."""
    sent = (
        record
        if whole
        else msgspec.structs.replace(record, log=(), photos=(), tried=(), seal_tests=(), measurements=())
    )
    return msgspec.json.encode(sent)
