"""Where the files of a published device lie, and how one page leads to another."""

from __future__ import annotations

import posixpath
from collections.abc import Mapping

from midframe.record.model import Record

OVERVIEW = "index"
SCREWS = "screws"
REFIT = "refit"
INDEX = "repairability"
LISTS = "lists"
CHAPTERS = "chapters"
PHOTOS = "photos"
STYLE = "style.css"
RECORD_FILE = "record.device.toml"
STACK_FILE = "drawings/stack.svg"
SCREW_FILE = "screw-sheet.html"
CHAPTERS_FILE = "chapters/chapters.vtt"
TIMES_FILE = "chapters/times.txt"


def instruction_paths(record: Record) -> Mapping[str, str]:
    """The page of the instruction to each part; names that differ in capitals alone are told apart.

    >>> from midframe.demo import load
    >>> instruction_paths(load("tern-2"))["battery"]
    'in/to-battery'
    """
    found: dict[str, str] = {}
    taken: set[str] = set()
    for part in record.parts:
        name, number = f"in/to-{part.id}", 1
        while name.casefold() in taken:
            number += 1
            name = f"in/to-{part.id}-{number}"
        found[part.id] = name
        taken.add(name.casefold())
    return found


def photo_file(photo: str) -> str:
    """Where a photo lies."""
    return f"photos/{photo}.jpg"


def screw_drawing(number: int) -> str:
    """Where a page of the screw sheet lies as a drawing."""
    return f"drawings/screw-sheet-{number}.svg"


def from_page(page: str, target: str) -> str:
    """The relative address of a file from a page; both are paths in the folder.

    >>> from_page("in/to-battery.html", "style.css"), from_page("index.html", "in/to-battery.html")
    ('../style.css', 'in/to-battery.html')
    """
    return posixpath.relpath(target, posixpath.dirname(page) or ".")
