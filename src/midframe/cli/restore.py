"""`midframe restore`: the store from a backup, verified before anything is changed."""

from __future__ import annotations

from pathlib import Path

import click

from midframe.cli import shared
from midframe.cli.data import opened, store_options, utc_now
from midframe.cli.sheets.figures import count


@click.command("restore")
@click.argument("source", metavar="SOURCE")
@click.option(
    "--replace", is_flag=True, help="Replace what the store holds; that is backed up beside it first."
)
@store_options
def command(source: str, replace: bool, data: str | None, url: str | None) -> None:
    """Put a backup into the store, verified by hash.

    SOURCE is the folder of the backup. Every file is compared with its SHA-256
    before anything is changed. A store that holds records is left alone unless
    --replace is given.
    """
    with opened(data, url) as store:
        put, before = store.restore_backup(Path(source), at=utc_now(), replace=replace)
    lines = [
        f"{count(put.records, 'record')} and {count(put.photos, 'photo')} from the backup of {put.made_at}."
    ]
    if before is not None:
        lines.append(f"What the store held before lies in {before}.")
    shared.echo(lines)
