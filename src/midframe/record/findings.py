"""What a reader or check found in a record: where, what, and what would be right."""

from __future__ import annotations

from typing import Literal

import msgspec


class Finding(msgspec.Struct, frozen=True):
    """One fault or note about a record.

    A fault stands in the way of a result; a note is worth a look. `path`
    counts from 0 (`joints[3].behind`), or is a line and column of the text.
    `subject` is the part or joint id, empty where there is none.
    """

    level: Literal["fault", "note"]
    file: str
    path: str
    subject: str
    found: str
    right: str

    def __str__(self) -> str:
        """The finding in one line, as the terminal and the log show it."""
        where = ", ".join(one_line(word) for word in (self.file, self.path) if word) or "record"
        subject = f" ({one_line(self.subject)})" if self.subject else ""
        return f"{self.level}: {where}{subject}: found {one_line(self.found)}; right: {one_line(self.right)}"


def fault(path: str, subject: str, found: str, right: str) -> Finding:
    """A fault whose file is filled in later."""
    return Finding("fault", "", path, subject, found, right)


def note(path: str, subject: str, found: str, right: str) -> Finding:
    """A note whose file is filled in later."""
    return Finding("note", "", path, subject, found, right)


def one_line(text: str) -> str:
    r"""The text with anything that would break the line written as an escape.

    >>> one_line("two\nlines")
    'two\\nlines'
    """
    return "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in text)


def faults(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Only those findings that stand in the way of a result."""
    return tuple(finding for finding in findings if finding.level == "fault")
