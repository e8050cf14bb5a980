"""A draft from spoken notes as text: every item with its words and time, then what was kept aside."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import paragraph, sheet_width
from midframe.narration import Captions, Draft, Drafted
from midframe.narration.wording import GRADES, item_words
from midframe.publish.chapters import clock


def draft_sheet(captions: Captions, draft: Draft, made: Drafted, written: Sequence[str]) -> list[str]:
    """The items, the words kept aside, what is damaged in the file, what the record holds."""
    width = sheet_width()
    aside = [one for one in draft.aside if not one.idle]
    lines = [
        f"{captions.format}: {count(len(captions.cues), 'caption')}, {count(len(draft.items), 'item')},"
        f" {count(len(aside), 'stretch', 'stretches')} of words kept aside"
    ]
    for one in captions.damaged:
        lines += paragraph(f"left out, {one.path}: {one.found}; right: {one.right}", width, "  ", "    ")
    lines.append("")
    for item in draft.items:
        head = f"{item.number:>3}  {clock(item.start):>6}  "
        lines += paragraph(item_words(item), width, head, " " * 13)
        lines += paragraph(f"“{item.words}”", width, " " * 13, " " * 14)
        grade = () if item.grade == "said" else (f"{GRADES[item.grade]}:",)
        why = " ".join((*grade, "; ".join(item.reasons)))
        lines += paragraph(why, width, " " * 13, " " * 15) if item.reasons else []
    if aside:
        lines += ["", "Kept aside"]
        for passed in aside:
            head = f"     {clock(passed.start):>6}  "
            lines += paragraph(f"“{passed.words}” ({passed.why})", width, head, " " * 14)
    return [*lines, "", *record_lines(made, written, width)]


def record_lines(made: Drafted, written: Sequence[str], width: int) -> list[str]:
    """What the record holds, and where it is."""
    record = made.record
    assumed = sum(one.assumed and bool(one.under) for one in record.parts) + sum(
        one.assumed and bool(one.behind) for one in record.joints
    )
    lines = paragraph(
        f"Record: {count(len(record.parts), 'part')}, {count(len(record.joints), 'joint')},"
        f" {count(len(record.log), 'line')} of the log;"
        f" {count(assumed, 'condition')} assumed from the order, to be confirmed.",
        width,
    )
    for number, why in made.noted:
        lines += paragraph(f"item {number} is kept as a note only: {why}", width, "  ", "    ")
    if written:
        return [*lines, f"Written: {written[0]}. Next: midframe check {written[0]}"]
    return [*lines, "Nothing is written; --out FILE writes the record."]
