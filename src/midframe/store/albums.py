"""Photos in the database: which there are, for which record, and what took the place of a blacked out one."""

from __future__ import annotations

import zlib
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec
from sqlalchemy import Connection, Engine, insert, or_, select, update
from sqlalchemy.dialects import postgresql, sqlite

from midframe.faults import UnknownRecord
from midframe.record import Record
from midframe.record.model import Photo
from midframe.store import photo_files, revisions
from midframe.store.engine import reading, told, writing
from midframe.store.revisions import Answer, Note, content, packed
from midframe.store.shapes import PhotoRow, Saved
from midframe.store.tables import BESIDE, PHOTOS, RECORD_PHOTOS, REVISIONS

if TYPE_CHECKING:
    from midframe.photos import CleanPhoto


def keep_photo(engine: Engine, folder: Path, record_id: str, photo: CleanPhoto, note: Note) -> PhotoRow:
    """Files first, then the row; the same bytes, or the same key, are kept once.

    A photo that was blacked out stays so: sent again, it is answered with what took its place.
    """
    with reading(engine) as connection:
        revisions.head_row(connection, record_id)
        gone = successor(connection, photo.hash)
    if gone is None:
        with told(engine):
            put(folder, photo)
    with writing(engine) as connection:
        revisions.head_row(connection, record_id, lock=True)
        before = revisions.answered(connection, note.key, record_id)
        if before is not None and before[1].photo:
            return row_of(connection, before[1].photo)
        row = enter(connection, record_id, photo, note.at)
        revisions.remember(connection, record_id, Answer(0, photo=row.hash), note)
    if row.hash != photo.hash:
        photo_files.drop(folder, photo.hash)
    return row


def put(folder: Path, photo: CleanPhoto) -> None:
    """Write all three sizes."""
    photo_files.put(folder, photo.hash, {"full": photo.full, "medium": photo.medium, "small": photo.small})


def enter(connection: Connection, record_id: str, photo: CleanPhoto, at: str) -> PhotoRow:
    """The rows of a photo whose files are on the disk; of its successor where it was blacked out."""
    insert_new = (sqlite if connection.dialect.name == "sqlite" else postgresql).insert(PHOTOS)
    connection.execute(
        insert_new.values(
            hash=photo.hash, width=photo.width, height=photo.height, bytes=len(photo.full), at=at
        ).on_conflict_do_nothing()
    )
    row = row_of(connection, photo.hash)
    link(connection, record_id, {row.hash}, at)
    return row


def link(connection: Connection, record_id: str, hashes: set[str], at: str) -> None:
    """Note that a record shows these photos, those of them that the store holds."""
    if not hashes:
        return
    held = select(PHOTOS.c.hash).where(PHOTOS.c.hash.in_(sorted(hashes)))
    linked = select(RECORD_PHOTOS.c.hash).where(RECORD_PHOTOS.c.record_id == record_id)
    for photo_hash in connection.execute(held.where(PHOTOS.c.hash.not_in(linked))).scalars().all():
        connection.execute(insert(RECORD_PHOTOS).values(record_id=record_id, hash=photo_hash, at=at))


def successor(connection: Connection, photo_hash: str) -> str | None:
    """What took the place of a photo; `None` where nothing did."""
    found = connection.execute(select(PHOTOS.c.successor).where(PHOTOS.c.hash == photo_hash)).scalar()
    return None if found is None else str(found)


def row_of(connection: Connection, photo_hash: str) -> PhotoRow:
    """The row of a photo, or of what took its place; raises `UnknownRecord`."""
    wanted = successor(connection, photo_hash) or photo_hash
    row = connection.execute(select(PHOTOS).where(PHOTOS.c.hash == wanted)).first()
    if row is None:
        raise UnknownRecord(f"found no photo {photo_hash[:80]!r} in this store; right: one of a record")
    return PhotoRow(row.hash, row.width, row.height, row.bytes)


def held(connection: Connection, hashes: set[str]) -> tuple[PhotoRow, ...]:
    """Those of the photos that the store holds, in order of their hashes."""
    query = select(PHOTOS).where(PHOTOS.c.hash.in_(sorted(hashes)), PHOTOS.c.successor.is_(None))
    rows = connection.execute(query.order_by(PHOTOS.c.hash))
    return tuple(PhotoRow(row.hash, row.width, row.height, row.bytes) for row in rows)


def photos_of(connection: Connection, record_id: str) -> tuple[PhotoRow, ...]:
    """The photos of a record that the store holds, in order of their hashes."""
    query = (
        select(PHOTOS)
        .join(RECORD_PHOTOS, RECORD_PHOTOS.c.hash == PHOTOS.c.hash)
        .where(RECORD_PHOTOS.c.record_id == record_id, PHOTOS.c.successor.is_(None))
        .order_by(PHOTOS.c.hash)
    )
    rows = connection.execute(query)
    return tuple(PhotoRow(row.hash, row.width, row.height, row.bytes) for row in rows)


def replace_photo(
    connection: Connection, record_id: str, old_hash: str, photo: CleanPhoto, note: Note
) -> Saved:
    """Put a photo in the place of another one everywhere: records, revisions, what was set aside."""
    old = row_of(connection, old_hash).hash
    of_old = select(RECORD_PHOTOS.c.record_id).where(RECORD_PHOTOS.c.hash == old)
    owners = sorted({record_id, *connection.execute(of_old).scalars()})
    for owner in owners:
        revisions.head_row(connection, owner, lock=True)
    head = revisions.head_row(connection, record_id).head
    if photo.hash == old:
        return Saved(record_id, head, content(connection, record_id, head))
    new = enter(connection, record_id, photo, note.at).hash
    gone = or_(PHOTOS.c.successor == old, PHOTOS.c.hash == old)
    connection.execute(update(PHOTOS).where(gone).values(successor=new))
    numbers = {}
    for owner in owners:
        link(connection, owner, {new}, note.at)
        numbers[owner] = rename(connection, owner, {old: new}, note)
    return Saved(record_id, numbers[record_id], content(connection, record_id, numbers[record_id]))


def rename(connection: Connection, record_id: str, changed: dict[str, str], note: Note) -> int:
    """Put photos under other hashes in all revisions of a record, and say so in a revision on top."""
    row = revisions.head_row(connection, record_id, lock=True)
    own = REVISIONS.c.record_id == record_id
    for number in range(1, row.head + 1):
        record = content(connection, record_id, number)
        if changed.keys() & hashes_of(record):
            packet = packed(renamed(record, changed))
            connection.execute(
                update(REVISIONS).where(own, REVISIONS.c.number == number).values(content=packet)
            )
    query = select(BESIDE.c.id, BESIDE.c.content, BESIDE.c.path).where(BESIDE.c.record_id == record_id)
    for beside in connection.execute(query).all():
        values = {
            "content": zlib.compress(replaced(zlib.decompress(beside.content), changed), 6),
            "path": replaced(beside.path.encode(), changed).decode(),
        }
        connection.execute(update(BESIDE).where(BESIDE.c.id == beside.id).values(values))
    head = content(connection, record_id, row.head)
    number = revisions.append(connection, record_id, head, row.head, row.head, note)
    revisions.move_head(connection, row, head, number, note.at)
    return number


def with_successors(connection: Connection, record: Record) -> Record:
    """The record with the hashes of those photos that were blacked out replaced by what took their place."""
    hashes = hashes_of(record)
    if not hashes:
        return record
    gone = PHOTOS.c.hash.in_(sorted(hashes)), PHOTOS.c.successor.is_not(None)
    rows = connection.execute(select(PHOTOS.c.hash, PHOTOS.c.successor).where(*gone))
    changed = {row.hash: row.successor for row in rows}
    return renamed(record, changed) if changed else record


def hashes_of(record: Record) -> set[str]:
    """Every photo that a record names."""
    found = {photo.hash for photo in record.photos} | {entry.photo for entry in record.log if entry.photo}
    for table in (record.parts, record.joints):
        found.update(one for item in table for one in item.photos)
    return found


def renamed(record: Record, changed: dict[str, str]) -> Record:
    """The record with photos under other hashes, each listed once."""
    record = msgspec.json.decode(replaced(msgspec.json.encode(record), changed), type=Record)
    first: dict[str, Photo] = {}
    for photo in record.photos:
        first.setdefault(photo.hash, photo)
    return msgspec.structs.replace(record, photos=tuple(first.values()))


def replaced(text: bytes, changed: dict[str, str]) -> bytes:
    """JSON text with texts in the place of others."""
    for old, new in changed.items():
        text = text.replace(f'"{old}"'.encode(), f'"{new}"'.encode())
    return text


def blacked_out(connection: Connection) -> tuple[str, ...]:
    """Photos that something took the place of; no copy of them may be left."""
    return tuple(connection.execute(select(PHOTOS.c.hash).where(PHOTOS.c.successor.is_not(None))).scalars())
