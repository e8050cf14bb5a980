"""What the store gives: plain frozen values, none of them tied to a database."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal, Required, TypeAlias, TypedDict, get_args

import msgspec

from midframe.record import Record

State: TypeAlias = Literal["apart_now", "waiting", "refitting", "closed"]
STATES: tuple[State, ...] = get_args(State)
Kind: TypeAlias = Literal["new", "edit", "move", "undo", "redo", "restore", "import", "settle", "black_out"]
Size: TypeAlias = Literal["full", "medium", "small"]
Side: TypeAlias = Literal["mine", "theirs"]


class Told(TypedDict, total=False):
    """What is said about a change: when (ISO 8601, UTC), by whom, a summary, the idempotency key."""

    at: Required[str]
    author: str
    summary: str
    key: str


class Revision(msgspec.Struct, frozen=True):
    """One edit of a record: number (from 1), the one it follows, the one it was made from, who, when, what.

    `of` is the revision that was undone, redone or restored. `merged` says
    that others had edited since it was begun. `at` is ISO 8601 in UTC.
    """

    record_id: str
    number: int
    parent: int
    base: int
    kind: Kind
    of: int | None
    summary: str
    author: str
    at: str
    merged: bool = False


class Kept(msgspec.Struct, frozen=True):
    """A record as the store holds it, at one revision."""

    id: str
    record: Record
    revision: int
    state: State
    removed: bool = False

    @property
    def name(self) -> str:
        """The name of the device."""
        return self.record.device.name


class Saved(msgspec.Struct, frozen=True):
    """What a change came to: the revision, the record as it now stands, what was set aside.

    `merged`: others had edited since; `beside`: ids of the versions that were
    set aside because the same thing was edited twice; `repeated`: this key had
    been saved before and nothing was changed now.
    """

    id: str
    revision: int
    record: Record
    merged: bool = False
    beside: tuple[int, ...] = ()
    repeated: bool = False


class Beside(msgspec.Struct, frozen=True):
    """A version set aside because the same thing was edited twice, until one of the two is chosen.

    `mine` was set aside, `theirs` stands in the record; `None` stands for
    absent or deleted. `base` is the revision both began from, `revision` the
    one whose saving set it aside. `subject` names the thing in words, `path`
    leads to it: list, id, field.
    """

    id: int
    record_id: str
    base: int
    revision: int
    subject: str
    path: tuple[str, ...]
    mine: Any
    theirs: Any
    summary: str
    author: str
    at: str
    resolved: bool = False


class ShelfRow(msgspec.Struct, frozen=True):
    """One record on the shelf. `index_of` is the revision that index and drawing were computed from."""

    id: str
    name: str
    kind: str
    state: State
    invented: bool
    parts: int
    joints: int
    revision: int
    changed_at: str
    index_class: str
    index_value: float | None
    drawing: str
    photo: str
    index_of: int = 0


class Shelf(msgspec.Struct, frozen=True):
    """The rows asked for, newest change first, and how many there are in all."""

    rows: tuple[ShelfRow, ...]
    total: int


class Clock(msgspec.Struct, frozen=True):
    """The bench clock of a record: when work began, since when it runs, what had run before that.

    >>> Clock("2026-11-25T08:00:00Z", "2026-11-25T08:10:00Z", 90.0).seconds("2026-11-25T08:10:30Z")
    120.0
    """

    started_at: str | None = None
    running_since: str | None = None
    elapsed_seconds: float = 0.0

    def seconds(self, now: str) -> float:
        """Seconds of work at this time (ISO 8601 with offset, or Z)."""
        if self.running_since is None:
            return self.elapsed_seconds
        running = datetime.fromisoformat(now) - datetime.fromisoformat(self.running_since)
        return self.elapsed_seconds + max(0.0, running.total_seconds())


class BenchNote(msgspec.Struct, frozen=True):
    """One note of a thread of the bench: its number, thread, kind, content (JSON), who, when (ISO 8601)."""

    id: int
    thread: str
    kind: str
    content: str
    author: str
    at: str


class PhotoRow(msgspec.Struct, frozen=True):
    """A kept photo: SHA-256 of its full size, pixels, bytes of the full size."""

    hash: str
    width: int
    height: int
    bytes: int
