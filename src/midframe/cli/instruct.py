"""`midframe instruct`: the work instruction of one way, as a page to read on the bench or print."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, Literal

import click
import msgspec

from midframe.cli import shared
from midframe.cli.options import (
    by_option,
    force_option,
    language_option,
    objective_of,
    paper_option,
    power_option,
    reading_options,
    readings_of,
    search_options,
)
from midframe.faults import BadSetting
from midframe.ways.solve import Planner

Format = Literal["html", "markdown", "pdf"]
SUFFIXES: Mapping[str, Format] = {
    ".html": "html",
    ".htm": "html",
    ".md": "markdown",
    ".markdown": "markdown",
    ".pdf": "pdf",
}
FLAT = (
    "target", "summary", "hazards", "missing_tools", "tools", "consumables", "renewals", "before", "after",
    "duties", "back", "steps", "untouched",
)  # fmt: skip
"""What of an instruction `--json` gives; the moves are those of `midframe ways --json`."""


@click.command("instruct")
@shared.file_argument
@click.argument("part", metavar="PART")
@click.option(
    "--format",
    "kind",
    type=click.Choice(["html", "markdown", "pdf"]),
    help="By default what the name of OUT says (.html, .md, .pdf), else markdown.",
)
@click.option("-o", "--output", metavar="OUT", help="The file to write; without it the text is printed.")
@force_option
@paper_option
@language_option
@click.option("--date", default="", metavar="TEXT", help="Printed as it is given; by default no date.")
@click.option(
    "--toolbox", metavar="FILE", help="What is at hand (TOML); the instruction says what is missing."
)
@power_option
@by_option
@search_options
@reading_options
@shared.json_option
def command(file: str, part: str, output: str | None, as_json: bool, **options: Any) -> None:
    """Write the work instruction to a part: a page to read on the bench or print.

    FILE is a path, demo:NAME or -; PART an id or a name. The page is one file
    without script; it holds the way in and back, tools, renewals, drawings and
    cautions. Local codes and licensed practice come first. Names and notes of
    the record stay in their own language.
    """
    from midframe.publish.ordered import instruction_to

    kind = kind_of(options["kind"], output)
    record = shared.load(file)
    readings = readings_of(options)
    planner = Planner(record, objective_of(options["by"]), readings, limit=options["limit"])
    toolbox = shared.toolbox_in(options["toolbox"])
    target = shared.part_named(record, part)
    said = {key: options[key] for key in ("power", "date", "language")}
    made = instruction_to(planner, target, toolbox=toolbox, **said)
    if output is not None:
        shared.write_new(Path(output), rendered(made, kind, options["paper"]), overwrite=options["force"])
    if as_json:
        shared.echo_json(
            "instruct", record, {"file": output, "file_format": kind if output else None, **flat(made)}
        )
    elif output is not None:
        shared.echo([f"Work instruction for {made.target}: {output}"])
    else:
        text = rendered(made, kind, options["paper"])
        shared.echo([str(text).rstrip("\n")])


def kind_of(asked: Format | None, output: str | None) -> Format:
    """The format that is asked for, else the one that the name of the file says.

    Raises `BadSetting` where neither says one, or for a PDF without a file.
    """
    if output is None:
        if asked == "pdf":
            raise BadSetting("--format: found pdf without a file; right: -o OUT with it")
        return asked or "markdown"
    kind = asked or SUFFIXES.get(Path(output).suffix.lower())
    if kind is None:
        right = "a name that ends in .html, .md or .pdf, or --format"
        raise BadSetting(f"--output: found '{output}'; right: {right}")
    return kind


def rendered(made: Any, kind: Format, paper: str) -> str | bytes:
    """The instruction in one format; PDF is printed by the browser of the system."""
    from midframe.publish.printing import print_pdf
    from midframe.publish.render import to_html, to_markdown

    if kind == "markdown":
        return to_markdown(made)
    html = to_html(made, paper)
    return print_pdf(html) if kind == "pdf" else html


def flat(made: Any) -> dict[str, Any]:
    """The instruction without its drawings, as plain data."""
    whole = msgspec.to_builtins(made)
    return {key: whole[key] for key in FLAT}
