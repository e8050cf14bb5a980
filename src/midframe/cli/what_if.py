"""`midframe what-if`: every single design change of a device, ranked by what it gains."""

from __future__ import annotations

from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import counts_option, reading_options, readings_of, search_options


@click.command("what-if")
@shared.file_argument
@click.option("--top", type=click.IntRange(min=1), default=15, show_default=True, help="How many are shown.")
@click.option(
    "--sort",
    type=click.Choice(["index", "minutes"]),
    default="index",
    show_default=True,
    help="What comes first: the gain in the index, or the minutes saved.",
)
@click.option("--no-times", is_flag=True, help="Leave the minutes out, which is faster.")
@counts_option
@search_options
@reading_options
@shared.json_option
def command(
    file: str, top: int, sort: str, counts: str | None, limit: int | None, as_json: bool, **options: Any
) -> None:
    """Rank every single design change by what it gains in index and minutes.

    Each change is made by itself on the record, and everything is computed
    anew: R, its class and scores, steps, the ways in to all parts. --json gives
    all of them, whatever --top says.
    """
    from midframe.cli.plain.studies import what_if_data
    from midframe.cli.sheets.what_if import by_minutes, what_if_sheet
    from midframe.dossier.what_if import Options, what_if

    record = shared.load(file)
    chosen = Options(
        own_counts=shared.counts_in(counts),
        times=not options.pop("no_times"),
        limit=limit,
        readings=readings_of(options),
    )
    found = what_if(record, chosen, progress=shared.progress("change"))
    if sort == "minutes":
        found = by_minutes(found)
    if as_json:
        shared.echo_json("what-if", record, what_if_data(found))
    else:
        shared.echo(what_if_sheet(record, found, top, times=chosen.times))
