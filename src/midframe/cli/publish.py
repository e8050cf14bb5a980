"""`midframe publish`: a whole device as a folder of static pages, and as one PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import (
    by_option,
    language_option,
    paper_option,
    power_option,
    reading_options,
    readings_of,
    search_options,
)
from midframe.faults import BadPhoto, BadSetting, TooLarge
from midframe.record.draft import slug
from midframe.record.model import Record

SHEETS = (
    *("instructions", "screws", "refit", "index", "lists"),
    *("chapters", "photos", "markdown", "record"),
)
"""What can be left out; the same names as in the library, which is not loaded for the help."""


@click.command("publish")
@shared.file_argument
@click.option(
    "-o", "--out", metavar="OUT", help="The folder to write; by default the device's name with -site."
)
@click.option(
    "--pdf", "document", metavar="FILE", help="Write one tagged PDF too, or with --no-folder alone."
)
@click.option("--no-folder", is_flag=True, help="Write the PDF only.")
@click.option("--force", is_flag=True, help="Replace the PDF where it is there already.")
@language_option
@paper_option
@click.option(
    "--parts",
    type=click.Choice(["all", "priority"]),
    default="all",
    show_default=True,
    help="Which parts get an instruction: all, or those the index asks for.",
)
@click.option("--without", multiple=True, type=click.Choice(SHEETS), help="Leave this out; may come again.")
@click.option(
    "--log-begins",
    type=float,
    default=0.0,
    metavar="SECONDS",
    help="When the bench log begins on the clock of a recording; negative where the recording began later.",
)
@click.option("--date", default="", metavar="TEXT", help="Printed as it is given; by default no date.")
@click.option(
    "--photos", metavar="FOLDER", help="Where the photos lie as HASH.jpg; by default photos beside FILE."
)
@click.option("--font", multiple=True, metavar="NAME", help="A font to ask for signs that the PDF lacks.")
@click.option("--fonts", multiple=True, metavar="FOLDER", help="Where such fonts lie.")
@power_option
@by_option
@search_options
@reading_options
@shared.json_option
def command(file: str, out: str | None, document: str | None, as_json: bool, **options: Any) -> None:
    """Publish a whole device: a folder of static pages, and one tagged PDF.

    The pages open from the disk or from any web server and run no script:
    overview, an instruction to each part, screws with the sheet at true scale,
    way back, index with its trace, lists (also CSV), chapters of the log,
    photos, the same as Markdown. An older folder is replaced only where nothing
    in it was changed. Local codes and licensed practice come first.
    """
    from midframe.publish.site import files_of
    from midframe.publish.site_contents import SiteSettings, published
    from midframe.publish.site_folder import write_folder

    record = shared.load(file)
    if options["no_folder"] and document is None:
        raise BadSetting("--no-folder: found no --pdf FILE; right: one of the two is written")
    settings = SiteSettings(
        language=options["language"],
        paper=options["paper"],
        date=options["date"],
        parts=options["parts"],
        log_begins_seconds=options["log_begins"],
        sheets=tuple(sheet for sheet in SHEETS if sheet not in options["without"]),  # type: ignore[misc]
        by=options["by"],
        readings=readings_of(options),
        power=options["power"],
        limit=options["limit"],
    )
    photos = photos_of(record, photo_folder(file, options["photos"]))
    made = published(record, settings, photos=photos, tell=shared.progress("way to part"))
    folder = None if options["no_folder"] else out or f"{slug(record.device.name)}-site"
    files = files_of(made, photos) if folder is not None else {}
    if document is not None:
        from midframe.publish.typeset import pdf

        data = pdf(made, photos, fonts=options["font"], folders=options["fonts"])
        shared.write_new(Path(document), data, overwrite=options["force"])
    if folder is not None:
        write_folder(Path(folder), files)
    told(record, folder, document, sorted(files), as_json=as_json)


def told(
    record: Record, folder: str | None, document: str | None, names: list[str], *, as_json: bool
) -> None:
    """Say what was written."""
    if as_json:
        shared.echo_json("publish", record, {"folder": folder, "pdf": document, "files": names})
        return
    lines = (
        []
        if folder is None
        else [f"{record.device.name}: {len(names)} files in {folder}, begin with index.html"]
    )
    shared.echo(lines + ([] if document is None else [f"{record.device.name} as one document: {document}"]))


def photo_folder(file: str, asked: str | None) -> Path | None:
    """Where the photos of a record lie: as asked, else the folder `photos` beside its file."""
    if asked is not None:
        if not Path(asked).is_dir():
            raise BadSetting(f"--photos: found no folder {asked}; right: one with photos as HASH.jpg")
        return Path(asked)
    if file == "-" or file.startswith(shared.DEMO):
        return None
    beside = Path(file).parent / "photos"
    return beside if beside.is_dir() else None


def photos_of(record: Record, folder: Path | None) -> dict[str, bytes]:
    """The pictures of the photos that lie in a folder, cleaned anew; a broken one is named and left out."""
    from midframe.photos import clean

    found: dict[str, bytes] = {}
    for photo in dict.fromkeys(photo.hash for photo in record.photos):
        path = None if folder is None else folder / f"{photo}.jpg"
        if path is None or "/" in photo or "\\" in photo or not path.is_file():
            continue
        try:
            found[photo] = clean(path.read_bytes()).medium
        except (BadPhoto, TooLarge) as fault:
            click.echo(f"{path}: {fault}; left out", err=True)
    return found
