"""A whole device published: a folder of static pages, Markdown, lists, chapters and structured data.

Nothing here opens a file or reads a clock; whoever calls it writes the files where they should go.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

import msgspec

from midframe.publish.blocks import Page
from midframe.publish.chapters import SHORTEST_SECONDS, Chapter, chapters, to_timestamps, to_webvtt
from midframe.publish.how_to import how_to, to_json_ld
from midframe.publish.language import Language, language
from midframe.publish.lists import csv_files
from midframe.publish.paper import html_pages
from midframe.publish.render import to_markdown
from midframe.publish.section import stack_drawing
from midframe.publish.site_contents import Published, SiteSettings, Tell, published
from midframe.publish.site_html import instruction_html, page_html, site_style
from midframe.publish.site_index import index_page
from midframe.publish.site_lists import chapters_page, lists_page, photos_page
from midframe.publish.site_markdown import FOLDER, page_markdown
from midframe.publish.site_overview import overview
from midframe.publish.site_paths import (
    CHAPTERS_FILE,
    RECORD_FILE,
    SCREW_FILE,
    STACK_FILE,
    STYLE,
    TIMES_FILE,
    from_page,
    instruction_paths,
    photo_file,
    screw_drawing,
)
from midframe.publish.site_refit import refit_page
from midframe.publish.site_screws import screws_page, sheet_pages
from midframe.publish.svg import standalone
from midframe.record import write
from midframe.record.model import Record

MANIFEST = "midframe-site.json"
"""The file that says what else the folder holds; by it a folder is known as one of its own."""

FORMAT = 1
"""Number of the manifest's format."""


class Manifest(msgspec.Struct, frozen=True):
    """The files of a published folder with their SHA-256, and what they were made from and with."""

    format: int
    device: str
    record: str
    program: str
    language: str
    files: dict[str, str]


def site(
    record: Record,
    settings: SiteSettings | None = None,
    *,
    photos: Mapping[str, bytes] | None = None,
    tell: Tell | None = None,
) -> Mapping[str, bytes]:
    """Every file of the folder by its path; the same record and settings give the same bytes.

    Parameters
    ----------
    photos
        Pictures by the hash that the record names; clean ones, as `midframe.photos.clean` makes them.
    tell
        Called after the way to each part: its number, of how many, its name.

    Raises
    ------
    BadSetting
        For a setting that is not known.

    Examples
    --------
    >>> from midframe.demo import load
    >>> files = site(load("tern-2"), SiteSettings(parts="priority", sheets=("instructions", "lists")))
    >>> sorted(files)[:3], "in/to-battery.html" in files
    (['drawings/stack.svg', 'how-to/to-back-cover.json', 'how-to/to-battery.json'], True)
    """
    held = dict(photos or {})
    return files_of(published(record, settings, photos=held, tell=tell), held)


def files_of(of: Published, photos: Mapping[str, bytes]) -> Mapping[str, bytes]:
    """The files of what is published already, with their manifest."""
    said = language(of.settings.language)
    pages = pages_of(of, said)
    files = {STYLE: site_style(of, said)}
    files |= {f"{page.path}.html": page_html(page, of, pages, said) for page in pages}
    files |= dict(instruction_files(of, pages, said))
    files |= dict(screw_files(of, said))
    files |= {photo_file(name): photos[name] for name in sorted(of.photos)}
    files[STACK_FILE] = standalone(stack_drawing(of.record, code=said.code)).encode()
    if of.has("lists"):
        files |= csv_files(of.record, of.instructions, of.rows)
    files |= dict(chapter_files(of, said))
    if of.has("markdown"):
        files |= {f"{FOLDER}/{page.path}.md": page_markdown(page) for page in pages}
    if of.has("record"):
        files[RECORD_FILE] = write(of.record).encode()
    return {**files, MANIFEST: manifest(of, files)}


def pages_of(of: Published, said: Language) -> tuple[Page, ...]:
    """The pages beside the instructions, in the order of their list."""
    found = [overview(of, said)]
    if of.screws:
        found.append(screws_page(of, said))
    if of.refit is not None:
        found.append(refit_page(of, of.refit, said))
    if of.index is not None:
        found.append(index_page(of, of.index, said))
    if of.has("lists"):
        found.append(lists_page(of, said))
    if told := chapters_of(of, said):
        found.append(chapters_page(told, said))
    if of.photos:
        found.append(photos_page(of, said))
    return tuple(found)


def instruction_files(of: Published, pages: tuple[Page, ...], said: Language) -> Iterator[tuple[str, bytes]]:
    """Each instruction as a page, as structured data, and as Markdown."""
    paths = instruction_paths(of.record)
    for part, sheet in of.instructions.items():
        path = paths[part]
        yield f"{path}.html", instruction_html(part, of, pages, said)
        data = f"how-to/{path.removeprefix('in/')}.json"
        yield data, to_json_ld(how_to(sheet, said, from_page(data, f"{path}.html"))).encode()
        if of.has("markdown"):
            back = f"[{said.say('site-overview')}](../index.md)\n\n"
            yield f"{FOLDER}/{path}.md", (back + to_markdown(sheet)).encode()


def screw_files(of: Published, said: Language) -> Iterator[tuple[str, bytes]]:
    """The screw sheet to print, and its pages as drawings."""
    pages = sheet_pages(of)
    if pages:
        title = f"{said.say('site-screw-sheet')}, {of.name}"
        whole = html_pages(pages[0].on, title, [page.svg for page in pages], said.code)
        yield SCREW_FILE, whole.encode()
    for number, page in enumerate(pages, start=1):
        yield screw_drawing(number), (page.svg + "\n").encode()


def chapter_files(of: Published, said: Language) -> Iterator[tuple[str, bytes]]:
    """Chapters for a video element and as plain lines."""
    if found := chapters_of(of, said):
        yield CHAPTERS_FILE, to_webvtt(found).encode()
        yield TIMES_FILE, to_timestamps(chapters_of(of, said, SHORTEST_SECONDS)).encode()


def chapters_of(of: Published, said: Language, shortest: float = 0.0) -> tuple[Chapter, ...]:
    """The chapters of the log; none where they are left out."""
    if not of.has("chapters"):
        return ()
    begins = of.settings.log_begins_seconds
    return chapters(of.record, said, shortest_seconds=shortest, log_begins_seconds=begins)


def manifest(of: Published, files: Mapping[str, bytes]) -> bytes:
    """What the folder holds, as JSON."""
    made = Manifest(
        format=FORMAT,
        device=of.name,
        record=of.digest,
        program=of.program,
        language=of.settings.language,
        files={name: hashlib.sha256(data).hexdigest() for name, data in sorted(files.items())},
    )
    return bytes(msgspec.json.format(msgspec.json.encode(made), indent=2)) + b"\n"
