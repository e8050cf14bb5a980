"""Drawings for print: what they say in words, their colours resolved, without links."""

from __future__ import annotations

import re
from base64 import b64encode
from html import unescape
from xml.sax.saxutils import escape

from midframe.faults import BadSetting
from midframe.publish.svg import style

LINKED = re.compile(r"</?a\b[^>]*>")
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""Markers that begin a frame header of a JPEG [itu-t81, table B.1]."""

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


def photo_svg(data: bytes) -> str:
    """A photo as a drawing that holds nothing else, for a program that takes text only.

    Raises `BadSetting` for what is no JPEG.
    """
    wide, high = jpeg_size(data)
    size = f'width="{wide}" height="{high}"'
    picture = f'<image {size} href="data:image/jpeg;base64,{b64encode(data).decode()}"/>'
    box = f'viewBox="0 0 {wide} {high}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} {box}>{picture}</svg>'


def jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height of a JPEG in pixels, from its frame header [itu-t81, clause B.2.2].

    Raises `BadSetting` where it has none.
    """
    place = 2
    while data[:2] == b"\xff\xd8" and place + 9 <= len(data) and data[place] == 0xFF:
        marker, length = data[place + 1], int.from_bytes(data[place + 2 : place + 4], "big")
        if marker in FRAMES:
            high, wide = (int.from_bytes(data[at : at + 2], "big") for at in (place + 5, place + 7))
            if wide and high:
                return wide, high
        place += 2 + length
    raise BadSetting("photo: found bytes that are no JPEG; right: a picture as midframe.photos makes it")
