"""A published device put where it should lie: a folder that is whole or not there, or one zip file."""

from __future__ import annotations

import hashlib
import io
import os
import shutil
import stat
import zipfile
from collections.abc import Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from tempfile import mkdtemp

import msgspec

from midframe.faults import BadSetting
from midframe.publish.site import FORMAT, MANIFEST, Manifest

NAMED = 3
"""How many files a message names before it says how many more there are."""


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write the files of a site into a folder, all or none.

    They are written beside it first and take its place at once. An older site is replaced only where
    nothing in it was added or changed since.

    Raises
    ------
    BadSetting
        Where the folder holds anything else, or cannot be written.
    """
    target = Path(os.path.realpath(folder))
    if found := foreign(target):
        more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
        raise BadSetting(
            f"{folder}: found what is no unchanged site of its own ({', '.join(found[:NAMED])}{more}); "
            "right: a new folder, or an empty one"
        )
    try:
        beside = Path(mkdtemp(prefix=f".{target.name}-", dir=made(target.parent)))
        try:
            written(beside, files)
            exchanged(beside, target)
        finally:
            shutil.rmtree(beside, ignore_errors=True)
    except OSError as error:
        found_ = (error.strerror or "a fault of the system").lower()
        raise BadSetting(f"{folder}: found {found_}; right: a folder that can be written") from None


def made(folder: Path) -> Path:
    """A folder, made where it is not there."""
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def written(folder: Path, files: Mapping[str, bytes]) -> None:
    """The files in a folder, forced to the disk."""
    folder.chmod(0o755)
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())


def exchanged(new: Path, target: Path) -> None:
    """The new folder in the place of the old one; the old one comes back where that fails."""
    if not target.exists():
        new.rename(target)
        return
    old = Path(mkdtemp(prefix=f".{target.name}-old-", dir=target.parent))
    try:
        target.rename(old / "site")
        try:
            new.rename(target)
        except BaseException:
            (old / "site").rename(target)
            raise
    except BaseException:
        remove_empty(old)
        raise
    shutil.rmtree(old, ignore_errors=True)


def remove_empty(folder: Path) -> None:
    """A folder taken away where nothing is in it."""
    with suppress(OSError):
        folder.rmdir()


def foreign(folder: Path) -> list[str]:
    """What in a folder is not of an unchanged site; nothing where the folder is absent or empty."""
    if not folder.exists():
        return []
    if not folder.is_dir():
        return ["a file of this name"]
    there = {path.relative_to(folder).as_posix() for path in walked(folder)}
    try:
        known = msgspec.json.decode((folder / MANIFEST).read_bytes(), type=Manifest)
    except (OSError, msgspec.MsgspecError):
        return sorted(there)
    if known.format > FORMAT:
        return [MANIFEST]
    return sorted(name for name in there - {MANIFEST} if not unchanged(folder / name, known.files.get(name)))


def walked(folder: Path) -> Iterator[Path]:
    """Everything in a folder that is no folder; links are not followed."""
    for path in folder.rglob("*"):
        if path.is_symlink() or not path.is_dir():
            yield path


def unchanged(path: Path, known: str | None) -> bool:
    """Whether a file is a plain one with the content that was written."""
    plain = not path.is_symlink() and path.is_file()
    return plain and known == hashlib.sha256(path.read_bytes()).hexdigest()


def zipped(files: Mapping[str, bytes]) -> bytes:
    """The files as one zip; the same files give the same bytes.

    >>> zipped({"a.txt": b"x"}) == zipped({"a.txt": b"x"})
    True
    """
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for name, data in files.items():
            info = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            info.external_attr = (stat.S_IFREG | 0o644) << 16
            packed = name.endswith((".jpg", ".pdf"))
            info.compress_type = zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED
            archive.writestr(info, data)
    return held.getvalue()
