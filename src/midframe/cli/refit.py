"""`midframe refit`: the way back from any state of the work."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
import msgspec

from midframe.cli import shared
from midframe.cli.options import force_option, language_option, moves_to, paper_option
from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Move

if TYPE_CHECKING:
    from midframe.publish.refit import Refit


@click.command("refit")
@shared.file_argument
@click.argument("part", metavar="[PART]", required=False)
@click.option(
    "--log", "until", type=click.IntRange(min=0), help="From the state after so many lines of the log."
)
@click.option("-o", "--output", metavar="OUT", help="Write it with boxes to tick: OUT ends in .html or .pdf.")
@force_option
@paper_option
@language_option
@shared.json_option
def command(
    file: str, part: str | None, until: int | None, output: str | None, as_json: bool, **options: Any
) -> None:
    """Tell the way back: plugs, bonds, torque, trial, waits, checks.

    With PART the way in to it is gone back, and it comes back as a new part;
    without, the whole bench log of the record. Local codes and licensed
    practice come first.
    """
    from midframe.cli.sheets.refit import refit_sheet
    from midframe.publish.refit import refit

    record = shared.load(file)
    target = shared.part_named(record, part) if part else None
    back = refit(record, moves_of(record, target, until), new_parts=[target] if target else [])
    if output is not None:
        write(record, back, Path(output), options)
    if as_json:
        data = msgspec.to_builtins(back)
        state = {key: sorted(value) for key, value in data["state"].items()}
        shared.echo_json(
            "refit",
            record,
            {
                "file": output,
                "open": state.get("open", []),
                "aside": state.get("aside", []),
                "lines": data["lines"],
                **{
                    key: data[key]
                    for key in ("trial_before", "untried", "closed_by_then", "screws", "full_hours")
                },
                **{key: data[key] for key in ("unknown_bonds", "after")},
            },
        )
    elif output is not None:
        shared.echo([f"Way back of {record.device.name}: {output}"])
    else:
        shared.echo(refit_sheet(record, back))


def write(record: Record, back: Refit, output: Path, options: dict[str, Any]) -> None:
    """Write the way back in the format that the name of the file says."""
    from midframe.publish.bench_sheets import refit_html
    from midframe.publish.printing import print_pdf

    kind = output.suffix.lower()
    if kind not in (".html", ".pdf"):
        raise BadSetting(f"--output: found '{output}'; right: a name that ends in .html or .pdf")
    html = refit_html(record, back, paper=options["paper"], code=options["language"])
    content = print_pdf(html) if kind == ".pdf" else html
    shared.write_new(output, content, overwrite=options["force"])


def moves_of(record: Record, target: str | None, until: int | None) -> tuple[Move, ...]:
    """The moves that are gone back; raises `BadSetting` where neither a part nor a log says them."""
    if target is not None:
        return moves_to(record, target)
    moves = logged_moves(record, until)
    if not moves and until is None:
        raise BadSetting("refit: found no log in the record; right: the PART that was taken out")
    return moves


def logged_moves(record: Record, until: int | None) -> tuple[Move, ...]:
    """The moves of the log made fit to be gone back; what was put in or left out is told as a note."""
    from midframe.publish.log_moves import log_moves

    found = log_moves(record, until)
    if found.put_in:
        click.echo(f"Not logged, but open because of what was lifted: {', '.join(found.put_in)}.", err=True)
    if found.left_out:
        click.echo(f"Against the record, so not gone back: {', '.join(found.left_out)}.", err=True)
    return found.moves
