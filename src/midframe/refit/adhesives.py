"""Adhesives on refit: how the old one is cleaned off, how the new one is pressed and how long it takes."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec


class Adhesive(msgspec.Struct, frozen=True):
    """What an adhesive wants on refit. Times are common practice unless a source says otherwise.

    `clean` are sentences in order; `solvent` says that they use one, with its own caution. `press_seconds`
    is how long each spot is pressed, `rest_seconds` how long the device then lies weighted before it is
    handled, `full_hours` until the bond holds as it should; None where the maker of the adhesive must say.
    """

    family: str
    words: tuple[str, ...]
    clean: tuple[str, ...]
    solvent: bool
    press_seconds: float | None
    rest_seconds: float | None
    full_hours: float | None
    lay: str
    note: str
    sources: tuple[str, ...] = ()


WIPE = "Wipe both faces with isopropanol of 90 % or more on a lint-free wipe; let all of it evaporate."
SCRAPE = "Roll or scrape off what is left with a plastic edge, never with metal near a cell or a flex."

ADHESIVES: Mapping[str, Adhesive] = MappingProxyType(
    {
        "stretch strip": Adhesive(
            "stretch strip",
            ("stretch",),
            ("Pull off what is left of the strips at a flat angle, never across a corner of the cell.", WIPE),
            True,
            10.0,
            0.0,
            24.0,
            "Lay the strips on the seat, tabs within reach; the cell goes on once, straight down.",
            "Common practice, no source.",
        ),
        "acrylic foam": Adhesive(
            "acrylic foam",
            ("acrylic foam", "foam tape"),
            (SCRAPE, WIPE),
            True,
            15.0,
            1800.0,
            72.0,
            "Lay the new frame on the part that carries it, corners first; draw the liner last.",
            "Acrylic tapes gain strength over hours to days; common practice, no source for the times.",
        ),
        "acrylic tape": Adhesive(
            "acrylic tape",
            ("acrylic", "pressure-sensitive"),
            (SCRAPE, WIPE),
            True,
            15.0,
            900.0,
            72.0,
            "Lay the new tape on the part that carries it; draw the liner last; it goes down once.",
            "Acrylic tapes gain strength over hours to days; common practice, no source for the times.",
        ),
        "reactive hot melt": Adhesive(
            "reactive hot melt",
            ("polyurethane", "pur", "hot melt"),
            ("Warm the line as for opening and roll it off: cross-linked it does not melt any more.", WIPE),
            True,
            30.0,
            3600.0,
            96.0,
            "Apply the new line by its maker's sheet, or tape where the shop has no line dispenser.",
            "80 % of its strength after 24 h, all after 3 to 5 days (as restated on trade pages).",
        ),
        "silicone": Adhesive(
            "silicone",
            ("silicone",),
            ("Peel and rub it off dry: solvents do little to silicone.", WIPE),
            True,
            15.0,
            None,
            24.0,
            "Lay it without air; silicone tapes bond to silicone only.",
            "Common practice, no source.",
        ),
        "unknown": Adhesive(
            "unknown",
            (),
            (SCRAPE, WIPE),
            True,
            None,
            None,
            None,
            "By the sheet of the adhesive that is used.",
            "The record does not say what adhesive it is: press and cure as its maker says.",
        ),
    }
)
"""Adhesives by family, the first whose words are in the record's material (common practice, no source)."""


def adhesive(material: str) -> Adhesive:
    """The family of an adhesive by the words of the record.

    >>> adhesive("thin acrylic tape").family, adhesive("stretch-release strip").family, adhesive("").family
    ('acrylic tape', 'stretch strip', 'unknown')
    """
    said = material.casefold().replace("-", " ").split()
    text = f" {' '.join(said)}"
    for family in ADHESIVES.values():
        if any(f" {word}" in text for word in (w.replace("-", " ") for w in family.words)):
            return family
    return ADHESIVES["unknown"]
