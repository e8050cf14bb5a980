"""Photos on disk, by content hash: `photos/ab/<hash>.jpg`, medium `.m.jpg`, small `.s.jpg`.

A file is written under another name, forced to the disk, renamed, and its
folder forced to the disk; only then may a row in the database name it.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

from midframe.faults import UnknownRecord
from midframe.store.shapes import Size

ENDINGS: Mapping[Size, str] = MappingProxyType({"full": ".jpg", "medium": ".m.jpg", "small": ".s.jpg"})
"""How the file name of each size ends."""


def photo_path(folder: Path, photo_hash: str, size: Size) -> Path:
    """Where a photo lies; raises `UnknownRecord` for what is no hash, so that no path can be smuggled in."""
    if not re.fullmatch(r"[0-9a-f]{64}", photo_hash):
        raise UnknownRecord(f"found no photo {photo_hash[:80]!r}; right: a SHA-256 in hexadecimal")
    return folder / "photos" / photo_hash[:2] / f"{photo_hash}{ENDINGS[size]}"


def put(folder: Path, photo_hash: str, sizes: Mapping[Size, bytes]) -> None:
    """Write the sizes of a photo, so that each is whole on the disk or not there at all."""
    for size, data in sizes.items():
        path = photo_path(folder, photo_hash, size)
        if not path.exists() or path.stat().st_size != len(data):
            write_whole(path, data)


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that it is whole after a power cut, or as it was before; raises `OSError`."""
    make_folder(path.parent)
    beside = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with beside.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    sync_folder(path.parent)


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, each forced to the disk."""
    if folder.is_dir():
        return
    make_folder(folder.parent)
    folder.mkdir(exist_ok=True)
    sync_folder(folder.parent)


def sync_folder(folder: Path) -> None:
    """Force the names in a folder to the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def read_whole(path: Path) -> bytes:
    """The bytes of a photo; raises `UnknownRecord` where its file is gone."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise UnknownRecord(
            f"{path}: found no file for this photo; right: bring it back from a backup"
        ) from None


def drop(folder: Path, photo_hash: str) -> None:
    """Delete every size of a photo, and force that to the disk."""
    for size in ENDINGS:
        path = photo_path(folder, photo_hash, size)
        if path.exists():
            path.unlink()
            sync_folder(path.parent)


def leftovers(folder: Path) -> tuple[Path, ...]:
    """Files that a write cut short has left behind."""
    return tuple((folder / "photos").glob("??/.*.part"))
