"""Pages of a published device as HTML: relative addresses, one style sheet, no script."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from importlib.resources import files
from typing import Any

import msgspec
from markupsafe import Markup

from midframe.publish.blocks import Line, Link, Page, Picture, Piece, Strong
from midframe.publish.cautions import cautions
from midframe.publish.how_to import how_to, to_json_ld
from midframe.publish.icons import legend_icon
from midframe.publish.language import Language
from midframe.publish.site_contents import Published
from midframe.publish.site_lists import pictures
from midframe.publish.site_paths import STYLE, from_page, instruction_paths
from midframe.publish.site_words import part_named
from midframe.publish.svg import style
from midframe.publish.templating import environment, shown


class Entry(msgspec.Struct, frozen=True):
    """One entry of the list of pages: its name, its address from here, whether it is this page."""

    name: str
    to: str
    current: bool


def page_html(page: Page, of: Published, pages: Sequence[Page], said: Language) -> bytes:
    """One page; `pages` are those of the list at its head."""
    here = f"{page.path}.html"
    blocks = tuple(placed(here, block) if isinstance(block, Picture) else block for block in page.blocks)
    page = msgspec.structs.replace(page, blocks=blocks)
    template = environment(markup=True, code=said.code).get_template("site/page.html")
    return template.render(page=page, **frame(here, of, pages, said)).encode()


def placed(here: str, picture: Picture) -> Picture:
    """A photo with its address from the page `here`."""
    return msgspec.structs.replace(picture, file=from_page(here, picture.file))


def frame(here: str, of: Published, pages: Sequence[Page], said: Language) -> dict[str, Any]:
    """What every page needs: the list of pages, the style sheet, how a line is written."""
    return {
        "code": said.code,
        "device": of.name,
        "program": of.program,
        "style": from_page(here, STYLE),
        "nav": [
            Entry(page.name, from_page(here, f"{page.path}.html"), f"{page.path}.html" == here)
            for page in pages
        ],
        "text": partial(text, here),
        "kind_of": lambda block: type(block).__name__,
    }


def text(here: str, line: Line) -> Markup:
    """A line on the page `here`.

    >>> text("in/to-battery.html", ("see ", Link("the <screws>", page="screws")))
    Markup('see <a href="../screws.html">the &lt;screws&gt;</a>')
    """
    return Markup("").join(piece(here, one) for one in line)


def piece(here: str, one: Piece) -> Markup:
    """One piece of a line."""
    if isinstance(one, str):
        return Markup(shown(one))  # noqa: S704 - escaped by `shown`
    told = shown(one.text)
    lang = Markup(' lang="{}"').format(one.code) if one.code else ""
    if isinstance(one, Strong):
        return Markup("<strong{}>{}</strong>").format(lang, told)
    if isinstance(one, Link):
        return Markup('<a href="{}"{}>{}</a>').format(address(here, one), lang, told)
    return Markup('<span lang="{}">{}</span>').format(one.code, told)


def address(here: str, link: Link) -> str:
    """Where a link leads, from the page `here`."""
    target = link.file or f"{link.page}.html"
    return from_page(here, target) + (f"#{link.anchor}" if link.anchor else "")


def site_style(of: Published, said: Language) -> bytes:
    """The one style sheet of all pages: that of the instructions, of the drawings, of the list of pages."""
    folder = files("midframe.publish").joinpath("templates")
    first = folder.joinpath("instruction.css").read_text(encoding="utf-8")
    own = folder.joinpath("site", "site.css").read_text(encoding="utf-8")
    heads = environment(markup=True, code=said.code).get_template("site/running.css")
    running = heads.render(device=of.name, invented=of.record.device.invented, digest=of.digest)
    return (first.replace("PAPER", of.settings.paper) + style() + own + running).encode()


def instruction_html(part: str, of: Published, pages: Sequence[Page], said: Language) -> bytes:
    """The page of the instruction to a part: list of pages, neighbours, data, photos."""
    here, sheet = f"{instruction_paths(of.record)[part]}.html", of.instructions[part]
    template = environment(markup=True, code=said.code).get_template("site/instruction.html")
    data = to_json_ld(how_to(sheet, said), inside_page=True)
    return template.render(
        sheet=sheet,
        cautions=cautions(said.code),
        legend={kind: Markup(legend_icon(kind)) for kind in sheet.marks},  # noqa: S704 - our own drawing
        data=Markup(data),  # noqa: S704 - every sign that could end the element is escaped
        beside=tuple(neighbours(part, of, said)),
        pictures=tuple(placed(here, one) for one in pictures(of, said, part)),
        **frame(here, of, pages, said),
    ).encode()


def neighbours(part: str, of: Published, said: Language) -> Iterator[Line]:
    """The instructions before and after the one to a part."""
    parts = tuple(of.instructions)
    at = parts.index(part)
    if at:
        yield (said.say("site-before"), " ", part_named(of, parts[at - 1], said))
    if at + 1 < len(parts):
        yield (said.say("site-after"), " ", part_named(of, parts[at + 1], said))
