"""How firm the order of compared records is, as a sheet."""

from __future__ import annotations

from midframe.cli.sheets.figures import minutes
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
    return "; ".join(
        "none" if low is None or high is None else f"{figure(one, low)} to {figure(one, high)}"
        for low, high in zip(one.low, one.high, strict=True)
    ) + (" min" if one.unit == "seconds" else "")


def figure(one: Standing, value: float) -> str:
    """A value of a standing: minutes for seconds, whole steps, two decimals of the index."""
    if one.unit == "seconds":
        return minutes(value)
    return f"{value:.0f}" if one.unit == "steps" else f"{value:.2f}"
