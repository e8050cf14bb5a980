"""`midframe screws`: tally, wrong-hole hazards, and the screw sheet to print."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import force_option, language_option, moves_to, paper_option
from midframe.faults import BadSetting
from midframe.record import Record

SUFFIXES = (".pdf", ".html", ".svg")


@click.command("screws")
@shared.file_argument
@click.option("--all", "everything", is_flag=True, help="List the mild hazards too.")
@click.option("-o", "--output", metavar="OUT", help="Write the screw sheet: OUT ends in .pdf, .html or .svg.")
@force_option
@paper_option
@click.option(
    "--lie",
    type=click.Choice(["upright", "landscape"]),
    help="How the paper lies; by default as takes fewer pages.",
)
@click.option(
    "--side", type=click.Choice(["front", "back"]), help="One side only; by default all with screws."
)
@click.option("--to", "part", metavar="PART", help="The order out is that of the way to PART.")
@click.option("--mirrored", is_flag=True, help="The other hand: the plan as it is seen from the other side.")
@click.option(
    "--labels",
    type=click.Choice(["all", "with screws", "none"]),
    default="all",
    show_default=True,
    help="Labels of bag and trays; SVG has none.",
)
@click.option("--link", default="", metavar="URL", help="Address that the codes on the labels open.")
@language_option
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
    from midframe.publish.screw_files import SheetOptions, html_of, svg_of

    wanted = SheetOptions(**{key: options[key] for key in SheetOptions.__struct_fields__})
    target = shared.part_named(record, options["part"]) if options["part"] else None
    moves = moves_to(record, target) if target else None
    if kind != ".svg":
        html = html_of(record, wanted, moves)
        content = print_pdf(html) if kind == ".pdf" else html
        shared.write_new(output, content, overwrite=options["force"])
        return [str(output)]
    pages = svg_of(record, wanted, moves)
    many = len(pages) > 1
    names = [output.with_stem(f"{output.stem}-{n}") if many else output for n in range(1, len(pages) + 1)]
    for name, page in zip(names, pages, strict=True):
        shared.write_new(name, page, overwrite=options["force"])
    return [str(name) for name in names]
