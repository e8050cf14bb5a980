"""`midframe index`: the EU repairability index of a record, with ecodesign and battery findings."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from midframe.cli import shared
from midframe.cli.options import reading_options, readings_of, search_options

if TYPE_CHECKING:
    from midframe.dossier.index import DeviceIndex
    from midframe.record import Record


@click.command("index")
@shared.file_argument
@click.option("--trace", is_flag=True, help="Write out every sum, every step and every duty that is met.")
@click.option(
    "--thorough", is_flag=True, help="Of ways of as few steps try quite different ones too; slower."
)
@search_options
@reading_options
@shared.json_option
def command(file: str, trace: bool, thorough: bool, limit: int | None, as_json: bool, **options: Any) -> None:
    """Compute the EU repairability index, every number with its clause.

    Besides R and its class: each part with what decides, missing data and what
    it could move, ecodesign and battery findings, readings and sources. A
    finding from the data given, not legal advice.
    """
    from midframe.dossier.index import device_index

    record = shared.load(file)
    found = device_index(record, readings_of(options), thorough=thorough, limit=limit)
    if as_json:
        shared.echo_json("index", record, index_data_of(found))
    else:
        shared.echo(index_lines(record, found, trace=trace))


def index_data_of(found: DeviceIndex) -> dict[str, Any]:
    """The index as plain data."""
    from midframe.cli.plain.index import index_data

    return index_data(found)


def index_lines(record: Record, found: DeviceIndex, *, trace: bool = False, brief: bool = False) -> list[str]:
    """The whole sheet; `brief` leaves readings, sources and open duties out."""
    from midframe.cli.sheets.duties import duties_part
    from midframe.cli.sheets.index import closing_part, index_sheet, trace_part
    from midframe.cli.sheets.ways import title_of
    from midframe.sources import cited

    assumed = found.range.text if found.range is not None else ""
    unproven = [one.name for one in found.sequences if one.proven is False]
    documented = [one.name for one in found.sequences if one.basis == "documented"]
    title = title_of(record)
    lines = index_sheet(title, found.index, assumed, documented=documented, unproven=unproven)
    for judgement in found.judgements:
        if judgement.index is None:
            lines += duties_part(judgement, every=trace, none=brief)
    if trace:
        lines += trace_part(found.index)
    if brief:
        return lines
    readings = [f"{one.id} {one.text}" for one in found.index.readings]
    keys = dict.fromkeys(key for judgement in found.judgements for key in judgement.sources)
    return lines + closing_part(readings, map(str, cited(keys)))
