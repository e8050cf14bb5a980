"""Moves from the bench into the store: the clock, the log, the record that grows."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import msgspec

from midframe.record.model import Record
from midframe.store import Clock, Saved
from midframe.stripdown import Applied, Done, apply, hear

if TYPE_CHECKING:
    from midframe.store import Store

OLDEST = timedelta(days=7)
"""A queued move older than this is taken to have a wrong clock."""


class Logged(msgspec.Struct, frozen=True):
    """What logging a move came to: what the store kept, what the move told."""

    saved: Saved
    applied: Applied


def log_move(  # noqa: PLR0913 - the last are keyword-only
    store: Store, record_id: str, done: Done, *, at: str, now: str, author: str = "", key: str = ""
) -> Logged:
    """Log a move on the record as it stands; the clock starts with the first one.

    `at` is when it was done (ISO 8601, UTC), `now` when it is told. Raises
    `UnknownRecord`, and `BadSetting` where the move says too little.
    """
    kept = store.get(record_id)
    clock = store.clock(record_id)
    if clock.running_since is None and done.verb != "note":
        clock = Clock(clock.started_at or at, at, clock.elapsed_seconds)
        store.set_clock(record_id, clock)
    applied = apply(kept.record, done, clock.seconds(at))
    saved = store.save(
        record_id,
        applied.record,
        base=kept.revision,
        kind="move",
        summary=applied.words,
        author=author,
        at=now,
        key=key,
    )
    if kept.state == "closed" and not saved.repeated:
        store.set_state(record_id, "apart_now", now)
    return Logged(saved, applied)


def done_from_speech(text: str, record: Record) -> Done:
    """A sentence as a move with what was not understood in its note; a note where no move was heard."""
    heard = hear(text, record)
    if heard.done is None or (heard.done.verb != "note" and not heard.done.what):
        return Done(verb="note", note=text)
    if not heard.left:
        return heard.done
    note = "; ".join(filter(None, (heard.done.note, f"said: {text}")))
    return msgspec.structs.replace(heard.done, note=note)


def set_running(store: Store, record_id: str, *, run: bool, at: str) -> None:
    """Let the clock of a record run or stand; raises `UnknownRecord`."""
    clock = store.clock(record_id)
    if run == (clock.running_since is not None):
        return
    elapsed = clock.seconds(at)
    store.set_clock(record_id, Clock(clock.started_at or at, at if run else None, elapsed))


def begin_anew(store: Store, record_id: str, *, now: str, author: str = "", key: str = "") -> Saved:
    """Put the log so far into the history and begin with an empty one; the record keeps what it knows."""
    kept = store.get(record_id)
    store.set_clock(record_id, Clock())
    return store.save(
        record_id,
        msgspec.structs.replace(kept.record, log=()),
        base=kept.revision,
        summary="A new log begun",
        author=author,
        at=now,
        key=key,
    )


def moment_said(said: str, now: str) -> str:
    """When a queued move was done, as the screen says it; now, where that cannot be.

    >>> moment_said("2026-11-25T04:39:00.000Z", "2026-11-25T04:40:00.000+00:00")
    '2026-11-25T04:39:00.000+00:00'
    >>> moment_said("tomorrow", "2026-11-25T04:40:00.000+00:00")
    '2026-11-25T04:40:00.000+00:00'
    """
    try:
        at, told = datetime.fromisoformat(said), datetime.fromisoformat(now)
    except ValueError:
        return now
    if at.tzinfo is None or not told - OLDEST <= at <= told:
        return now
    return at.astimezone(UTC).isoformat(timespec="milliseconds")
