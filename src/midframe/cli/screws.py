"""`midframe screws`: tally, wrong-hole hazards, and the screw sheet to print."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from midframe.cli import shared
from midframe.faults import BadSetting
from midframe.record import Record

SUFFIXES = (".pdf", ".html", ".svg")


@click.command("screws")
@shared.file_argument
@click.option("--all", "everything", is_flag=True, help="List the mild hazards too.")
@click.option("-o", "--output", metavar="OUT", help="Write the screw sheet: OUT ends in .pdf, .html or .svg.")
@click.option("--force", is_flag=True, help="Replace OUT where it is there already.")
@click.option(
    "--paper",
    type=click.Choice(["A4", "letter"]),
    default="A4",
    show_default=True,
    help="Paper of the sheet.",
)
@click.option(
    "--lie",
    type=click.Choice(["upright", "landscape"]),
    help="How the paper lies; by default as takes fewer pages.",
)
@click.option(
    "--side", type=click.Choice(["front", "back"]), help="One side only; by default all with screws."
)
@click.option("--to", "part", metavar="PART", help="The order out is that of the way to PART.")
@click.option("--link", default="", metavar="URL", help="Address that the codes on the labels open.")
@shared.json_option
def command(file: str, output: str | None, as_json: bool, **options: Any) -> None:
    """Tally the screws, rank wrong-hole hazards, print the screw sheet.

    The sheet shows every hole at its place at true scale, with kind, length
    and order out, and labels for the trays. PDF needs Chromium; HTML prints
    from any browser at 100 % without margins.
    """
    from midframe.cli.plain.screws import screws_data
    from midframe.cli.sheets.screws import screws_sheet

    record = shared.load(file)
    written = [] if output is None else write_sheet(record, Path(output), options)
    if as_json:
        shared.echo_json("screws", record, {"files": written, **screws_data(record)})
    elif output is not None:
        shared.echo([f"Screw sheet of {record.device.name}: {', '.join(written)}"])
    else:
        shared.echo(screws_sheet(record, everything=options["everything"]))


def write_sheet(record: Record, output: Path, options: dict[str, Any]) -> list[str]:
    """Write the sheet and give the names of the files."""
    kind = output.suffix.lower()
    if kind not in SUFFIXES:
        raise BadSetting(f"--output: found '{output}'; right: a name that ends in .pdf, .html or .svg")
    from midframe.publish.printing import print_pdf
    from midframe.publish.screw_pages import sheet_html, sheet_svg

    sheets = made_sheets(record, options)
    if kind != ".svg":
        html = sheet_html(sheets, link=options["link"])
        content = print_pdf(html) if kind == ".pdf" else html
        shared.write_new(output, content, overwrite=options["force"])
        return [str(output)]
    pages = [page for sheet in sheets for page in sheet_svg(sheet)]
    many = len(pages) > 1
    names = [output.with_stem(f"{output.stem}-{n}") if many else output for n in range(1, len(pages) + 1)]
    for name, page in zip(names, pages, strict=True):
        shared.write_new(name, page + "\n", overwrite=options["force"])
    return [str(name) for name in names]


def made_sheets(record: Record, options: dict[str, Any]) -> list[Any]:
    """The sheets that the options ask for."""
    from midframe.publish.screw_sheet import screw_sheet, sides

    moves = None
    if options["part"]:
        from midframe.ways.objective import Objective
        from midframe.ways.solve import Planner, found

        target = shared.part_named(record, options["part"])
        moves = found(Planner(record, Objective.parse("steps,seconds")).way(target)).moves
    lie = None if options["lie"] is None else options["lie"] == "landscape"
    wanted = (options["side"],) if options["side"] else sides(record)
    return [screw_sheet(record, side, on=options["paper"], landscape=lie, moves=moves) for side in wanted]
