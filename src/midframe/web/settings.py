"""How the bench is served: where the data lies, who may reach it, how large things may be."""

from __future__ import annotations

from pathlib import Path

import msgspec


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """Settings of one server.

    `hosts` are the names and addresses it answers to, without port; `share` opens it to the
    bench network with pairing; `addresses` are how others reach it then. `place` says where the
    records lie, for a person to read. Limits are in bytes: `most_photo_bytes` a photo, `most_archive_bytes`
    an archive, `most_form_bytes` everything else.
    """

    folder: Path
    hosts: tuple[str, ...] = ("127.0.0.1", "localhost", "[::1]")
    share: bool = False
    pair_everyone: bool = False
    port: int = 8310
    place: str = ""
    addresses: tuple[str, ...] = ()
    most_form_bytes: int = 2_000_000
    most_photo_bytes: int = 40_000_000
    most_archive_bytes: int = 1_000_000_000
    worker_processes: int = 2
