"""`midframe backup`: the whole store in a folder, verified."""

from __future__ import annotations

from pathlib import Path

import click

from midframe.cli import shared
from midframe.cli.data import DATABASE, folder_of, opened, store_options, utc_now
from midframe.cli.sheets.figures import count
from midframe.faults import BadSetting


@click.command("backup")
@click.argument("target", metavar="TARGET")
@store_options
def command(target: str, data: str | None, url: str | None) -> None:
    """Copy the whole store into a folder, verified by hash.

    TARGET is a new folder. It gets every record with all revisions, every
    photo, and a list of the SHA-256 of each file; every file is read again and
    compared. May run while the bench is open. A photo blacked out after a
    backup is still whole in that backup.
    """
    place = folder_of(data)
    if not url and not (place / DATABASE).exists():
        raise BadSetting(f"{place}: found no store; right: --data with the folder that midframe serve uses")
    with opened(data, url) as store:
        made = store.backup(Path(target), at=utc_now())
    shared.echo(
        [
            f"{target}: {count(made.records, 'record')} with {count(made.revisions, 'revision')}, "
            f"{count(made.photos, 'photo')}; {count(len(made.files), 'file')} verified by SHA-256."
        ]
    )
