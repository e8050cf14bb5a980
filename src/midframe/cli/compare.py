"""`midframe compare`: records side by side."""

from __future__ import annotations

from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import reading_options, readings_of


@click.command("compare")
@click.argument("files", metavar="FILE FILE...", nargs=-1, required=True)
@click.option("--every-part", is_flag=True, help="Ways to parts without a role too.")
@click.option("--no-upkeep", is_flag=True, help="Leave the mean time to repair out, which is faster.")
@reading_options
@shared.json_option
def command(files: tuple[str, ...], every_part: bool, no_upkeep: bool, as_json: bool, **options: Any) -> None:
    """Set records side by side: ways, index, screws, time to repair.

    Says for each part which joints and covers make the difference. FILE is a
    path, demo:NAME or -.
    """
    from midframe.cli.plain.studies import compare_data
    from midframe.cli.sheets.compare import compare_sheet
    from midframe.dossier.compare import CompareOptions, compare
    from midframe.upkeep import UpkeepSettings

    records = [shared.load(file) for file in files]
    chosen = CompareOptions(
        readings=readings_of(options),
        every_part=every_part,
        upkeep=None if no_upkeep else UpkeepSettings(),
    )
    found = compare(records, chosen)
    if as_json:
        shared.echo_json("compare", None, compare_data(records, found))
    else:
        shared.echo(compare_sheet(found))
