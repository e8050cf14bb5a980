"""Backup of a whole store into a folder, and the way back; every file is verified by its SHA-256.

A backup is the same whatever database the store is on: `midframe.db` (SQLite),
photos, logs of meters, and `manifest.json` with the SHA-256 of each. So a
store can also move from SQLite to PostgreSQL and back.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import msgspec
from sqlalchemy import Engine, delete, insert, select, text

from midframe.faults import BadArchive, BadSetting, StoreTrouble
from midframe.store import albums, photo_files
from midframe.store.engine import engine_for, migrate, reading, told, writing
from midframe.store.tables import BENCH_NOTES, BESIDE, METADATA, PHOTOS, RECORDS
from midframe.store.words import index_words

DATABASE = "midframe.db"
MANIFEST = "manifest.json"
CHUNK = 2**20
ROWS = 200
"""Bytes read, and rows copied, at a time; house choice."""


class File(msgspec.Struct, frozen=True):
    """What a backup says of one of its files."""

    sha256: str
    bytes: int


class Manifest(msgspec.Struct, frozen=True):
    """What a backup holds."""

    format: int
    made_at: str
    records: int
    revisions: int
    photos: int
    files: dict[str, File]


def backup(engine: Engine, folder: Path, target: Path, at: str) -> Manifest:
    """Copy a store into a new folder and read every file again; only then the folder gets its name.

    Raises `BadSetting` where something is there already, `StoreTrouble` where
    it cannot be written, or where a photo of the store is gone or damaged.
    """
    target = target.absolute()
    if target.exists() and (not target.is_dir() or any(target.iterdir())):
        raise BadSetting(f"{target}: found something there; right: a new or an empty folder")
    beside = target.with_name(f".{target.name}.part")
    with told(engine):
        shutil.rmtree(beside, ignore_errors=True)
        photo_files.make_folder(beside)
        try:
            manifest = filled(engine, folder, beside, at)
            if target.exists():
                target.rmdir()
            beside.rename(target)
            photo_files.sync_folder(target.parent)
        except BaseException:
            shutil.rmtree(beside, ignore_errors=True)
            raise
    return manifest


def filled(engine: Engine, folder: Path, target: Path, at: str) -> Manifest:
    """The database, then the photos that it names, then the manifest."""
    copy_database(engine, target / DATABASE)
    records, edits, hashes = looked_through(target / DATABASE)
    with reading(engine) as connection:
        gone = set(albums.blacked_out(connection))  # blacked out since the database was copied
    files = {DATABASE: file_of(target / DATABASE)}
    for photo_hash in hashes:
        if photo_hash not in gone:
            files |= dict(copied_photo(folder, target, photo_hash))
    photos = (len(files) - 1) // len(photo_files.ENDINGS)
    files |= dict(copied_logs(folder, target))
    manifest = Manifest(format=1, made_at=at, records=records, revisions=edits, photos=photos, files=files)
    photo_files.write_whole(target / MANIFEST, msgspec.json.format(msgspec.json.encode(manifest), indent=1))
    verify(target, manifest)
    return manifest


def copy_database(engine: Engine, target: Path) -> None:
    """A copy of the database as it is at one moment, as a SQLite file that is whole on the disk."""
    if engine.dialect.name == "sqlite":
        raw = engine.raw_connection()
        try:
            raw.cursor().execute("VACUUM INTO ?", (str(target),))
        finally:
            raw.close()
    else:
        copied = engine_for(f"sqlite:///{target}")
        migrate(copied)
        copy_rows(engine, copied)
        copied.dispose()
        with closing(sqlite3.connect(target)) as connection:
            connection.execute("PRAGMA journal_mode=delete")
    with target.open("rb") as stream:
        os.fsync(stream.fileno())
    photo_files.sync_folder(target.parent)


def looked_through(database: Path) -> tuple[int, int, tuple[str, ...]]:
    """Records, revisions and photos of a database file; raises `StoreTrouble` where it is damaged."""
    with closing(sqlite3.connect(f"{database.as_uri()}?mode=ro", uri=True)) as connection:
        said = connection.execute("PRAGMA integrity_check").fetchone()[0]
        if said != "ok":
            raise StoreTrouble(f"{database}: found a damaged database ({said}); right: an older backup")
        records, edits = (
            connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
            for table in ("records", "revisions")
        )
        hashes = connection.execute("SELECT hash FROM photos WHERE successor IS NULL").fetchall()
    return records, edits, tuple(row[0] for row in hashes)


def copy_rows(source: Engine, target: Engine) -> None:
    """Every row of one store in place of those of another, in one transaction on each side."""
    with reading(source, snapshot=True) as reader, writing(target) as writer:
        for table in reversed(METADATA.sorted_tables):
            if table is RECORDS:
                writer.execute(text("DELETE FROM search"))
            writer.execute(delete(table))
        for table in METADATA.sorted_tables:
            for rows in reader.execute(select(table)).mappings().partitions(ROWS):
                writer.execute(insert(table), [dict(row) for row in rows])
        for row in writer.execute(select(RECORDS.c.seat, RECORDS.c.words)).all():
            index_words(writer, row.seat, row.words, new=True)
        if target.dialect.name == "postgresql":
            for table, column in ((RECORDS, "seat"), (BESIDE, "id"), (BENCH_NOTES, "id")):
                following = f"COALESCE(MAX({column}), 0) + 1"
                writer.execute(
                    text(
                        f"SELECT setval(pg_get_serial_sequence('{table.name}', '{column}'), "  # noqa: S608
                        f"(SELECT {following} FROM {table.name}), false)"
                    )
                )


def copied_photo(folder: Path, target: Path, photo_hash: str) -> Iterator[tuple[str, File]]:
    """Copy the sizes of a photo; raises `StoreTrouble` where one is gone or its bytes are not those kept."""
    for size in photo_files.ENDINGS:
        source = photo_files.photo_path(folder, photo_hash, size)
        copy = photo_files.photo_path(target, photo_hash, size)
        photo_files.make_folder(copy.parent)
        if not source.is_file():
            raise StoreTrouble(f"{source}: found no file for this photo; right: bring it back from a backup")
        shutil.copyfile(source, copy)
        with copy.open("rb") as stream:
            os.fsync(stream.fileno())
        file = file_of(source)
        if size == "full" and file.sha256 != photo_hash:
            raise StoreTrouble(
                f"{source}: found other bytes than were kept; right: bring it back from a backup"
            )
        yield copy.relative_to(target).as_posix(), file


def copied_logs(folder: Path, target: Path) -> Iterator[tuple[str, File]]:
    """Copy the logs of meters; raises `StoreTrouble` where the bytes of one are not those kept."""
    for source in sorted((folder / "logs").glob("??/*.csv")):
        name = source.relative_to(folder)
        photo_files.write_whole(target / name, source.read_bytes())
        file = file_of(source)
        if file.sha256 != source.stem:
            raise StoreTrouble(f"{source}: found other bytes than were kept; right: take this log away")
        yield name.as_posix(), file


def file_of(path: Path) -> File:
    """SHA-256 and size of a file."""
    digest = hashlib.sha256()
    size = 0
    with path.open("rb") as stream:
        while chunk := stream.read(CHUNK):
            digest.update(chunk)
            size += len(chunk)
    return File(digest.hexdigest(), size)


def manifest_in(source: Path) -> Manifest:
    """The manifest of a backup; raises `BadArchive` where there is none that can be read."""
    try:
        manifest = msgspec.json.decode((source / MANIFEST).read_bytes(), type=Manifest)
    except FileNotFoundError:
        raise BadArchive(f"{source}: found no {MANIFEST}; right: a folder made by a backup") from None
    except OSError as error:
        raise BadArchive(f"{source}: found {error.strerror}; right: a folder made by a backup") from None
    except msgspec.MsgspecError as error:
        raise BadArchive(f"{source / MANIFEST}: found {error}; right: as the backup wrote it") from None
    if manifest.format != 1:
        raise BadArchive(
            f"{source / MANIFEST}: found format {manifest.format}; right: 1, or a newer midframe"
        )
    return manifest


def verify(source: Path, manifest: Manifest) -> None:
    """Every file there, none more, each with its SHA-256; raises `BadArchive` with every one that is not."""
    wrong = []
    for name, file in manifest.files.items():
        path = source / name
        if not inside(source, path) or not path.is_file() or path.is_symlink():
            wrong.append(f"{path}: found no such file; right: the file that was backed up")
        elif file_of(path) != file:
            wrong.append(
                f"{path}: found other bytes than were backed up; right: those with SHA-256 {file.sha256}"
            )
    there = {path.relative_to(source).as_posix() for path in source.rglob("*") if not path.is_dir()}
    wrong += [
        f"{source / name}: found a file that the manifest does not name; right: only what was backed up"
        for name in sorted(there - set(manifest.files) - {MANIFEST})
    ]
    if DATABASE not in manifest.files:
        wrong.append(f"{source / MANIFEST}: found no {DATABASE} in it; right: as the backup wrote it")
    if wrong:
        raise BadArchive("\n".join(wrong))


def inside(folder: Path, path: Path) -> bool:
    """Whether a path stays in a folder."""
    return ".." not in path.parts and path.is_relative_to(folder)


def restore(
    source: Path, engine: Engine, folder: Path, *, replace: bool, at: str
) -> tuple[Manifest, Path | None]:
    """Put a backup into a store; what the store held before is backed up beside it first, and where is told.

    Everything is verified before anything is changed. Raises `BadArchive` for
    a damaged backup, `BadSetting` where the store holds something and `replace` is not said.
    """
    manifest = manifest_in(source)
    verify(source, manifest)
    before = None
    if holds_anything(engine):
        if not replace:
            raise BadSetting(
                f"{folder}: found a store that holds records; "
                "right: an empty one, or say that it is to be replaced"
            )
        before = free_name(folder)
        backup(engine, folder, before, at)
    with told(engine):
        put_photos(source, folder, manifest)
        photo_files.make_folder(folder)
        loaded = folder / f".{DATABASE}.restored"
        shutil.copyfile(source / DATABASE, loaded)
        copied = engine_for(f"sqlite:///{loaded}")
        try:
            migrate(copied)
            copy_rows(copied, engine)
        finally:
            copied.dispose()
            for path in folder.glob(f"{loaded.name}*"):
                path.unlink()
        if before is not None:
            drop_others(folder, manifest)
    return manifest, before


def drop_others(folder: Path, manifest: Manifest) -> None:
    """Delete the photos of the store that was there; its backup holds them."""
    for path in (folder / "photos").glob("??/*.jpg"):
        if path.relative_to(folder).as_posix() not in manifest.files:
            path.unlink()


def holds_anything(engine: Engine) -> bool:
    """Whether a store has a record, a photo or a note of the bench."""
    with reading(engine) as connection:
        return any(
            connection.execute(select(table.primary_key.columns[0]).limit(1)).first() is not None
            for table in (RECORDS, PHOTOS, BENCH_NOTES)
        )


def free_name(folder: Path) -> Path:
    """A folder beside the store that is not there yet."""
    number = 1
    while (found := folder.with_name(f"{folder.name}.before-{number}")).exists():
        number += 1
    return found


def put_photos(source: Path, folder: Path, manifest: Manifest) -> None:
    """The photos of a backup in the folder of the store, each whole on the disk."""
    for name, file in manifest.files.items():
        path = folder / name
        if name != DATABASE and not (path.is_file() and file_of(path) == file):
            photo_files.write_whole(path, (source / name).read_bytes())
