"""Where the data lies: the user's data folder, made and tried before anything is served from it."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Mapping
from pathlib import Path

from midframe.faults import StoreTrouble

NETWORK_FILE_SYSTEMS = frozenset(
    {"9p", "afs", "beegfs", "ceph", "cifs", "coda", "davfs", "fuse.davfs", "fuse.rclone", "fuse.sshfs"}
    | {
        "fuse.glusterfs",
        "glusterfs",
        "gpfs",
        "lustre",
        "ncpfs",
        "nfs",
        "nfs4",
        "smb2",
        "smb3",
        "smbfs",
        "virtiofs",
    }
)
"""Kinds of mounts on which a database of one machine may be damaged (common practice, no source)."""

MOUNTS = Path("/proc/self/mountinfo")


def usual_folder(environment: Mapping[str, str], home: Path) -> Path:
    """The data folder where none is named: `midframe` in the user's folder of data.

    >>> usual_folder({}, Path("/home/ada")), usual_folder({"XDG_DATA_HOME": "/data"}, Path("/home/ada"))
    (PosixPath('/home/ada/.local/share/midframe'), PosixPath('/data/midframe'))
    """
    named = Path(environment.get("XDG_DATA_HOME", ""))
    return (named if named.is_absolute() else home / ".local" / "share") / "midframe"


def ready_folder(folder: Path, *, database: bool) -> Path:
    """The folder, made where it is not there, after something was written to it as a trial.

    Raises `StoreTrouble` with what to do: not a folder, not writable, no room,
    or, where a `database` file is to lie in it, on a mount from the network.
    """
    folder = folder.expanduser().absolute()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=folder, prefix=".trial-") as trial:
            trial.write(b"midframe" * 512)
            trial.flush()
            os.fsync(trial.fileno())
    except OSError as error:
        found = (error.strerror or "a fault of the system").lower()
        raise StoreTrouble(
            f"{folder}: found {found}; right: a folder with room that this user can write. "
            "Another one is named by midframe serve --data FOLDER"
        ) from None
    kind = mount_kind(folder)
    if database and kind in NETWORK_FILE_SYSTEMS:
        raise StoreTrouble(
            f"{folder}: found a folder on the network ({kind}), where a database file may be damaged; "
            "right: a folder of this machine (--data FOLDER), or a PostgreSQL store (--store URL)"
        )
    return folder


def mount_kind(folder: Path) -> str:
    """The kind of file system that a folder lies on; empty where the system does not say."""
    try:
        return kind_in(MOUNTS.read_text(encoding="utf-8", errors="replace"), folder.resolve())
    except OSError:
        return ""


def kind_in(mounts: str, folder: Path) -> str:
    r"""The kind of the innermost mount above a folder, in the text of `/proc/self/mountinfo`.

    >>> kind_in("22 1 0:20 / / rw - ext4 /dev/vda rw\n30 22 0:31 / /mnt rw - nfs4 box rw", Path("/mnt/a"))
    'nfs4'
    """
    best, kind = -1, ""
    for line in mounts.splitlines():
        fields = line.split(" ")
        if "-" not in fields or len(fields) < 5:
            continue
        point = Path(re.sub(r"\\([0-7]{3})", lambda found: chr(int(found[1], 8)), fields[4]))
        if folder.is_relative_to(point) and len(point.parts) >= best:
            best, kind = len(point.parts), fields[fields.index("-", 5) + 1]
    return kind
