"""The store: every record with every revision, photos beside it, one shelf over all."""

from __future__ import annotations

import secrets
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Unpack

from sqlalchemy import Engine, select
from sqlalchemy.exc import IntegrityError

from midframe.faults import BadSetting, UnknownRecord
from midframe.record import Record
from midframe.record.merge import Merged
from midframe.store import albums, backup, bench_notes, edits, exchange, photo_files, revisions, shelves
from midframe.store.backup import Manifest
from midframe.store.engine import engine_for, migrate, reading, told, writing
from midframe.store.revisions import Answer, Note
from midframe.store.shapes import (
    STATES,
    BenchNote,
    Beside,
    Clock,
    Kept,
    Kind,
    PhotoRow,
    Revision,
    Saved,
    Shelf,
    Side,
    Size,
    State,
    Told,
)
from midframe.store.tables import BESIDE, CHANGES, REVISIONS

if TYPE_CHECKING:
    from midframe.photos import CleanPhoto

SIGNS = "abcdefghijkmnpqrstuvwxyz23456789"
"""What record ids are made of; no sign that is taken for another one."""


class Store:
    """Records, their revisions and photos in one database and one folder; times are the caller's."""

    def __init__(self, engine: Engine, folder: Path) -> None:
        self.engine = engine
        self.folder = folder

    @classmethod
    def open(cls, url: str, folder: Path) -> Store:
        """The store at this address; its schema is brought up to date where it is behind.

        `url` is `sqlite:///…` or `postgresql://…`; `folder` holds the photos.
        Raises `BadSetting` for another address, `StoreTrouble` where it cannot be opened.
        """
        store = cls(engine_for(url), folder)
        migrate(store.engine)
        with reading(store.engine) as connection:
            gone = albums.blacked_out(connection)
        with told(store.engine):  # where a black-out was cut short before the files were deleted
            for photo_hash in gone:
                photo_files.drop(folder, photo_hash)
        return store

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    # Records and revisions

    def new(
        self,
        record: Record,
        *,
        kind: Kind = "new",
        state: State = "closed",
        **words: Unpack[Told],
    ) -> Saved:
        """A new record on the shelf, as revision 1; the same `key` again gives the same record."""
        return self._enter(record, state, Note(kind=kind, **words), ())

    def _enter(self, record: Record, state: State, note: Note, photos: Sequence[CleanPhoto]) -> Saved:
        revisions.readable(record)
        key = note.key
        try:
            with writing(self.engine) as connection:
                before = revisions.answered(connection, key)
                if before is not None:
                    return edits.again(connection, *before)
                record_id = "".join(secrets.choice(SIGNS) for _ in range(10))
                record = albums.with_successors(connection, record)
                revisions.enter(connection, record_id, record, state, note.at)
                revisions.append(connection, record_id, record, 0, 0, note)
                for photo in photos:
                    albums.enter(connection, record_id, photo, note.at)
                albums.link(connection, record_id, albums.hashes_of(record), note.at)
                revisions.remember(connection, record_id, Answer(1), note)
        except IntegrityError:
            if not key:
                raise
            with reading(self.engine) as connection:  # the same key at the same moment
                before = revisions.answered(connection, key)
                if before is None:
                    raise
                return edits.again(connection, *before)
        return Saved(record_id, 1, record)

    def get(self, record_id: str, revision: int | None = None) -> Kept:
        """The record as it stands, or at a revision; raises `UnknownRecord`."""
        with reading(self.engine) as connection:
            row = revisions.head_row(connection, record_id)
            number = row.head if revision is None else revision
            record = revisions.content(connection, record_id, number)
        return Kept(record_id, record, number, row.state, row.removed_at is not None)

    def save(
        self,
        record_id: str,
        record: Record,
        *,
        base: int,
        kind: Kind = "edit",
        **words: Unpack[Told],
    ) -> Saved:
        """A whole edited record, made from revision `base`, merged into the record as it stands.

        What others changed since stays; where both changed the same thing,
        theirs stays and this version is set aside (`Saved.beside`). The same
        `key` again changes nothing and gives the same answer. An edit that
        changes nothing makes no revision.
        """
        revisions.readable(record)
        note = Note(kind=kind, **words)
        with writing(self.engine) as connection:
            row = revisions.head_row(connection, record_id, lock=True)
            before = revisions.answered(connection, note.key, record_id)
            if before is not None:
                return edits.again(connection, *before)
            record = albums.with_successors(connection, record)
            old = revisions.content(connection, record_id, base)
            head = old if base == row.head else revisions.content(connection, record_id, row.head)
            return edits.bring_in(connection, record_id, (old, record, head), base, note)

    def undo(self, record_id: str, *, of: int | None = None, **words: Unpack[Told]) -> Saved:
        """Take back the newest edit, or revision `of`, and leave what came after it.

        Raises `NothingToUndo`. What was edited again since stays, and the older
        version is set aside.
        """
        return self._step(record_id, Note(kind="undo", of=of, **words))

    def redo(self, record_id: str, *, of: int | None = None, **words: Unpack[Told]) -> Saved:
        """Bring back what was undone last, or revision `of`; raises `NothingToUndo`."""
        return self._step(record_id, Note(kind="redo", of=of, **words))

    def _step(self, record_id: str, note: Note) -> Saved:
        with writing(self.engine) as connection:
            revisions.head_row(connection, record_id, lock=True)
            before = revisions.answered(connection, note.key, record_id)
            if before is not None:
                return edits.again(connection, *before)
            return edits.step(connection, record_id, note)

    def restore(self, record_id: str, number: int, **words: Unpack[Told]) -> Saved:
        """The record as it was at a revision, as a new revision on top."""
        note = Note(kind="restore", of=number, **words)
        with writing(self.engine) as connection:
            row = revisions.head_row(connection, record_id, lock=True)
            before = revisions.answered(connection, note.key, record_id)
            if before is not None:
                return edits.again(connection, *before)
            record = revisions.content(connection, record_id, number)
            return edits.keep(connection, record_id, Merged(record), row.head, note)

    def history(self, record_id: str, limit: int = 50, before: int | None = None) -> tuple[Revision, ...]:
        """Revisions, newest first; with `before`, those older than that number."""
        query = select(*revisions.SEEN).where(REVISIONS.c.record_id == record_id)
        if before is not None:
            query = query.where(REVISIONS.c.number < before)
        with reading(self.engine) as connection:
            revisions.head_row(connection, record_id)
            rows = connection.execute(query.order_by(REVISIONS.c.number.desc()).limit(limit))
            return tuple(revisions.shown(tuple(row)) for row in rows)

    def head(self, record_id: str) -> int:
        """The number of the newest revision."""
        with reading(self.engine) as connection:
            return int(revisions.head_row(connection, record_id).head)

    def heads(self) -> int:
        """The number of the newest change on the shelf; it grows with every change."""
        with reading(self.engine) as connection:
            return int(connection.execute(select(CHANGES.c.number)).scalar_one())

    # Versions set aside

    def beside(self, record_id: str, *, resolved: bool = False) -> tuple[Beside, ...]:
        """Versions set aside and not settled yet, oldest first; with `resolved`, the settled ones too."""
        query = select(BESIDE).where(BESIDE.c.record_id == record_id).order_by(BESIDE.c.id)
        if not resolved:
            query = query.where(BESIDE.c.settled_by.is_(None))
        with reading(self.engine) as connection:
            revisions.head_row(connection, record_id)
            return tuple(map(revisions.beside_of, connection.execute(query)))

    def settle(self, beside_id: int, take: Side, **words: Unpack[Told]) -> Saved:
        """Choose between the version set aside (`mine`) and the one that stands (`theirs`).

        Raises `RecordFault` where taking `mine` would leave a record with faults.
        """
        with writing(self.engine) as connection:
            return edits.settle(connection, beside_id, take, Note(kind="settle", **words))

    # The shelf

    def shelf(
        self,
        query: str = "",
        state: State | None = None,
        *,
        limit: int = 50,
        offset: int = 0,
        removed: bool = False,
    ) -> Shelf:
        """Records, newest change first: those that hold a word beginning with each word of `query`."""
        with reading(self.engine) as connection:
            return shelves.shelf(connection, query, state, limit=limit, offset=offset, removed=removed)

    def set_state(self, record_id: str, state: State, at: str) -> None:
        """Where the record stands: being taken apart, waiting for a part, being refitted, closed."""
        if state not in STATES:
            raise BadSetting(f"found the state {state!r}; right: one of {', '.join(STATES)}")
        with writing(self.engine) as connection:
            revisions.touch(connection, record_id, {"state": state, "changed_at": at})

    def clock(self, record_id: str) -> Clock:
        """The bench clock of a record."""
        with reading(self.engine) as connection:
            return shelves.clock(connection, record_id)

    def set_clock(self, record_id: str, clock: Clock) -> None:
        """Set the bench clock of a record."""
        with writing(self.engine) as connection:
            revisions.touch(connection, record_id, shelves.clock_columns(clock))

    def summarise(
        self, record_id: str, revision: int, *, index_class: str, index_value: float | None, drawing: str
    ) -> None:
        """Keep for the shelf what the caller computed from a revision; an older one changes nothing."""
        with writing(self.engine) as connection:
            shelves.summarise(
                connection,
                record_id,
                {
                    "index_of": revision,
                    "index_class": index_class,
                    "index_value": index_value,
                    "drawing": drawing,
                },
            )

    def unsummarised(self, limit: int = 20) -> tuple[tuple[str, int], ...]:
        """Id and newest revision of records whose summary for the shelf is older, last changed first."""
        with reading(self.engine) as connection:
            return shelves.unsummarised(connection, limit)

    def remove(self, record_id: str, at: str) -> None:
        """Take a record off the shelf; nothing of it is lost, `bring_back` puts it back."""
        with writing(self.engine) as connection:
            revisions.touch(connection, record_id, {"removed_at": at})

    def bring_back(self, record_id: str) -> None:
        """Put a removed record back on the shelf."""
        with writing(self.engine) as connection:
            revisions.touch(connection, record_id, {"removed_at": None})

    # Notes of the bench

    def add_note(
        self, thread: str, kind: str, content: str, *, at: str, author: str = "", key: str = ""
    ) -> BenchNote:
        """Add a note to a thread of the bench; the same `key` again gives the same note."""
        with writing(self.engine) as connection:
            return bench_notes.add(connection, BenchNote(0, thread, kind, content, author, at), key)

    def notes(self, thread: str) -> tuple[BenchNote, ...]:
        """Every note of a thread of the bench, the oldest first."""
        with reading(self.engine) as connection:
            return bench_notes.thread(connection, thread)

    def last_note(self, thread: str) -> int:
        """The number of the newest note of a thread of the bench; 0 where there is none."""
        with reading(self.engine) as connection:
            return bench_notes.last(connection, thread)

    # Photos

    def keep_photo(self, record_id: str, photo: CleanPhoto, *, at: str, key: str = "") -> PhotoRow:
        """Keep a photo for a record: files whole on the disk first, then the row.

        The same bytes are kept once; the same `key` again gives the same answer.
        """
        note = Note(at=at, key=key)
        return albums.keep_photo(self.engine, self.folder, record_id, photo, note)

    def photo(self, photo_hash: str, size: Size = "medium") -> Path:
        """The file of a photo, or of what took its place; raises `UnknownRecord`."""
        with reading(self.engine) as connection:
            row = albums.row_of(connection, photo_hash)
        path = photo_files.photo_path(self.folder, row.hash, size)
        if not path.is_file():
            raise UnknownRecord(f"{path}: found no file for this photo; right: bring it back from a backup")
        return path

    def photos(self, record_id: str) -> tuple[PhotoRow, ...]:
        """Every photo kept for a record, whether it shows them or not."""
        with reading(self.engine) as connection:
            revisions.head_row(connection, record_id)
            return albums.photos_of(connection, record_id)

    def replace_photo(self, record_id: str, old_hash: str, photo: CleanPhoto, **words: Unpack[Told]) -> Saved:
        """Put a blacked out photo in the place of the one it was made from, for good.

        Every copy of the old one is deleted; every record, revision and version
        set aside answers with the new hash. It cannot be undone.
        """
        words.setdefault("summary", "photo blacked out")
        note = Note(kind="black_out", **words)
        with told(self.engine):
            albums.put(self.folder, photo)
        with writing(self.engine) as connection:
            before = revisions.answered(connection, note.key, record_id)
            if before is not None:
                return edits.again(connection, *before)
            old = albums.row_of(connection, old_hash).hash
            saved = albums.replace_photo(connection, record_id, old, photo, note)
            revisions.remember(connection, record_id, Answer(saved.revision), note)
        if old != photo.hash:
            with told(self.engine):
                photo_files.drop(self.folder, old)
        return saved

    # In and out

    def export(self, record_id: str, *, originals: bool = False) -> bytes:
        """A record as an archive (zip): its file, the photos it shows, a manifest.

        Photos go out at medium size, or with `originals` in full.
        """
        with told(self.engine):
            return exchange.export(self.engine, self.folder, record_id, originals=originals)

    def bring_in(self, data: bytes, *, file: str = "", **words: Unpack[Told]) -> Saved:
        """A new record from an archive or a record file, told apart by the content.

        Raises `RecordFault` with every fault, `BadArchive`, `BadPhoto` or `TooLarge`.
        """
        found = exchange.arrived(data, file)
        with told(self.engine):
            record, photos = exchange.kept_photos(self.engine, self.folder, found, file or "archive")
        words.setdefault("summary", f"from {file}" if file else "brought in")
        return self._enter(record, "closed", Note(kind="import", **words), photos)

    def backup(self, target: Path, *, at: str) -> Manifest:
        """The whole store in a new folder, each file verified by its SHA-256."""
        return backup.backup(self.engine, self.folder, target, at)

    def restore_backup(self, source: Path, *, at: str, replace: bool = False) -> tuple[Manifest, Path | None]:
        """Put a backup into this store, verified before anything is changed.

        Where the store holds something, `replace` must be said; what it held is
        backed up beside it first, in the folder that is given back.
        """
        return backup.restore(source, self.engine, self.folder, replace=replace, at=at)
