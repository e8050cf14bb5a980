"""Pages of a published device as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from midframe.publish.blocks import (
    Block,
    Drawing,
    Facts,
    Heading,
    Items,
    Line,
    Link,
    Page,
    Picture,
    Piece,
    Strong,
    Table,
    Words,
)
from midframe.publish.site_paths import from_page
from midframe.publish.templating import plain_value

FOLDER = "markdown"
"""Where the Markdown pages lie."""

MARKS: Mapping[str, str] = MappingProxyType({"points": "-", "boxes": "- [ ]"})


def page_markdown(page: Page) -> bytes:
    """One page as text."""
    here = f"{FOLDER}/{page.path}.md"
    parts = [
        f"# {plain_value(page.title)}",
        *(made for block in page.blocks if (made := written(here, block))),
    ]
    return (re.sub(r"\n{3,}", "\n\n", "\n\n".join(parts)).strip() + "\n").encode()


def written(here: str, block: Block) -> str:
    """One block; what has no form in Markdown is left out."""
    match block:
        case Heading():
            return f"{'#' * block.level} {plain_value(block.text)}"
        case Words():
            return text(here, block.line)
        case Items():
            return "\n".join(items(here, block))
        case Facts():
            return "\n".join(
                f"- {plain_value(fact.term)}: {text(here, fact.value)}"
                + (f" ({text(here, fact.beside)})" if fact.beside else "")
                for fact in block.rows
            )
        case Table():
            return table(here, block)
        case Drawing() if block.file:
            return image(here, block.file, block.words, block.caption)
        case Picture():
            return image(here, block.file, block.words, block.caption)
    return ""


def items(here: str, block: Items) -> Iterator[str]:
    """The lines of a list."""
    for number, line in enumerate(block.lines, start=1):
        mark = MARKS.get(block.kind, f"{number}.")
        yield f"{mark} {text(here, line)}"


def table(here: str, block: Table) -> str:
    """A table with its head."""
    rules = ["---:" if column in block.figures else "---" for column in range(len(block.heads))]
    rows = [[str(plain_value(head)) for head in block.heads], rules]
    rows += [[text(here, cell) for cell in row] for row in block.rows]
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def image(here: str, file: str, words: str, caption: str) -> str:
    """A picture with what it shows, and its caption below."""
    told = f"![{plain_value(words)}]({from_page(here, file)})"
    return f"{told}\n\n{plain_value(caption)}" if caption else told


def text(here: str, line: Line) -> str:
    r"""A line on the page `here`.

    >>> text("markdown/lists.md", ("see ", Link("the *screws*", page="screws")))
    'see [the \\*screws\\*](screws.md)'
    """
    return "".join(piece(here, one) for one in line)


def piece(here: str, one: Piece) -> str:
    """One piece of a line; space at its ends is kept."""
    if isinstance(one, str):
        told = str(plain_value(one))
        return (" " if one[:1].isspace() else "") + told + (" " if one[-1:].isspace() and told else "")
    told = str(plain_value(one.text))
    if isinstance(one, Strong):
        return f"**{told}**"
    if isinstance(one, Link):
        target = one.file or f"{FOLDER}/{one.page}.md"
        return f"[{told}]({from_page(here, target)})"
    return told
