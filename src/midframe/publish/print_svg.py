"""Drawings for print: what they say in words, their colours resolved, without links."""

from __future__ import annotations

import re
from html import unescape
from xml.sax.saxutils import escape

from midframe.publish.svg import style

LINKED = re.compile(r"</?a\b[^>]*>")
VARIABLE = re.compile(r"var\(--([a-z]+)\)")


def words_of(svg: str) -> str:
    """What a drawing says of itself for those who do not see it: its title, then its description.

    >>> words_of('<svg><title>Plan</title><desc>3 screws &amp; a plate.</desc></svg>')
    'Plan. 3 screws & a plate.'
    """
    found = (re.search(rf"<{name}>(.*?)</{name}>", svg, re.DOTALL) for name in ("title", "desc"))
    return ". ".join(unescape(one[1]) for one in found if one)


def printed(svg: str) -> str:
    """A drawing that needs no page around it: dark on white, for a program that knows no style variables."""
    head, _, rest = svg.partition("</desc>")
    return f"{head}</desc><style>{escape(print_style())}</style>{LINKED.sub('', rest)}"


def print_style() -> str:
    """The style of the drawings with its variables resolved as they are in print."""
    sheet = style()
    rules = re.search(r"@media print\{\.drawing\{(.*?)\}\}", sheet)
    first = re.search(r"\.drawing\{(.*?)\}", sheet)
    colours = {
        name: value
        for rule in (first, rules)
        if rule
        for name, value in re.findall(r"--([a-z]+):([^;]+)", rule[1])
    }
    plain = re.sub(r"@media[^\n]*\n?", "", sheet)
    return VARIABLE.sub(lambda found: colours[found[1]], plain)
