"""How firm the order of compared records is, as a sheet."""

from __future__ import annotations

from midframe.cli.sheets.compare import figure_of
from midframe.cli.sheets.table import Column, paragraph, sheet_width, table
from midframe.dossier.firmness import Firmness, Standing, share_words


def ranking_sheet(found: Firmness) -> list[str]:
    """A row for each figure: how often each device comes first, and what that means in words."""
    width = sheet_width()
    heads = [Column(name, figures=True, wraps=True) for name in found.devices]
    rows = [
        [one.name, *(share_words(share) for share in one.first), share_words(one.level), ranges(one)]
        for one in found.standings
    ]
    columns = [
        Column("comes first", wraps=True),
        *heads,
        Column("level", figures=True),
        Column("middle 90 % of draws", wraps=True),
    ]
    lines = paragraph(f"How firm the order is: {found.draws} draws, seed {found.seed}", width)
    lines += [part for line in found.varied for part in paragraph(line, width, "  ", "    ")]
    lines += ["", *table(columns, rows, width), ""]
    doubtful = [one for one in found.standings if not one.firm]
    for one in doubtful:
        lines += paragraph(f"{one.name}: {one.text}", width, "", "  ")
    rest = "Every" if not doubtful else "Every other"
    return [*lines, *paragraph(f"{rest} first place is firm: in 95 % of draws or more.", width)]


def ranges(one: Standing) -> str:
    """The middle 90 % of each device's draws, in the order of the devices."""
    ends = zip(one.low, one.high, strict=True)
    told = (
        "none"
        if None in (low, high)
        else " to ".join(figure_of(one.unit, value or 0.0) for value in (low, high))
        for low, high in ends
    )
    return "; ".join(told)
