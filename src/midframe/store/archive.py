"""One record as an archive: `record.device.toml`, its photos, and a manifest with the SHA-256 of each.

Reading trusts nothing: names, number, size and compression of the members are
bounded before anything is unpacked, every byte is checked against the manifest.
"""

from __future__ import annotations

import hashlib
import io
import re
import stat
import zipfile
import zlib
from collections.abc import Mapping
from typing import IO

import msgspec

from midframe.faults import BadArchive, Fault, TooLarge
from midframe.record import Record, read, write
from midframe.record.findings import one_line

RECORD = "record.device.toml"
MANIFEST = "manifest.json"
PHOTO = re.compile(r"photos/([0-9a-f]{64})\.jpg")

MOST_MEMBERS = 2_000
MOST_BYTES = 2**30
MOST_MEMBER_BYTES = 64 * 2**20
MOST_RATIO = 200
FREE_BYTES = 2**20
"""Bounds of an archive, house choice: members, bytes in all and of one member once unpacked, how many
times smaller a member of more than `FREE_BYTES` may have been packed."""

UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    NotImplementedError,
    RuntimeError,
    OSError,
    ValueError,  # a place before the beginning, in a spoilt list of members
)
"""What reading a damaged zip may raise."""


class Member(msgspec.Struct, frozen=True):
    """What the manifest says of one file."""

    sha256: str
    bytes: int


class Sheet(msgspec.Struct, frozen=True):
    """The manifest of an archive; `originals` tells full photos from those of medium size."""

    format: int
    name: str
    originals: bool
    files: dict[str, Member]


class Archive(msgspec.Struct, frozen=True):
    """What an archive holds: the record, and the bytes of photos by the hash that the record names."""

    record: Record
    photos: dict[str, bytes]
    originals: bool


def pack(record: Record, photos: Mapping[str, bytes], *, originals: bool) -> bytes:
    """The archive of a record; the same record and photos give the same bytes."""
    files = {RECORD: write(record).encode()}
    files |= {f"photos/{name}.jpg": data for name, data in sorted(photos.items())}
    members = {name: Member(hashlib.sha256(data).hexdigest(), len(data)) for name, data in files.items()}
    sheet = Sheet(format=1, name=record.device.name, originals=originals, files=members)
    files = {MANIFEST: msgspec.json.format(msgspec.json.encode(sheet), indent=2), **files}
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, data in files.items():
            info = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            info.external_attr = (stat.S_IFREG | 0o644) << 16
            info.compress_type = zipfile.ZIP_STORED if name.endswith(".jpg") else zipfile.ZIP_DEFLATED
            archive.writestr(info, data)
    return target.getvalue()


def is_archive(data: bytes) -> bool:
    """Whether the bytes begin like an archive."""
    return data.startswith((b"PK\x03\x04", b"PK\x05\x06"))


def read_archive(data: bytes, file: str = "archive") -> Archive:
    """What is in an archive.

    Raises `BadArchive` for one that is damaged or holds what it must not,
    `TooLarge` beyond the bounds, `RecordFault` with every fault of the record.
    """
    file = one_line(file)
    if len(data) > MOST_BYTES:
        raise TooLarge(f"{file}: found {len(data)} bytes; right: at most {MOST_BYTES}")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            infos = bounded(archive.infolist(), file)
            sheet = sheet_of(archive, infos, file)
            found = {name: checked(archive, infos[name], sheet.files[name], file) for name in sheet.files}
    except Fault:
        raise
    except UNREADABLE as error:
        raise BadArchive(
            f"{file}: found a damaged archive ({one_line(str(error)) or 'cut short'}); right: one as exported"
        ) from error
    text = found.pop(RECORD)
    record = read(text_in(text, file), f"{file}/{RECORD}")
    photos = {match[1]: data for name, data in found.items() if (match := PHOTO.fullmatch(name))}
    return Archive(record, photos, sheet.originals)


def bounded(infos: list[zipfile.ZipInfo], file: str) -> dict[str, zipfile.ZipInfo]:
    """The members by name, within every bound."""
    if len(infos) > MOST_MEMBERS:
        raise TooLarge(f"{file}: found {len(infos)} files in it; right: at most {MOST_MEMBERS}")
    found: dict[str, zipfile.ZipInfo] = {}
    for info in infos:
        wrong = wrong_with(info, found)
        if wrong:
            raise BadArchive(f"{file}: found {wrong}; right: {RECORD}, {MANIFEST} and photos/HASH.jpg only")
        if info.file_size > MOST_MEMBER_BYTES:
            raise TooLarge(
                f"{file}/{one_line(info.filename)}: found {info.file_size} bytes; "
                f"right: at most {MOST_MEMBER_BYTES}"
            )
        found[info.filename] = info
    total = sum(info.file_size for info in infos)
    if total > MOST_BYTES:
        raise TooLarge(f"{file}: found {total} bytes once unpacked; right: at most {MOST_BYTES}")
    return found


def wrong_with(info: zipfile.ZipInfo, before: Mapping[str, zipfile.ZipInfo]) -> str:
    """What is wrong with a member, or nothing."""
    name, kind = info.orig_filename, stat.S_IFMT(info.external_attr >> 16)
    shown = f'"{one_line(name)}"'
    packed = max(1, info.compress_size)
    checks = (
        (name.startswith(("/", "\\")) or bool(re.match(r"[A-Za-z]:", name)), f"the absolute path {shown}"),
        (".." in re.split(r"[/\\]", name), f"the path {shown} that leads out of the archive"),
        (kind == stat.S_IFLNK, f"the link {shown}"),
        (kind not in (0, stat.S_IFREG), f"{shown}, which is no plain file"),
        (name in before, f"{shown} twice"),
        (bool(info.flag_bits & 1), f"{shown}, which is encrypted"),
        (info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED), f"{shown} packed another way"),
        (name not in (RECORD, MANIFEST) and not PHOTO.fullmatch(name), f"the file {shown}"),
        (
            info.file_size > FREE_BYTES and info.file_size > MOST_RATIO * packed,
            f"{shown}, packed {info.file_size // packed} times smaller than it is",
        ),
    )
    return next((what for bad, what in checks if bad), "")


def sheet_of(archive: zipfile.ZipFile, infos: Mapping[str, zipfile.ZipInfo], file: str) -> Sheet:
    """The manifest, which names exactly the files that are there."""
    if MANIFEST not in infos:
        raise BadArchive(f"{file}: found no {MANIFEST}; right: an archive as exported")
    try:
        sheet = msgspec.json.decode(unpacked(archive, infos[MANIFEST], file), type=Sheet)
    except msgspec.MsgspecError as error:
        raise BadArchive(f"{file}/{MANIFEST}: found {one_line(str(error))}; right: as exported") from None
    if sheet.format != 1:
        raise BadArchive(f"{file}/{MANIFEST}: found format {sheet.format}; right: 1, or a newer midframe")
    there = set(infos) - {MANIFEST}
    for name in sorted(there ^ (set(sheet.files) | {RECORD})):
        where = "that the manifest does not name" if name in there else "missing"
        raise BadArchive(f'{file}: found "{one_line(name)}" {where}; right: an archive as exported')
    if RECORD not in sheet.files:
        raise BadArchive(f"{file}/{MANIFEST}: found no {RECORD} in it; right: as exported")
    return sheet


def checked(archive: zipfile.ZipFile, info: zipfile.ZipInfo, member: Member, file: str) -> bytes:
    """The bytes of a member, the same as when it was exported."""
    data = unpacked(archive, info, file)
    if len(data) != member.bytes or hashlib.sha256(data).hexdigest() != member.sha256:
        raise BadArchive(f"{file}/{info.filename}: found other bytes than were exported; right: as exported")
    return data


def unpacked(archive: zipfile.ZipFile, info: zipfile.ZipInfo, file: str) -> bytes:
    """The bytes of a member, never more than it said."""
    with archive.open(info) as stream:
        data = bounded_read(stream, info.file_size)
    if len(data) > info.file_size:
        raise BadArchive(f"{file}/{info.filename}: found more bytes than it says; right: as exported")
    return data


def bounded_read(stream: IO[bytes], most: int) -> bytes:
    """At most one byte more than `most`."""
    return stream.read(most + 1)


def text_in(data: bytes, file: str) -> str:
    """Bytes as text; raises `BadArchive` where they are no UTF-8."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadArchive(
            f"{file}: found bytes that are no UTF-8 at {error.start}; right: UTF-8 text"
        ) from None
