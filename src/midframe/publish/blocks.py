"""What the pages of a published device are made of, before they become HTML, Markdown or a PDF.

A page is a sequence of blocks. Texts are in the language of the page already; nothing here is markup.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from midframe.publish.paper import Paper

Tone: TypeAlias = Literal["plain", "quiet", "warning", "frame"]
"""How a paragraph is set: as text, small, with the mark of a caution, or in a frame."""


class Link(msgspec.Struct, frozen=True, tag=True):
    """A text that leads somewhere: to a `page` (its path without suffix), or to a `file` of the folder.

    `code` is the language of the text, where it is not that of the page.
    """

    text: str
    page: str = ""
    anchor: str = ""
    file: str = ""
    code: str = ""


class Strong(msgspec.Struct, frozen=True, tag=True):
    """A text that stands out; `code` is its language, where it is not that of the page."""

    text: str
    code: str = ""


class Other(msgspec.Struct, frozen=True, tag=True):
    """A text in another language than the page, and the code of that language."""

    text: str
    code: str


Piece: TypeAlias = str | Link | Strong | Other
Line: TypeAlias = tuple[Piece, ...]
"""A text with its links; an empty one is an empty cell."""


class Heading(msgspec.Struct, frozen=True, tag=True):
    """A heading below the title of the page: level 2 or 3; with `anchor` it can be led to."""

    text: str
    level: int = 2
    anchor: str = ""


class Words(msgspec.Struct, frozen=True, tag=True):
    """A paragraph."""

    line: Line
    tone: Tone = "plain"


class Items(msgspec.Struct, frozen=True, tag=True):
    """A list: with points, with numbers, or with boxes to tick."""

    lines: tuple[Line, ...]
    kind: Literal["points", "numbers", "boxes"] = "points"


class Table(msgspec.Struct, frozen=True, tag=True):
    """A table with a name for those who do not see it; the first cell of a row names the row.

    `figures` are the columns, from 0, that hold figures.
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Line, ...], ...]
    figures: tuple[int, ...] = ()


class Fact(msgspec.Struct, frozen=True, tag=True):
    """One figure of a summary: what it is, the figure, and what stands beside it."""

    term: str
    value: Line
    beside: Line = ()


class Facts(msgspec.Struct, frozen=True, tag=True):
    """A summary in figures."""

    rows: tuple[Fact, ...]


class Drawing(msgspec.Struct, frozen=True, tag=True):
    """A drawing as SVG text; `file` is where it also lies in the folder, `words` say what it shows."""

    svg: str
    words: str
    caption: str = ""
    file: str = ""


class Picture(msgspec.Struct, frozen=True, tag=True):
    """A photo of the folder; `words` say what it shows."""

    file: str
    words: str
    caption: str = ""


class PrintSheet(msgspec.Struct, frozen=True, tag=True):
    """A page of its own at true scale: SVG whose units are millimetres of the paper."""

    svg: str
    on: Paper
    words: str


class Move(msgspec.Struct, frozen=True, tag=True):
    """One move of a work instruction: its number, title, lines and drawings."""

    number: int
    title: Line
    lines: tuple[Words, ...]
    drawings: tuple[Drawing, ...]
    anchor: str = ""


Block: TypeAlias = Heading | Words | Items | Table | Facts | Drawing | Picture | PrintSheet | Move


class Page(msgspec.Struct, frozen=True, tag=True):
    """One page: where it lies in the folder (without suffix), its title, its name in lists of pages."""

    path: str
    title: str
    name: str
    blocks: tuple[Block, ...]


def line(*pieces: Piece) -> Line:
    """Pieces as a line, empty texts left out.

    >>> line("see ", Link("the screws", page="screws"), "")
    ('see ', Link(text='the screws', page='screws', anchor='', file='', code=''))
    """
    return tuple(piece for piece in pieces if piece != "")


def plain(text: Line) -> str:
    """A line as text alone.

    >>> plain(line("see ", Link("the screws", page="screws")))
    'see the screws'
    """
    return "".join(piece if isinstance(piece, str) else piece.text for piece in text)
