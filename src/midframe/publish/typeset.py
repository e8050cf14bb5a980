"""A whole device as one tagged PDF for everybody (PDF/UA-1), typeset without the network (extra `pdf`).

The typesetter itself refuses what is not accessible: a picture without words, a skipped heading, a sign
that no font has. The same record and settings give the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from importlib import import_module
from importlib.resources import files
from typing import Any

import msgspec

from midframe.faults import BadSetting, lacking
from midframe.publish.blocks import Block, Drawing, Heading, Items, Line, Link, Move, Page, Words
from midframe.publish.language import Language, language
from midframe.publish.paper import PAPER_MM
from midframe.publish.print_svg import photo_svg, printed
from midframe.publish.site import pages_of
from midframe.publish.site_contents import Published
from midframe.publish.site_lists import pictures
from midframe.publish.site_paths import OVERVIEW, SCREWS, instruction_paths, photo_file
from midframe.publish.site_screws import sheet_pages
from midframe.publish.svg import legible
from midframe.publish.typeset_instruction import cautions_page, instruction_page

FONTS = ("Libertinus Serif", "DejaVu Sans Mono")
"""The fonts that the typesetter brings, in the order in which they are asked for a sign."""

STANDARD = "ua-1"
"""PDF for universal access, first part (ISO 14289-1, checked by the typesetter itself)."""


def pdf(
    of: Published,
    photos: Mapping[str, bytes] | None = None,
    *,
    fonts: Sequence[str] = (),
    folders: Sequence[str] = (),
) -> bytes:
    """The document of what is published.

    Parameters
    ----------
    photos
        Pictures by hash, as for `site`.
    fonts, folders
        Families to ask for signs that the typesetter's own fonts lack, and the folders they lie in.

    Raises
    ------
    BadSetting
        Where the extra `pdf` is not installed, or a sign has no glyph in any font.
    """
    typst = typesetter()
    said = language(of.settings.language)
    sources = {
        "main.typ": template(),
        "data.json": msgspec.json.encode(document(of, said, fonts)),
        **{
            photo_file(name): photo_svg(data).encode()
            for name, data in (photos or {}).items()
            if name in of.photos
        },
    }
    try:
        made = typst.compile(
            sources,
            pdf_standards=[STANDARD],
            ignore_system_fonts=True,
            font_paths=list(folders),
        )
    except RuntimeError as error:
        raise BadSetting(refused(str(error))) from None
    return bytes(made)


def typesetter() -> Any:
    """The package of the extra; raises `BadSetting` where it is not there."""
    try:
        return import_module("typst")
    except ImportError:
        raise lacking("PDF", "typst", "pdf") from None


def refused(message: str) -> str:
    """What the typesetter refused, in words."""
    lacks = re.search(r"the text `?\"?(.+?)\"?`? could not be displayed", message)
    if lacks or "glyph" in message or "font" in message:
        sign = f" ({lacks[1][:40]})" if lacks else ""
        return (
            f"PDF: found a sign that no font has{sign}; right: a folder with a font that has it "
            f"(--fonts FOLDER --font NAME), or the HTML pages. {message[:200]}"
        )
    return f"PDF: the typesetter refused the document: {message[:300]}"


def template() -> bytes:
    """The layout of the document."""
    return files("midframe.publish").joinpath("templates", "site", "device.typ").read_bytes()


def document(of: Published, said: Language, fonts: Sequence[str] = ()) -> dict[str, Any]:
    """Everything that the layout sets, as plain data."""
    pages = tuple(document_pages(of, said))
    known = set(anchors(pages))
    wide, high = PAPER_MM[of.settings.paper]
    return {
        "title": legible(of.name),
        "program": of.program,
        "language": said.code,
        "fonts": [*FONTS, *fonts],
        "paper": {"width": wide, "height": high},
        "mark": said.say("running-invented") if of.record.device.invented else "",
        "record": said.say("running-record", digest=of.digest[:12]),
        "contents": said.say("site-pages"),
        "pages": [
            {
                "title": legible(page.title),
                "anchor": anchor(page.path),
                "blocks": [plain(page, block, known) for block in of_document(page.blocks)],
            }
            for page in pages
        ],
    }


def document_pages(of: Published, said: Language) -> Iterator[Page]:
    """The pages in the order of the document; the screw sheet follows the page of the screws."""
    paths = instruction_paths(of.record)
    for page in pages_of(of, said):
        if page.path == SCREWS:
            yield msgspec.structs.replace(page, blocks=(*page.blocks, *sheet_pages(of)))
        else:
            yield page
        if page.path == OVERVIEW and of.instructions:
            yield cautions_page(of, said)
            for part, sheet in of.instructions.items():
                yield instruction_page(sheet, paths[part], said, tuple(pictures(of, said, part)))


def anchor(page: str, name: str = "") -> str:
    """The name of a place in the document."""
    return f"{page}#{name}" if name else page


def anchors(pages: Sequence[Page]) -> Iterator[str]:
    """Every place that can be led to."""
    for page in pages:
        yield anchor(page.path)
        yield from (
            anchor(page.path, block.anchor)
            for block in page.blocks
            if isinstance(block, Heading) and block.anchor
        )


def of_document(blocks: Iterable[Block]) -> Iterator[Block]:
    """The blocks without what only leads to another file of the folder."""
    for block in blocks:
        match block:
            case Items():
                if kept := tuple(line for line in block.lines if not leads_out(line)):
                    yield msgspec.structs.replace(block, lines=kept)
            case Words() if leads_out(block.line):
                pass
            case _:
                yield block


def leads_out(line: Line) -> bool:
    """Whether a line is there for a link to a file."""
    return any(isinstance(piece, Link) and piece.file for piece in line)


def plain(page: Page, block: Block, known: set[str]) -> Any:
    """A block as plain data: drawings in print colours, links to places that the document has."""
    match block:
        case Heading():
            block = msgspec.structs.replace(
                block, anchor=anchor(page.path, block.anchor) if block.anchor else ""
            )
        case Drawing():
            block = msgspec.structs.replace(block, svg=printed(block.svg))
        case Move():
            drawings = tuple(msgspec.structs.replace(one, svg=printed(one.svg)) for one in block.drawings)
            block = msgspec.structs.replace(block, drawings=drawings)
    return settled(msgspec.to_builtins(block), known)


def settled(value: Any, known: set[str]) -> Any:
    """Plain data with every link led to its place, and no sign that is not for print."""
    if isinstance(value, str):
        return legible(value) if "<svg" not in value[:5] else value
    if isinstance(value, list | tuple):
        return [settled(one, known) for one in value]
    if isinstance(value, dict):
        made = {key: settled(one, known) for key, one in value.items()}
        if made.get("type") == "Link":
            to = anchor(made["page"], made["anchor"])
            made["to"] = to if to in known else anchor(made["page"]) if made["page"] in known else ""
        return made
    return value
