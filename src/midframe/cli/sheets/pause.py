"""A pause sheet and a weighing as text."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import pairs, paragraph, sheet_width
from midframe.cli.sheets.ways import title_of
from midframe.publish.pause import Pause
from midframe.record import Record
from midframe.refit import WeighCheck


def pause_text(record: Record, sheet: Pause) -> list[str]:
    """What lies where, what is on order, what to look at."""
    width = sheet_width()
    lines = [*paragraph(f"{title_of(record)}: put away, {count(len(sheet.done), 'move')} open", width), ""]
    rows = [
        ("device lies", sheet.place or "not said"),
        ("last move", sheet.last),
        ("way back", f"begins with {sheet.goes_on}" if sheet.goes_on else "none: it is closed"),
        ("screws out", str(sheet.screws_out)),
        ("battery", "connected" if sheet.battery_connected else "not connected"),
        ("on its cable", ", ".join(sheet.hanging)),
    ]
    lines += [*pairs([row for row in rows if row[1]], width), ""]
    for one in sheet.resting:
        screws = ", ".join(f"{number} × {letter}" for letter, number in one.screws)
        held = "; ".join(text for text in (", ".join(one.tray.names), screws) if text)
        lines += paragraph(f"tray {one.tray.number}: {held}{f' – {one.place}' if one.place else ''}", width)
    lines += section("On order", [told(one.item, one.note) for one in sheet.on_order] or ["nothing"], width)
    lines += section("Notes", sheet.notes, width) if sheet.notes else []
    lines += section("Before you go", sheet.on_leaving, width)
    return lines + section("On return", sheet.on_return, width)


def told(item: str, note: str) -> str:
    """A thing on order with its note."""
    return f"{item} ({note})" if note else item


def section(title: str, texts: Sequence[str], width: int) -> list[str]:
    """A heading with lines to tick."""
    lines = ["", title]
    for text in texts:
        lines += paragraph(text, width, "  [ ] ", "      ")
    return lines


def weigh_text(found: WeighCheck) -> list[str]:
    """What two weighings say."""
    width = sheet_width()
    rows = [
        ("difference", f"{found.difference_g:+.3g} g, standard uncertainty {found.uncertainty_g:.2g} g"),
        ("more than chance", f"beyond {found.threshold_g:.2g} g (5 % false alarms on a side)"),
        ("seen", f"{found.detectable_g:.2g} g or more (5 % missed)"),
        ("not seen", ", ".join(f"one {kind}, {mass:.2g} g" for kind, mass in found.unseen)),
    ]
    lines = [*paragraph(found.sentence, width), "", *pairs([row for row in rows if row[1]], width)]
    if found.repeatability_assumed:
        lines += ["", *paragraph("The spread of the scale is taken as one step: nobody measured it.", width)]
    return lines
