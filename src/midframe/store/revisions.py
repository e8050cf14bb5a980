"""Revisions in the database: one row each, the record in it whole."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from typing import Any

import msgspec
from sqlalchemy import Connection, insert, select, update

from midframe.faults import BadSetting, RecordFault, UnknownRecord
from midframe.record import Record
from midframe.record.merge import Conflict
from midframe.record.reader import faults_of
from midframe.record.writer import plain
from midframe.store.shapes import Beside, Kind, Revision, State
from midframe.store.tables import BESIDE, CHANGES, KEYS, RECORDS, REVISIONS
from midframe.store.words import index_words, words_of

SEEN = (
    REVISIONS.c.record_id,
    REVISIONS.c.number,
    REVISIONS.c.parent,
    REVISIONS.c.base,
    REVISIONS.c.kind,
    REVISIONS.c.of,
    REVISIONS.c.summary,
    REVISIONS.c.author,
    REVISIONS.c.at,
    REVISIONS.c.merged,
)


class Note(msgspec.Struct, frozen=True, kw_only=True):
    """What is said about a change: kind, the revision it is about, a summary, who, when, the key."""

    kind: Kind = "edit"
    of: int | None = None
    summary: str = ""
    author: str = ""
    at: str
    key: str = ""


class Answer(msgspec.Struct, frozen=True):
    """What was answered to an idempotency key."""

    revision: int
    merged: bool = False
    beside: tuple[int, ...] = ()
    photo: str = ""


def packed(value: object) -> bytes:
    """A value as compressed JSON."""
    return zlib.compress(msgspec.json.encode(value), 6)


def unpacked(content: bytes) -> Record:
    """The record in compressed JSON."""
    return msgspec.json.decode(zlib.decompress(content), type=Record)


def readable(record: Record) -> Record:
    """The record itself if the reader would take it; raises `RecordFault` with every fault else.

    What comes back equal from JSON is right in every type and range; the reader, which is slow and names each
    fault, is asked only where that does not hold, or where there may be an empty alternative.
    """
    try:
        written = msgspec.json.encode(record)
        sound = msgspec.json.decode(written, type=Record) == record and record.format == 1
    except (msgspec.MsgspecError, UnicodeError):
        written, sound = b"", False
    if not sound or b"[[]" in written or b",[]" in written:
        found = faults_of(plain(record))
        if found:
            raise RecordFault(found)
    return record


def head_row(connection: Connection, record_id: str, *, lock: bool = False) -> Any:
    """The row of a record; with `lock`, nobody else changes it until the transaction ends."""
    query = select(
        RECORDS.c.seat, RECORDS.c.head, RECORDS.c.state, RECORDS.c.words, RECORDS.c.removed_at
    ).where(RECORDS.c.id == record_id)
    row = connection.execute(query.with_for_update() if lock else query).first()
    if row is None:
        raise UnknownRecord(f"found no record {record_id!r} in this store; right: one of the shelf")
    return row


def content(connection: Connection, record_id: str, number: int) -> Record:
    """The record at a revision."""
    found = connection.execute(
        select(REVISIONS.c.content).where(REVISIONS.c.record_id == record_id, REVISIONS.c.number == number)
    ).scalar()
    if found is None:
        last = head_row(connection, record_id).head
        raise UnknownRecord(f"record {record_id}: found no revision {number}; right: 1 to {last}")
    return unpacked(found)


def shown(row: Sequence[Any]) -> Revision:
    """A row of `SEEN` as a revision."""
    record_id, number, parent, base, kind, of, summary, author, at, merged = row
    return Revision(record_id, number, parent, base, kind, of, summary, author, at, bool(merged))


def append(connection: Connection, record_id: str, record: Record, parent: int, base: int, note: Note) -> int:
    """A new revision on top of its parent; its number."""
    number = parent + 1
    connection.execute(
        insert(REVISIONS).values(
            record_id=record_id,
            number=number,
            parent=parent,
            base=base,
            kind=note.kind,
            of=note.of,
            merged=int(base != parent),
            summary=note.summary,
            author=note.author,
            at=note.at,
            content=packed(record),
        )
    )
    return number


def next_change(connection: Connection) -> int:
    """The number of a new change on the shelf."""
    connection.execute(update(CHANGES).values(number=CHANGES.c.number + 1))
    return int(connection.execute(select(CHANGES.c.number)).scalar_one())


def faces(record: Record) -> dict[str, Any]:
    """What the shelf shows of a record, as columns."""
    return {
        "name": record.device.name,
        "kind": record.device.kind,
        "invented": int(record.device.invented),
        "parts": len(record.parts),
        "joints": len(record.joints),
        "photo": record.photos[0].hash if record.photos else "",
    }


def move_head(connection: Connection, row: Any, record: Record, number: int, at: str) -> None:
    """The shelf shows this revision from now on, and is searched by its words."""
    words = words_of(record)
    values = faces(record) | {"head": number, "change": next_change(connection), "changed_at": at}
    if words != row.words:
        values["words"] = words
        index_words(connection, row.seat, words, new=False)
    connection.execute(update(RECORDS).where(RECORDS.c.seat == row.seat).values(values))


def touch(connection: Connection, record_id: str, values: dict[str, Any]) -> None:
    """Change columns of a record that are no revision: state, clock, place on the shelf."""
    head_row(connection, record_id, lock=True)
    values = values | {"change": next_change(connection)}
    connection.execute(update(RECORDS).where(RECORDS.c.id == record_id).values(values))


def enter(connection: Connection, record_id: str, record: Record, state: State, at: str) -> int:
    """A new row on the shelf; its seat."""
    words = words_of(record)
    seat = connection.execute(
        insert(RECORDS)
        .values(
            **faces(record),
            id=record_id,
            head=1,
            change=next_change(connection),
            changed_at=at,
            state=state,
            words=words,
            index_of=0,
            index_class="",
            drawing="",
            clock_elapsed_seconds=0.0,
        )
        .returning(RECORDS.c.seat)
    ).scalar_one()
    index_words(connection, seat, words, new=True)
    return int(seat)


def answered(connection: Connection, key: str, record_id: str = "") -> tuple[str, Answer] | None:
    """What was answered to a key, and for which record; raises `BadSetting` where it was another one."""
    if not key:
        return None
    row = connection.execute(select(KEYS.c.record_id, KEYS.c.answer).where(KEYS.c.key == key)).first()
    if row is None:
        return None
    if record_id and row.record_id != record_id:
        raise BadSetting(f"key {key!r}: found it used for record {row.record_id}; right: a new random key")
    return row.record_id, msgspec.json.decode(row.answer, type=Answer)


def remember(connection: Connection, record_id: str, answer: Answer, note: Note) -> None:
    """Keep the answer to a key, in the same transaction as the change."""
    if note.key:
        text = msgspec.json.encode(answer).decode()
        connection.execute(insert(KEYS).values(key=note.key, record_id=record_id, answer=text, at=note.at))


def set_aside(
    connection: Connection,
    record_id: str,
    revision: int,
    base: int,
    conflicts: Sequence[Conflict],
    note: Note,
) -> tuple[int, ...]:
    """Keep what was set aside; the ids."""
    return tuple(
        int(
            connection.execute(
                insert(BESIDE)
                .values(
                    record_id=record_id,
                    revision=revision,
                    base=base,
                    subject=conflict.subject,
                    path=msgspec.json.encode(conflict.path).decode(),
                    content=packed((conflict.mine, conflict.theirs)),
                    summary=note.summary,
                    author=note.author,
                    at=note.at,
                )
                .returning(BESIDE.c.id)
            ).scalar_one()
        )
        for conflict in conflicts
    )


def beside_of(row: Any) -> Beside:
    """A row as a version set aside."""
    mine, theirs = msgspec.json.decode(zlib.decompress(row.content))
    return Beside(
        id=row.id,
        record_id=row.record_id,
        base=row.base,
        revision=row.revision,
        subject=row.subject,
        path=tuple(msgspec.json.decode(row.path)),
        mine=mine,
        theirs=theirs,
        summary=row.summary,
        author=row.author,
        at=row.at,
        resolved=row.settled_by is not None,
    )


def summary_of(connection: Connection, record_id: str, number: int) -> str:
    """The summary of a revision."""
    query = select(REVISIONS.c.summary).where(
        REVISIONS.c.record_id == record_id, REVISIONS.c.number == number
    )
    return str(connection.execute(query).scalar() or "")
