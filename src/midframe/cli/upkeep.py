"""`midframe upkeep`: mean time to repair of a device over a mix of failures."""

from __future__ import annotations

from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import counts_option, reading_options, readings_of
from midframe.faults import BadSetting, RecordFault
from midframe.record import faults


@click.command("upkeep")
@shared.file_argument
@counts_option
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Seed of the simulation."
)
@click.option(
    "--draws",
    type=click.IntRange(1_000, 1_000_000),
    default=20_000,
    show_default=True,
    help="Draws of the simulation.",
)
@reading_options
@shared.json_option
def command(file: str, counts: str | None, seed: int, draws: int, as_json: bool, **options: Any) -> None:
    """Estimate mean time to repair over a mix of failures, with intervals.

    Way in, refit and the other tasks of a repair, weighted by how often each
    part fails: by the open repair records that come with midframe, and the
    shop's own counts where they are given.
    """
    from midframe.cli.plain.studies import upkeep_data
    from midframe.cli.sheets.upkeep import upkeep_sheet
    from midframe.dossier.upkeep import device_upkeep
    from midframe.upkeep import UpkeepSettings
    from midframe.ways.reach import reach

    record = shared.load(file)
    own, settings = shared.counts_in(counts), UpkeepSettings(seed=seed, draws=draws)
    try:
        found = device_upkeep(record, own, settings, readings=readings_of(options))
    except BadSetting as error:
        locked = faults(reach(record)) if str(error).startswith("parts:") else ()
        if locked:
            raise RecordFault(locked) from None
        raise
    if as_json:
        shared.echo_json("upkeep", record, upkeep_data(found))
    else:
        shared.echo(upkeep_sheet(record, found))
