"""Edits within one transaction: merge, keep, undo, settle."""

from __future__ import annotations

import msgspec
from sqlalchemy import Connection, select, update

from midframe.faults import RecordFault, UnknownRecord
from midframe.record import Record, check, faults
from midframe.record.differences import summary
from midframe.record.merge import Merged, mark, merge
from midframe.record.places import with_value
from midframe.store import albums, revisions
from midframe.store.revisions import Answer, Note
from midframe.store.shapes import Saved, Side
from midframe.store.tables import BESIDE
from midframe.store.undoing import next_of


def again(connection: Connection, record_id: str, answer: Answer) -> Saved:
    """The same answer as the first time."""
    record = revisions.content(connection, record_id, answer.revision)
    return Saved(record_id, answer.revision, record, answer.merged, answer.beside, repeated=True)


def bring_in(
    connection: Connection, record_id: str, three: tuple[Record, Record, Record], base: int, note: Note
) -> Saved:
    """Merge an edit (base, mine, theirs) and keep it; an edit that changes nothing makes no revision."""
    merged = merge(*three)
    row = revisions.head_row(connection, record_id)
    if merged.record == three[2] and not merged.conflicts:
        answer = Answer(row.head, merged=base != row.head)
        revisions.remember(connection, record_id, answer, note)
        return Saved(record_id, row.head, merged.record, answer.merged)
    return keep(connection, record_id, merged, base, note)


def keep(connection: Connection, record_id: str, merged: Merged, base: int, note: Note) -> Saved:
    """A new revision with this record, and what was set aside."""
    row = revisions.head_row(connection, record_id)
    if not note.summary:
        before = revisions.content(connection, record_id, row.head)
        note = msgspec.structs.replace(note, summary=summary(before, merged.record))
    number = revisions.append(connection, record_id, merged.record, row.head, base, note)
    revisions.move_head(connection, row, merged.record, number, note.at)
    albums.link(connection, record_id, albums.hashes_of(merged.record), note.at)
    beside = revisions.set_aside(connection, record_id, number, base, merged.conflicts, note)
    answer = Answer(number, base != row.head, beside)
    revisions.remember(connection, record_id, answer, note)
    return Saved(record_id, number, merged.record, answer.merged, beside)


def step(connection: Connection, record_id: str, note: Note) -> Saved:
    """Undo or redo: the change of one revision, backwards or forwards, merged into the head.

    A redo brings in what its undo took out: the same change, forwards.
    """
    of = next_of(connection, record_id, note.kind, note.of)
    head = revisions.head_row(connection, record_id).head
    after = revisions.content(connection, record_id, of)
    before = revisions.content(connection, record_id, of - 1)
    old, new = (after, before) if note.kind == "undo" else (before, after)
    merged = merge(old, new, revisions.content(connection, record_id, head))
    told = revisions.summary_of(connection, record_id, of)
    note = msgspec.structs.replace(note, of=of, summary=note.summary or told)
    return keep(connection, record_id, merged, head, note)


def settle(connection: Connection, beside_id: int, take: Side, note: Note) -> Saved:
    """Choose one of two versions; settled before, it stays as it is."""
    row = connection.execute(select(BESIDE).where(BESIDE.c.id == beside_id)).first()
    if row is None:
        raise UnknownRecord(
            f"found no version set aside with the number {beside_id}; right: one of the record"
        )
    beside = revisions.beside_of(row)
    head = revisions.head_row(connection, beside.record_id, lock=True).head
    record = revisions.content(connection, beside.record_id, head)
    settled = connection.execute(select(BESIDE.c.settled_by).where(BESIDE.c.id == beside_id)).scalar()
    if settled is not None:
        return again(connection, beside.record_id, Answer(settled))
    number, chosen = head, record
    if take == "mine":
        chosen = sound_as_before(record, with_value(record, beside.path, beside.mine))
    if chosen != record:
        told = Note(kind="settle", of=beside.revision, summary=beside.subject, author=note.author, at=note.at)
        number = keep(connection, beside.record_id, Merged(chosen), head, told).revision
    connection.execute(update(BESIDE).where(BESIDE.c.id == beside_id).values(settled_by=number))
    return Saved(beside.record_id, number, chosen)


def sound_as_before(before: Record, after: Record) -> Record:
    """The record after a change, if the change brought no fault; raises `RecordFault` with the new ones."""
    known = {mark(one) for one in faults(check(before))}
    new = [one for one in faults(check(after)) if mark(one) not in known]
    if new:
        raise RecordFault(new)
    return after
