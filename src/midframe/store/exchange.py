"""Records out of the store and into it: archives and record files."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Engine, select

from midframe.faults import BadArchive, BadPhoto, TooLarge
from midframe.record import Record, read
from midframe.store import albums, archive, photo_files, revisions
from midframe.store.archive import Archive
from midframe.store.engine import reading
from midframe.store.shapes import Size
from midframe.store.tables import PHOTOS

if TYPE_CHECKING:
    from midframe.photos import CleanPhoto

MOST_TEXT_BYTES = 20 * 2**20
"""Bytes of a record file at most: a record is text of some kB; house choice."""


def export(engine: Engine, folder: Path, record_id: str, *, originals: bool) -> bytes:
    """The archive of a record as it stands, with the photos it shows."""
    with reading(engine) as connection:
        head = revisions.head_row(connection, record_id).head
        record = revisions.content(connection, record_id, head)
        held = [row.hash for row in albums.held(connection, albums.hashes_of(record))]
    size: Size = "full" if originals else "medium"
    photos = {name: photo_files.read_whole(photo_files.photo_path(folder, name, size)) for name in held}
    return archive.pack(record, photos, originals=originals)


def arrived(data: bytes, file: str) -> Archive:
    """What came in: an archive, or the text of a record; told apart by the content.

    Raises `RecordFault`, `BadArchive` or `TooLarge`.
    """
    if archive.is_archive(data):
        return archive.read_archive(data, file or "archive")
    if len(data) > MOST_TEXT_BYTES:
        raise TooLarge(f"{file or 'record'}: found {len(data)} bytes; right: at most {MOST_TEXT_BYTES}")
    return Archive(read(archive.text_in(data, file or "record"), file), {}, originals=False)


def kept_photos(engine: Engine, folder: Path, found: Archive, file: str) -> tuple[Record, list[CleanPhoto]]:
    """The photos of an archive, cleaned anew and on the disk, and the record that names them as they are now.

    A full photo keeps its hash; one of medium size gets a hash of its own,
    unless the store has the full one. What was blacked out here stays so.
    """
    from midframe.photos import adopt, clean

    with reading(engine) as connection:
        known = set(connection.execute(select(PHOTOS.c.hash)).scalars())
    changed: dict[str, str] = {}
    kept: list[CleanPhoto] = []
    for name, data in found.photos.items():
        if name in known:
            continue
        try:
            photo = adopt(data) if found.originals else clean(data)
        except (BadPhoto, TooLarge) as error:
            raise type(error)(f"{file}/photos/{name}.jpg: {error}") from None
        if found.originals and photo.hash != name:
            raise BadArchive(
                f"{file}/photos/{name}.jpg: found other bytes than its name says; right: as exported"
            )
        albums.put(folder, photo)
        changed[name] = photo.hash
        kept.append(photo)
    return albums.renamed(found.record, changed) if changed else found.record, kept
