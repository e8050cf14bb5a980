"""`midframe draft`: from spoken notes, as timed captions, to a draft of a record and its log."""

from __future__ import annotations

from pathlib import Path

import click

from midframe.cli import shared
from midframe.faults import BadSetting

CAPTIONS = "timed captions (WebVTT, SRT, or lines such as [1:02] text)"


@click.command("draft")
@click.argument("captions", metavar="CAPTIONS")
@click.option("--out", "-o", metavar="FILE", help="Write the record to FILE.")
@click.option("--name", metavar="NAME", help="The device; without it the name of the file.")
@click.option(
    "--kind", type=click.Choice(["phone", "tablet"]), default="phone", show_default=True, help="What it is."
)
@click.option("--invented", is_flag=True, help="Mark the device as invented.")
@click.option("--without", metavar="N,N", help="Items that are thrown out, by number.")
@click.option(
    "--untimed",
    is_flag=True,
    help="The talk did not run along with the work: only times said in it count.",
)
@click.option("--words", multiple=True, metavar="FILE", help="Further words, such as another language's.")
@click.option("--force", is_flag=True, help="Write over FILE.")
@shared.json_option
def command(captions: str, as_json: bool, **options: object) -> None:
    """Draft a record from spoken notes, given as timed captions.

    CAPTIONS is WebVTT, SRT, or text with a time in front of each line, or - for
    the standard input. Every item is shown with its words, its time and how far
    it stands in the words; what is not understood is kept aside, never made a
    part. What had to be aside is guessed from the order and marked as assumed.
    """
    from midframe.cli.plain.draft import draft_data
    from midframe.cli.sheets.draft import draft_sheet
    from midframe.narration import Choices, draft_of, draft_record, read_captions, vocabulary_with
    from midframe.record import write

    read = read_captions(shared.text_of(captions, CAPTIONS), captions)
    files = options["words"] if isinstance(options["words"], tuple) else ()
    more = [(shared.text_of(file, "words (TOML, docs/draft.md)"), file) for file in files]
    told = draft_of(read, vocabulary_with(*more) if more else None)
    out = str(options["out"] or "")
    choices = Choices(
        name=str(options["name"] or named_after(captions)),
        kind="tablet" if options["kind"] == "tablet" else "phone",
        invented=bool(options["invented"]),
        without=numbers(str(options["without"] or ""), len(told.items)),
        clock=not options["untimed"],
    )
    made = draft_record(told, choices)
    if out:
        shared.write_new(Path(out), write(made.record), overwrite=bool(options["force"]))
    if as_json:
        shared.echo_json("draft", made.record, {"file": out, **draft_data(read, told, made)})
    else:
        shared.echo(draft_sheet(read, told, made, [out] if out else []))


def named_after(captions: str) -> str:
    """A name for the device from that of the file.

    >>> named_after("notes/dunlin_4.vtt"), named_after("-")
    ('Dunlin 4', 'Spoken notes')
    """
    stem = Path(captions).stem.replace("_", " ").strip()
    return stem[:1].upper() + stem[1:] if stem not in ("", "-") else "Spoken notes"


def numbers(text: str, most: int) -> frozenset[int]:
    """Numbers of items; raises `BadSetting` for what is none.

    >>> sorted(numbers("3, 1", 4))
    [1, 3]
    """
    found = set()
    for word in filter(None, (one.strip() for one in text.split(","))):
        if not (word.isascii() and word.isdecimal() and 1 <= int(word[:9]) <= most):
            raise BadSetting(f"--without: found '{word}'; right: numbers of items from 1 to {most}")
        found.add(int(word))
    return frozenset(found)
