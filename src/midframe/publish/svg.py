"""Small SVG: elements as text, attributes escaped, a drawing with title and description.

Colours and weights come from the classes of `drawing.css`, so that a page
styles every drawing alike, light, dark and in print.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from importlib.resources import files
from xml.sax.saxutils import escape, quoteattr

CHARACTER_WIDTH = 7.0
"""Mean advance of a character of a 12-unit sans-serif label, in drawing units (our own measurement)."""


UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")
"""Signs that no page should hold: control characters and those that turn the writing direction."""


def number(value: float) -> str:
    """A coordinate with one decimal at most.

    >>> number(12.0), number(3.14159)
    ('12', '3.1')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def legible(text: str) -> str:
    """The text without control characters and turns of the writing direction: spaces instead."""
    return UNSEEN.sub(" ", text)


def element(name: str, content: str = "", **attributes: str | float) -> str:
    """One element; `content` is markup already, attribute names take `_` for `-` and a trailing `_`.

    >>> element("line", x1=0, y2=1.25, class_="d-hair")
    '<line x1="0" y2="1.2" class="d-hair"/>'
    """
    values = {
        key: quoteattr(legible(value) if isinstance(value, str) else number(value))
        for key, value in attributes.items()
    }
    written = "".join(f" {key.rstrip('_').replace('_', '-')}={value}" for key, value in values.items())
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


def words(x: float, y: float, text: str, class_: str = "d-text", anchor: str = "start") -> str:
    """A line of text with its baseline at (x, y)."""
    return element("text", escape(legible(text)), x=x, y=y, class_=class_, text_anchor=anchor)


def path(points: Iterable[tuple[float, float]], class_: str, *, closed: bool = False) -> str:
    """A line through points."""
    drawn = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return element("polygon" if closed else "polyline", points=drawn, class_=class_)


def titled(shape: str, title: str) -> str:
    """A shape with a title of its own, for the pointer and for readers."""
    return element("g", element("title", escape(legible(title))) + shape)


def linked(shape: str, address: str, name: str) -> str:
    """A shape that leads to an address, with a name for those who do not see it."""
    return element("a", shape, href=address, aria_label=name, class_="d-link")


def drawing(
    width: float, height: float, title: str, description: str, content: Iterable[str], *, role: str = "img"
) -> str:
    """A whole drawing; it scales to its frame and says in words what it shows.

    `role` is "group" for one with links inside, as those who do not see it would miss them in an image.
    """
    told = element("title", escape(legible(title))) + element("desc", escape(legible(description)))
    return element(
        "svg",
        told + "".join(content),
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        role=role,
        aria_label=title,
        class_="drawing",
        fill="none",
        stroke="currentColor",
    )


def width_of(text: str, *, strong: bool = False) -> float:
    """Estimated width of a label in drawing units, on the wide side; bold letters are wider."""
    return CHARACTER_WIDTH * (1.13 if strong else 1.0) * len(text) + 2


def cut(text: str, longest: int = 34) -> str:
    """A label short enough to be placed; what is cut off is marked.

    >>> cut("Grounding tape over the shield of the main board", 20)
    'Grounding tape over…'
    """
    return text if len(text) <= longest else text[: longest - 1].rstrip() + "…"


def style() -> str:
    """The style sheet of the drawings, to be put into the page that shows them."""
    return files(__name__.rpartition(".")[0]).joinpath("templates", "drawing.css").read_text(encoding="utf-8")


def standalone(svg: str) -> str:
    """A drawing as a file of its own, with its styles inside."""
    head, _, rest = svg.partition("</desc>")
    return f"{head}</desc><style>{escape(style())}</style>{rest}\n"
