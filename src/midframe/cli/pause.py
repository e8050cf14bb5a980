"""`midframe pause`: the sheet of a job that is put away, from the log of a record."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
import msgspec

from midframe.cli import shared
from midframe.cli.options import force_option, language_option, paper_option
from midframe.cli.refit import logged_moves
from midframe.faults import BadSetting
from midframe.record import Record

if TYPE_CHECKING:
    from midframe.publish.pause import Ordered, Pause

SUFFIXES = (".html", ".pdf", ".md")


@click.command("pause")
@shared.file_argument
@click.option("--log", "until", type=click.IntRange(min=0), help="Put away after so many lines of the log.")
@click.option(
    "--order",
    "orders",
    multiple=True,
    metavar="ITEM[:NOTE]",
    help="What is on order, such as 'Battery:Friday'; once for each.",
)
@click.option(
    "--place",
    "places",
    multiple=True,
    metavar="TRAY=PLACE",
    help="Where a tray lies, by its number, a part in it, or 'device'; once for each.",
)
@click.option("--note", "notes", multiple=True, metavar="TEXT", help="For whoever goes on; once for each.")
@click.option(
    "-o",
    "--output",
    metavar="OUT",
    help="Write the sheet with labels of the trays: OUT ends in .html, .pdf or .md.",
)
@force_option
@paper_option
@language_option
@shared.json_option
def command(file: str, output: str | None, as_json: bool, **options: Any) -> None:
    """Tell what lies where, what is on order, what to look at on return.

    The state is that of the bench log of FILE; the same record and log resume
    exactly there. Local codes and licensed practice come first.
    """
    from midframe.cli.sheets.pause import pause_text
    from midframe.publish.pause import pause

    record = shared.load(file)
    moves = logged_moves(record, options["until"])
    orders = [ordered(record, text) for text in options["orders"]]
    said = {
        "on_order": orders,
        "notes": options["notes"],
        "code": options["language"] if output is not None else "en",
    }
    sheet = pause(record, moves, **said)
    places = placed(sheet, options["places"])
    if places:
        sheet = pause(record, moves, **said, places=places)
    if output is not None:
        write(record, sheet, Path(output), options)
    if as_json:
        shared.echo_json("pause", record, {"file": output, **plain(sheet)})
    elif output is not None:
        shared.echo([f"Pause sheet of {record.device.name}: {output}"])
    else:
        shared.echo(pause_text(record, sheet))


def ordered(record: Record, text: str) -> Ordered:
    """What is on order; an item that is the id or the name of a part is for that part."""
    from midframe.publish.pause import Ordered

    item, _, note = (piece.strip() for piece in text.partition(":"))
    if not item:
        raise BadSetting(f"--order: found '{text}'; right: ITEM or ITEM:NOTE, such as 'Battery:Friday'")
    known = next((part for part in record.parts if item.casefold() in (part.id, part.name.casefold())), None)
    return Ordered(known.name if known else item, known.id if known else "", note)


def placed(sheet: Pause, said: Iterable[str]) -> dict[str, str]:
    """Places by the keys of the trays; raises `BadSetting` for a tray that is not there."""
    from midframe.publish.pause import DEVICE

    keys = {DEVICE: DEVICE, **{str(one.tray.number): one.key for one in sheet.resting}}
    keys |= {part: one.key for one in sheet.resting for part in one.tray.parts}
    found = {}
    for text in said:
        tray, equals, place = (piece.strip() for piece in text.partition("="))
        if not equals or tray not in keys:
            right = f"TRAY=PLACE with one of 1 to {len(sheet.resting)}, a part in it, or device"
            raise BadSetting(f"--place: found '{text}'; right: {right}")
        found[keys[tray]] = place
    return found


def write(record: Record, sheet: Pause, output: Path, options: dict[str, Any]) -> None:
    """Write the sheet in the format that the name of the file says."""
    from midframe.publish.bench_sheets import pause_html, pause_markdown
    from midframe.publish.printing import print_pdf

    kind = output.suffix.lower()
    if kind not in SUFFIXES:
        raise BadSetting(f"--output: found '{output}'; right: a name that ends in .html, .pdf or .md")
    if kind == ".md":
        content: str | bytes = pause_markdown(record, sheet, options["language"])
    else:
        html = pause_html(record, sheet, paper=options["paper"], code=options["language"])
        content = print_pdf(html) if kind == ".pdf" else html
    shared.write_new(output, content, overwrite=options["force"])


def plain(sheet: Pause) -> dict[str, Any]:
    """The sheet as plain data."""
    whole = msgspec.to_builtins(sheet)
    trays = [
        {
            "number": one.tray.number,
            "parts": list(one.tray.parts),
            "names": list(one.tray.names),
            "screws": [{"letter": letter, "count": count} for letter, count in one.screws],
            "place": one.place,
        }
        for one in sheet.resting
    ]
    keys = ("last", "place", "screws_out", "hanging", "battery_connected", "on_order", "notes")
    return {
        "moves": len(sheet.done),
        "open": sorted(sheet.state.open),
        "aside": sorted(sheet.state.aside),
        **{key: whole[key] for key in keys},
        "trays": trays,
        **{key: whole[key] for key in ("on_leaving", "on_return", "goes_on")},
    }
