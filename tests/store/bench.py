"""What the tests of the store do on the bench: a small record, edits of it, photos."""

from __future__ import annotations

import hashlib

import msgspec

from midframe.photos import CleanPhoto
from midframe.record import read
from midframe.record.model import LogEntry, Photo
from record.sample import TERN

AT = "2026-11-25T08:00:00Z"


def tern():
    return read(TERN)


def with_part(record, name, **changes):
    return msgspec.structs.replace(
        record,
        parts=tuple(msgspec.structs.replace(p, **changes) if p.id == name else p for p in record.parts),
    )


def part(record, name):
    return next(one for one in record.parts if one.id == name)


def logged(record, seconds, note, photo=""):
    entry = LogEntry(seconds=seconds, note=note, photo=photo)
    return msgspec.structs.replace(record, log=(*record.log, entry))


def showing(record, *hashes):
    return msgspec.structs.replace(record, photos=(*record.photos, *(Photo(hash=one) for one in hashes)))


def photo(text):
    """Bytes in the shape of a photo; what they show is no business of the store."""
    data = text.encode()
    return CleanPhoto(
        hash=hashlib.sha256(data).hexdigest(),
        full=data,
        medium=data + b" medium",
        small=data + b" small",
        width=4000,
        height=3000,
    )
