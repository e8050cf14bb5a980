"""`midframe compare`: records side by side."""

from __future__ import annotations

from typing import Any

import click
import msgspec

from midframe.cli import shared
from midframe.cli.options import reading_options, readings_of


@click.command("compare")
@click.argument("files", metavar="FILE FILE...", nargs=-1, required=True)
@click.option("--every-part", is_flag=True, help="Ways to parts without a role too.")
@click.option("--no-upkeep", is_flag=True, help="Leave the mean time to repair out, which is faster.")
@click.option("--ranking", is_flag=True, help="How often each comes first while what is not certain varies.")
@click.option("--draws", type=int, default=10_000, show_default=True, help="Draws of the ranking.")
@click.option("--seed", type=int, default=1, show_default=True, help="Seed of the draws.")
@click.option("--every-reading", is_flag=True, help="Draw from all 64 combinations of readings, not from 7.")
@reading_options
@shared.json_option
def command(files: tuple[str, ...], every_part: bool, no_upkeep: bool, as_json: bool, **options: Any) -> None:
    """Set records side by side: ways, index, screws, time to repair.

    Says for each part which joints and covers make the difference, and with
    --ranking how firm the order is. FILE is a path, demo:NAME or -.
    """
    from midframe.cli.plain.studies import compare_data
    from midframe.cli.sheets.compare import compare_sheet
    from midframe.cli.sheets.ranking import ranking_sheet
    from midframe.dossier.compare import CompareOptions, compare
    from midframe.dossier.firmness import FirmnessOptions, firmness
    from midframe.upkeep import UpkeepSettings

    records = [shared.load(file) for file in files]
    ranking = options.pop("ranking")
    drawn = FirmnessOptions(
        draws=options.pop("draws"), seed=options.pop("seed"), every_reading=options.pop("every_reading")
    )
    readings = readings_of(options)
    chosen = CompareOptions(
        readings=readings, every_part=every_part, upkeep=None if no_upkeep else UpkeepSettings()
    )
    found = compare(records, chosen)
    firm = firmness(records, msgspec.structs.replace(drawn, readings=readings)) if ranking else None
    if as_json:
        shared.echo_json("compare", None, compare_data(records, found, firm))
        return
    shared.echo(compare_sheet(found))
    if firm is not None:
        shared.echo(["", *ranking_sheet(firm)])
