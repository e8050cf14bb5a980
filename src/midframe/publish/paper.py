"""Drawing on paper in millimetres: sizes, a page as SVG at true scale, the calibration bars, QR codes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from xml.sax.saxutils import escape, quoteattr

import msgspec

from midframe.faults import BadSetting
from midframe.publish.language import language
from midframe.publish.svg import legible

PAPER_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"A4": (210.0, 297.0), "letter": (215.9, 279.4)}
)
"""Width and height of the papers, upright, in millimetres (ISO 216 and 8.5 by 11 inch, from memory)."""

MARGIN_MM = 10.0
"""Margin that no drawing enters: wider than what office printers leave blank (common practice, no source)."""

BAR_MM = 100.0
"""Length of the calibration bar."""

UPRIGHT_BAR_MM = 50.0
"""Length of the upright calibration bar."""

STYLE = (
    "text{font-family:system-ui,'Noto Sans','DejaVu Sans',sans-serif;fill:#000;"
    "stroke:#fff;stroke-width:.5;stroke-linejoin:round;paint-order:stroke}"
    ".line{stroke:#000;stroke-width:.18;fill:none}.fine{stroke:#555;stroke-width:.12;fill:none}"
    ".part{stroke:#777;stroke-width:.15;fill:none;stroke-dasharray:1 .8}"
    ".hole{stroke:#000;stroke-width:.18;fill:#fff}"
    ".stays{stroke:#777;stroke-width:.15;fill:#fff;stroke-dasharray:.4 .4}"
    ".ink{fill:#000}.strong{font-weight:700}"
    ".cut{stroke:#777;stroke-width:.12;fill:none;stroke-dasharray:2 1}"
)
"""Style of the drawings: black on white, they are made for paper."""


class Paper(msgspec.Struct, frozen=True):
    """A sheet of paper: its name, whether it lies on its side, and width and height as it lies, in mm."""

    name: str
    landscape: bool
    width_mm: float
    height_mm: float


def paper(name: str = "A4", *, landscape: bool = False) -> Paper:
    """A sheet of paper; raises `BadSetting` for a name that is not known.

    >>> paper("A4", landscape=True).width_mm
    297.0
    """
    if name not in PAPER_MM:
        raise BadSetting(f"paper: found '{name}'; it may be {' or '.join(PAPER_MM)}")
    wide, high = PAPER_MM[name]
    return Paper(name, landscape, high, wide) if landscape else Paper(name, landscape, wide, high)


def mm(value: float) -> str:
    """A length in millimetres with micrometres at most.

    >>> mm(12.0), mm(3.14159), mm(-0.0001)
    ('12', '3.142', '0')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def shape(name: str, content: str = "", **attributes: str | float) -> str:
    """One element of a drawing in millimetres; `_` stands for `-` in names, one at the end falls away.

    >>> shape("line", x1=0, y2=1.2345, class_="line")
    '<line x1="0" y2="1.234" class="line"/>'
    """
    written = "".join(
        f" {key.rstrip('_').replace('_', '-')}={quoteattr(legible(v) if isinstance(v, str) else mm(v))}"
        for key, v in attributes.items()
    )
    return f"<{name}{written}>{content}</{name}>" if content else f"<{name}{written}/>"


def line(x1: float, y1: float, x2: float, y2: float, class_: str = "line") -> str:
    """A straight line."""
    return shape("line", x1=x1, y1=y1, x2=x2, y2=y2, class_=class_)


def words(
    x: float, y: float, text: str, size: float = 2.6, *, anchor: str = "start", strong: bool = False
) -> str:
    """A line of text with its baseline at (x, y), `size` millimetres high."""
    said = {"class_": "strong"} if strong else {}
    return shape("text", escape(legible(text)), x=x, y=y, font_size=size, text_anchor=anchor, **said)


def cross(x: float, y: float, arm: float, class_: str = "line") -> str:
    """Two lines that meet at a point."""
    return line(x - arm, y, x + arm, y, class_) + line(x, y - arm, x, y + arm, class_)


def svg_page(on: Paper, title: str, content: Iterable[str]) -> str:
    """One page as SVG: a unit of its coordinates is one millimetre on paper."""
    head = shape("title", escape(legible(title))) + f"<style>{STYLE}</style>"
    return shape(
        "svg",
        head + "".join(content),
        xmlns="http://www.w3.org/2000/svg",
        width=f"{mm(on.width_mm)}mm",
        height=f"{mm(on.height_mm)}mm",
        viewBox=f"0 0 {mm(on.width_mm)} {mm(on.height_mm)}",
        role="img",
        aria_label=title,
    )


def html_pages(on: Paper, title: str, pages: Iterable[str], code: str = "en") -> str:
    """Pages of SVG as one HTML file that prints each on its own sheet, without margins and at true scale.

    `code` is the language of what the pages say.
    """
    size = f"{mm(on.width_mm)}mm {mm(on.height_mm)}mm"
    wide, high = (f"{mm(value)}mm" for value in (on.width_mm, on.height_mm))
    style = (
        f"@page{{size:{size};margin:0}}html,body{{margin:0;padding:0;background:#fff}}"
        f".page{{width:{wide};height:{high};overflow:hidden;break-after:page;break-inside:avoid}}"
        ".page:last-child{break-after:auto}.page svg{display:block}"
        "@media screen{html{background:#e9e6dd}.page{margin:6mm auto;background:#fff}}"
        "h1{position:absolute;width:1px;height:1px;margin:0;overflow:hidden;clip-path:inset(50%)}"
        "@media print{h1{display:none}}"
    )
    body = "".join(f'<div class="page">{page}</div>' for page in pages)
    named = escape(legible(title))
    return (
        f'<!doctype html>\n<html lang="{code}"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width"><title>{named}</title>'
        f"<style>{style}</style></head><body><main><h1>{named}</h1>{body}</main></body></html>\n"
    )


def calibration(on: Paper, code: str = "en") -> str:
    """The bars at the foot of a page that show whether the printer kept the scale."""
    left, foot = MARGIN_MM, on.height_mm - MARGIN_MM - 4
    right = on.width_mm - MARGIN_MM - 1
    drawn = [line(left, foot, left + BAR_MM, foot)]
    for tick in range(0, int(BAR_MM) + 1, 10):
        drawn.append(line(left + tick, foot - (2 if tick % 50 == 0 else 1), left + tick, foot))
    drawn.append(line(right, foot - UPRIGHT_BAR_MM, right, foot))
    for tick in range(0, int(UPRIGHT_BAR_MM) + 1, 10):
        drawn.append(line(right - (2 if tick % 50 == 0 else 1), foot - tick, right, foot - tick))
    told = language(code).say("scale-check", bar=BAR_MM, upright=UPRIGHT_BAR_MM)
    drawn.append(words(left, foot + 3.4, told, 2.3))
    return "".join(drawn)


def qr_path(text: str, x: float, y: float, side: float) -> str:
    """A QR code of a text as one filled path, its quiet zone of four modules inside the square."""
    import segno

    rows = segno.make(text, error="m", micro=False).matrix
    module = side / (len(rows) + 8)
    runs = []
    for row, cells in enumerate(rows):
        start = None
        for column, dark in enumerate([*cells, 0]):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                at_x, at_y = x + (start + 4) * module, y + (row + 4) * module
                wide = mm((column - start) * module)
                runs.append(f"M{mm(at_x)} {mm(at_y)}h{wide}v{mm(module)}h-{wide}z")
                start = None
    return shape("path", d="".join(runs), class_="ink")
