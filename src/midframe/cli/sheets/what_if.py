"""Design changes as a sheet, the one that gains most first."""

from __future__ import annotations

import msgspec

from midframe.cli.sheets.figures import count, minutes
from midframe.cli.sheets.table import Column, paragraph, sheet_width, table
from midframe.cli.sheets.ways import title_of
from midframe.dossier.what_if import Change, WhatIf
from midframe.record import Record
from midframe.record.completeness import gap_notes, role_notes


def what_if_sheet(record: Record, found: WhatIf, top: int, *, times: bool) -> list[str]:
    """The first redesigns of the ranking, with R before and after and the minutes saved."""
    width = sheet_width()
    lines = paragraph(f"{title_of(record)}: single design changes", width)
    lines += paragraph(
        f"{now(found)}. {count(found.tried, 'change')} tried, each by itself; {idle(found)}.", width
    )
    if gaps(record):
        lines += paragraph(
            "Values are missing in the record: R here is the lower end of its range, which midframe index"
            " gives, and gains are those of the lower end.",
            width,
        )
    shown = found.changes[:top]
    columns = [Column("no", figures=True), Column("change", wraps=True), Column("R", figures=True)]
    columns += [Column("gain", figures=True), Column("class"), Column("through", wraps=True)]
    columns += [Column("min saved", figures=True)] if times else []
    rows = [row(number, change, times=times) for number, change in enumerate(shown, start=1)]
    lines += ["", *table(columns, rows, width)] if rows else ["", "No single change gains anything."]
    if len(found.changes) > len(shown):
        lines += paragraph(f"{len(found.changes) - len(shown)} more: --top, --json.", width)
    lines += ["", *paragraph(notes(found, times=times), width)]
    return lines


def gaps(record: Record) -> bool:
    """Whether the record leaves something open that the index needs."""
    device = record.device
    unknown = [note for note in role_notes(record) if note.path == "device.absent"]
    told = device.updates_years is not None and device.repair_information is not None
    return bool(unknown or [*gap_notes(record)]) or not told


def by_minutes(found: WhatIf) -> WhatIf:
    """The same, with the change that saves most time first."""
    changes = sorted(found.changes, key=lambda change: -change.seconds_saved_mean)
    return msgspec.structs.replace(found, changes=tuple(changes))


def now(found: WhatIf) -> str:
    """R and class as they are."""
    least = "at least " if found.defined and not found.known else ""
    value = f"R = {least}{found.before / 10_000:.4f}, class {least}{found.class_before or 'none'}"
    return (
        value
        if found.defined
        else f"R is not defined ({value} if undefined values reached their lowest level)"
    )


def idle(found: WhatIf) -> str:
    """How many changes do nothing."""
    return f"{found.idle} change nothing"


def row(number: int, change: Change, *, times: bool) -> list[str]:
    """One redesign."""
    letters: str = change.class_after or "none"
    if change.class_after != change.class_before:
        letters = f"{change.class_before or 'none'} → {letters}"
    scores = ", ".join(f"{one.symbol} {(one.after - one.before) / 100:+.2f}" for one in change.scores)
    cells = [
        str(number),
        change.label + ("" if change.proven else " (not proven)"),
        f"{change.after / 10_000:.2f}" if change.defined else "none",
        f"{change.gain / 10_000:+.2f}",
        letters,
        scores or ("time only" if change.class_after == change.class_before else "score now defined"),
    ]
    return [*cells, signed(change.seconds_saved_mean)] if times else cells


def signed(seconds: float) -> str:
    """Minutes with their sign; nothing where there are none."""
    return f"{'+' if seconds > 0 else '−'}{minutes(abs(seconds))}" if abs(seconds) >= 3 else ""


def notes(found: WhatIf, *, times: bool) -> str:
    """What the columns mean."""
    text = "R: the index after the change, 5 at most."
    if times:
        text += (
            " min saved: on the way in, weighted by how often each part is exchanged"
            f" (now {minutes(found.seconds_mean)} min)."
        )
    if not found.complete:
        text += " Not all changes were tried."
    return (
        f"{text} {found.consolidation[:1].upper()}{found.consolidation[1:]} of the act. {found.disclaimer}"
        " Whether a change can be built is not asked."
    )
