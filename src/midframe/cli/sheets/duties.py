"""Duties held against a record: what is not met, what is open, and how many are met."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import Column, paragraph, sheet_width, table
from midframe.index.results import Judgement, LegalFinding

WORDS: Mapping[str, str] = {"met": "met", "not met": "not met", "not decidable from the record": "open"}
ORDER = ("not met", "not decidable from the record", "met")
COLUMNS = (
    Column("verdict"),
    Column("part", wraps=True),
    Column("duty", wraps=True),
    Column("why", wraps=True),
    Column("clause", wraps=True),
)


def duties_part(judgement: Judgement, *, every: bool, none: bool = False) -> list[str]:
    """What one regulation says; `every` lists met duties too, `none` only counts."""
    width = sheet_width()
    lines = ["", *paragraph(judgement.title, width)]
    if not judgement.applies:
        return lines + paragraph(f"Does not apply: {judgement.applies_because}.", width)
    verdicts = Counter(str(finding.verdict) for finding in judgement.findings)
    counted = ", ".join(f"{verdicts[verdict]} {word}" for verdict, word in WORDS.items())
    lines += paragraph(
        f"{count(len(judgement.findings), 'duty', 'duties')}: {counted}. {judgement.disclaimer}", width
    )
    shown = [one for one in judgement.findings if every or one.verdict != "met"]
    shown.sort(key=lambda one: ORDER.index(one.verdict))
    if shown and not none:
        lines += ["", *table(COLUMNS, map(duty_row, shown), width)]
    return lines


def duty_row(finding: LegalFinding) -> list[str]:
    """One duty."""
    clause = finding.clause.replace("Annex II B point ", "II B ").replace("Annex II A point ", "II A ")
    return [WORDS[finding.verdict], finding.name or "device", finding.duty, finding.why, clause]
