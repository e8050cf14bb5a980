"""Notes of the bench that are part of no record: threads to which something is only ever added.

What a thread comes to (a source kept or removed, a heating begun and stopped) is
told by all of its notes together, so two screens never overwrite one another
and every step can be taken back by another note.
"""

from __future__ import annotations

from sqlalchemy import Connection, func, insert, select

from midframe.faults import BadSetting
from midframe.store.revisions import next_change
from midframe.store.shapes import BenchNote
from midframe.store.tables import BENCH_NOTES

LONGEST = 200_000
"""Signs that one note may have: house choice."""

SEEN = (
    BENCH_NOTES.c.id,
    BENCH_NOTES.c.thread,
    BENCH_NOTES.c.kind,
    BENCH_NOTES.c.content,
    BENCH_NOTES.c.author,
    BENCH_NOTES.c.at,
)


def add(connection: Connection, note: BenchNote, key: str) -> BenchNote:
    """Add a note to its thread; the same key again gives the note that it made.

    Raises `BadSetting` where the key was used in another thread, or the note is too long.
    """
    if len(note.content) > LONGEST:
        raise BadSetting(f"note: found {len(note.content)} signs; right: at most {LONGEST}")
    if key:
        before = connection.execute(select(*SEEN).where(BENCH_NOTES.c.key == key)).first()
        if before is not None:
            if before.thread != note.thread:
                raise BadSetting(f"key {key!r}: found it used in another thread; right: a new random key")
            return BenchNote(*before)
    row = insert(BENCH_NOTES).values(
        thread=note.thread,
        kind=note.kind,
        content=note.content,
        author=note.author,
        at=note.at,
        key=key or None,
    )
    number = connection.execute(row.returning(BENCH_NOTES.c.id)).scalar_one()
    next_change(connection)  # so that open pages are told
    return BenchNote(number, note.thread, note.kind, note.content, note.author, note.at)


def thread(connection: Connection, name: str) -> tuple[BenchNote, ...]:
    """Every note of a thread, the oldest first."""
    query = select(*SEEN).where(BENCH_NOTES.c.thread == name).order_by(BENCH_NOTES.c.id)
    return tuple(BenchNote(*row) for row in connection.execute(query))


def last(connection: Connection, name: str) -> int:
    """The number of the newest note of a thread; 0 where there is none."""
    query = select(func.max(BENCH_NOTES.c.id)).where(BENCH_NOTES.c.thread == name)
    return int(connection.execute(query).scalar() or 0)
