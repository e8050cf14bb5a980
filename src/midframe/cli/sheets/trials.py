"""Function checks as text: a list to go through, and the difference with what is worse in front."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import paragraph, sheet_width
from midframe.cli.sheets.ways import title_of
from midframe.record import Record
from midframe.record.model import Outcome
from midframe.trials import CHANGE_WORDS, CHANGES, Difference, Moved, Trial, worse


def list_sheet(record: Record, listed: Sequence[Trial], said: Mapping[str, Outcome]) -> list[str]:
    """The checks to go through, each with a box, or with the answer that was given."""
    width = sheet_width()
    lines = [f"{title_of(record)}: {count(len(listed), 'function check')}", ""]
    names = {part.id: part.name for part in record.parts}
    for trial in listed:
        told = said.get(trial.id)
        box = f"[{told.outcome}]" if told else "[ ]"
        side = "" if trial.when == "both" else f" ({trial.when} the job)"
        lines += paragraph(f"{box} {trial.name}{side}: {trial.text}", width, "  ", "      ")
        parts = ", ".join(names.get(part, part) for part in trial.parts)
        lines += paragraph(f"tries {parts}", width, "      ") if parts else []
    own = sum(trial.own for trial in listed)
    told_own = f"{own} of the record's own, the others common practice" if own else "common practice"
    return [*lines, "", *paragraph(f"Which apply follows from the parts of the record: {told_own}.", width)]


def difference_sheet(record: Record, found: Sequence[Difference]) -> list[str]:
    """Before and after side by side, what is worse in front."""
    width = sheet_width()
    bad = len(worse(found))
    told = f"{bad} worse than before" if bad else "none worse than before"
    lines = paragraph(f"{title_of(record)}: {count(len(found), 'function check')}, {told}", width)
    for change in CHANGES:
        of_it = [one for one in found if one.change == change]
        if not of_it:
            continue
        lines += ["", CHANGE_WORDS[change]]
        for one in of_it:
            text = f"{one.trial.name}: before {one.before.outcome}, after {one.after.outcome}"
            lines += paragraph(text, width, "  ", "    ")
            for when, side in (("before", one.before), ("after", one.after)):
                lines += paragraph(f"{when}: {side.note}", width, "    ", "      ") if side.note else []
            for figure in one.figures:
                lines += paragraph(moved(figure), width, "    ", "      ")
    return lines


def moved(figure: Moved) -> str:
    """A figure before and after in words.

    >>> moved(Moved("capacity when full", "mAh", 3900.0, 4810.0, 910.0))
    'capacity when full: 3900 → 4810 mAh (+910)'
    """
    sides = [
        "not read" if value is None else value if isinstance(value, str) else f"{value:.10g}"
        for value in (figure.before, figure.after)
    ]
    change = "" if figure.difference is None else f" ({figure.difference:+.10g})"
    return f"{figure.label}: {sides[0]} → {sides[1]} {figure.unit}".rstrip() + change
