"""Findings of a record as a sheet: faults first, what was found over what would be right."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import pairs, paragraph, sheet_width
from midframe.record import Finding, faults


def findings_sheet(found: Mapping[str, tuple[Finding, ...]]) -> list[str]:
    """The findings of each file under a line that counts them."""
    width = sheet_width()
    lines: list[str] = []
    for file, findings in found.items():
        lines += [""] if lines else []
        lines += paragraph(f"{file}: {summary(findings)}", width)
        for finding in findings:
            lines += ["", *finding_lines(finding, width)]
    return lines


def summary(findings: tuple[Finding, ...]) -> str:
    """How many faults and notes there are."""
    bad = len(faults(findings))
    parts = [count(bad, "fault") if bad else "no fault"]
    if len(findings) > bad:
        parts.append(count(len(findings) - bad, "note"))
    return ", ".join(parts)


def finding_lines(finding: Finding, width: int) -> list[str]:
    """One finding: level, place and subject, then what was found and what would be right."""
    subject = f"({finding.subject})" if finding.subject else ""
    place = finding.path or "the whole file"
    head = paragraph(f"{finding.level}  {place} {subject}".rstrip(), width, "", "  ")
    return head + pairs([("found", finding.found), ("right", finding.right)], width, "  ")
