"""`midframe demo`: the main job on the invented Tern 3, from the record to the work instruction."""

from __future__ import annotations

import tempfile
from pathlib import Path

import click

from midframe.cli import shared
from midframe.cli.sheets.table import paragraph, sheet_width
from midframe.faults import BadSetting

DEVICE, PART = "tern-3", "battery"
TRY = (
    ("midframe ways demo:tern-3 battery", "the way in, move by move, with the reason for each"),
    ("midframe index demo:tern-3 --trace", "the index with every sum and its clause"),
    ("midframe what-if demo:tern-3", "which single design change would gain most"),
    ("midframe upkeep demo:tern-3", "mean time to repair over a mix of failures"),
    ("midframe compare demo:tern-2 demo:tern-3", "the predecessor beside it"),
    ("midframe check demo:tern-3", "what a check says of the record"),
    ("midframe demo --copy DIR", "the records as files, to look into and to change"),
    ("midframe new", "begin a record of your own"),
    ("midframe serve --demo", "the bench in the browser, with the demo devices on the shelf"),
)


@click.command("demo")
@click.option("--copy", metavar="DIR", help="Copy the records of the demo devices there instead.")
@shared.json_option
def command(copy: str | None, as_json: bool) -> None:
    """Work through an invented device: ways in, index, work instruction.

    Writes the battery's work instruction into this folder, or into a temporary
    one where this cannot be written. The device and all its data are invented.
    """
    if copy is not None:
        copy_records(Path(copy), as_json)
    else:
        main_job(as_json)


def copy_records(folder: Path, as_json: bool) -> None:
    """Copy the records of the demo devices; files that are there already stay as they are."""
    from midframe import demo

    files = {folder / f"{name}{demo.SUFFIX}": demo.text(name) for name in demo.names()}
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise shared.refused(str(folder), shared.reason(error), "a folder that can be written") from None
    for path, text in files.items():
        if not (path.is_file() and shared.text_of(str(path)) == text):
            shared.write_new(path, text)
    if as_json:
        shared.echo_json("demo", None, {"files": [str(path) for path in files]})
    else:
        shared.echo([*map(str, files), "", "Invented devices: no such device exists."])


def main_job(as_json: bool) -> None:
    """Ways, index and work instruction of the demo device."""
    from midframe import demo
    from midframe.cli.index import index_data_of, index_lines
    from midframe.cli.plain.ways import way_data
    from midframe.cli.sheets.ways import ways_sheet
    from midframe.dossier.index import device_index
    from midframe.publish.ordered import instruction_to
    from midframe.publish.render import to_html
    from midframe.ways.solve import Planner

    record = demo.load(DEVICE)
    planner = Planner(record)
    targets = [part.id for part in record.parts if part.id != record.device.body]
    answers = {target: planner.way(target) for target in shared.watched(targets, "way")}
    index = device_index(record)
    file = written(f"{DEVICE}-{PART}.html", to_html(instruction_to(planner, PART), "A4"))
    if as_json:
        ways = [way_data(record, target, answer) for target, answer in answers.items()]
        shared.echo_json("demo", record, {"ways": ways, **index_data_of(index), "files": [str(file)]})
        return
    width = sheet_width()
    lines = paragraph("Tern 3 is an invented phone: no such device exists, all its data is made up.", width)
    lines += ["", *ways_sheet(record, answers, "steps,seconds"), "", *index_lines(record, index, brief=True)]
    lines += [
        "",
        *paragraph(f"Work instruction for the battery, to open in a browser or print: {file}", width),
    ]
    shared.echo([*lines, "", "To try next", *tries()])


def tries() -> list[str]:
    """The other commands, each with what it shows."""
    room = max(len(call) for call, _ in TRY)
    return [f"  {call.ljust(room)}  {what}" for call, what in TRY]


def written(name: str, text: str) -> Path:
    """The file that holds the text: in this folder if it can be written, else in a new temporary one."""
    for number in range(1, 100):
        path = Path(name) if number == 1 else Path(name).with_stem(f"{Path(name).stem}-{number}")
        if same(path, text):
            return path
        if path.exists():
            continue
        try:
            shared.write_new(path, text)
        except BadSetting:
            break
        return path
    path = Path(tempfile.mkdtemp(prefix="midframe-")) / name
    shared.write_new(path, text)
    return path


def same(path: Path, text: str) -> bool:
    """Whether the file holds this text already."""
    try:
        return path.read_text(encoding="utf-8") == text
    except (OSError, ValueError):
        return False
