"""The screw sheets that somebody asks for: paper, sides, hand, labels; as HTML, as SVG files."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

import msgspec

from midframe.faults import BadSetting
from midframe.publish.screw_pages import Which, sheet_html, sheet_svg
from midframe.publish.screw_sheet import ScrewSheet, screw_sheet, sides
from midframe.record.model import Face, Move, Record


class SheetOptions(msgspec.Struct, frozen=True, kw_only=True):
    """What is printed. `lie` None: as takes fewer pages; `side` None: every side that has screws.

    `mirrored` gives the other hand: the plan as it is seen from the other side. `link` is the address that
    the codes on the labels open; empty: no codes. `language` is the code of the language of the sheets.
    """

    paper: Literal["A4", "letter"] = "A4"
    lie: Literal["upright", "landscape"] | None = None
    side: Face | None = None
    mirrored: bool = False
    labels: Which = "all"
    link: str = ""
    language: str = "en"


def sheets_of(
    record: Record, options: SheetOptions, moves: Iterable[Move] | None = None
) -> tuple[ScrewSheet, ...]:
    """The sheets of the sides that are asked for, with the order out of `moves`, or of the whole device.

    Raises `BadSetting` where the side has no screws.
    """
    known = sides(record)
    wanted = [side for side in known if options.side in (None, side)]
    if not wanted:
        there = " and ".join(f"the {side}" for side in known) or "no side has any"
        asked = f"the {options.side}" if options.side else "any side"
        raise BadSetting(f"screw sheet: found no screws on {asked}; right: a side that has some ({there})")
    done = None if moves is None else tuple(moves)
    return tuple(
        screw_sheet(
            record,
            side,
            on=options.paper,
            landscape=None if options.lie is None else options.lie == "landscape",
            moves=done,
            mirrored=(side != "back") if options.mirrored else None,
            language=options.language,
        )
        for side in wanted
    )


def html_of(record: Record, options: SheetOptions, moves: Iterable[Move] | None = None) -> str:
    """The sheets and labels as one HTML file to print."""
    sheets = sheets_of(record, options, moves)
    return sheet_html(sheets, link=options.link, labels=options.labels)


def svg_of(record: Record, options: SheetOptions, moves: Iterable[Move] | None = None) -> tuple[str, ...]:
    """The pages of the sheets, each as the text of an SVG file; labels are not among them.

    >>> from midframe import demo
    >>> len(svg_of(demo.load("heron-tab"), SheetOptions(paper="letter")))
    3
    """
    return tuple(page + "\n" for sheet in sheets_of(record, options, moves) for page in sheet_svg(sheet))
