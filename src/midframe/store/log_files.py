"""Logs of meters on disk, as they came, by content hash: `logs/ab/<hash>.csv`."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

from midframe.faults import TooLarge, UnknownRecord
from midframe.store import photo_files
from midframe.store.engine import told
from midframe.store.store import Store

LARGEST_BYTES = 20_000_000
"""A week of rows a second is about as large; house choice."""


def log_path(folder: Path, log_hash: str) -> Path:
    """Where a log lies; raises `UnknownRecord` for what is no hash, so that no path can be smuggled in."""
    if not re.fullmatch(r"[0-9a-f]{64}", log_hash):
        raise UnknownRecord(f"found no log {log_hash[:80]!r}; right: a SHA-256 in hexadecimal")
    return folder / "logs" / log_hash[:2] / f"{log_hash}.csv"


def keep_log(store: Store, data: bytes, name: str = "log") -> str:
    """Keep a log as it came and give its hash; the same bytes are kept once.

    Raises `TooLarge` for more than 20 MB, `StoreTrouble` where it cannot be written.
    """
    if len(data) > LARGEST_BYTES:
        most = f"a log of at most {LARGEST_BYTES / 1e6:.0f} MB, such as one row in ten"
        raise TooLarge(f"{name}: found {len(data) / 1e6:.0f} MB; right: {most}")
    found = hashlib.sha256(data).hexdigest()
    path = log_path(store.folder, found)
    with told(store.engine):
        if not (path.is_file() and path.stat().st_size == len(data)):
            photo_files.write_whole(path, data)
    return found


def kept_log(store: Store, log_hash: str) -> Path:
    """The file of a log; raises `UnknownRecord` where it is not there."""
    path = log_path(store.folder, log_hash)
    if not path.is_file():
        raise UnknownRecord(f"{path}: found no file for this log; right: give the log once more")
    return path
