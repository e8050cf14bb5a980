"""Every error midframe raises on purpose: one base, a handful by meaning, each also a built-in."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Any


class Fault(Exception):
    """Base of all errors that are the input's or the caller's to mend."""


class RecordFault(Fault, ValueError):
    """A record that cannot be used; `findings` holds every fault found."""

    def __init__(self, findings: Iterable[Any]) -> None:
        self.findings = tuple(findings)
        super().__init__("\n".join(str(finding) for finding in self.findings))


class LogFault(RecordFault):
    """A log, label or list from outside that cannot be used; `findings` say where and what would be right."""


class UnknownPart(Fault, LookupError):
    """A part or joint id that the record does not hold."""

    def __str__(self) -> str:
        return str(self.args[0]) if self.args else ""


class IllegalMove(Fault, ValueError):
    """A move that the rules of the moves forbid in the present state."""


class NoWay(Fault, ValueError):
    """A part that no sequence of moves gets out."""


class BadSetting(Fault, ValueError):
    """A setting, reading or count outside what is defined."""


class UnknownRecord(Fault, LookupError):
    """A record id, revision or photo that the store does not hold."""

    def __str__(self) -> str:
        return str(self.args[0]) if self.args else ""


class NothingToUndo(Fault, ValueError):
    """No edit is left that can be undone or redone."""


class StoreTrouble(Fault, RuntimeError):
    """The store cannot be opened, read or written: a full disk, a read-only folder; says what to do."""


class TooLarge(Fault, ValueError):
    """More bytes, pixels or files than are taken."""


class BadPhoto(Fault, ValueError):
    """Bytes that are no photo that can be read."""


class TooManyTries(Fault, ValueError):
    """Too many wrong codes of late; says how long to wait."""


class BadArchive(Fault, ValueError):
    """An archive or backup that is damaged, or holds what it must not."""


def lacking(what: str, packages: str, extra: str) -> BadSetting:
    """The fault of a package that is not installed: what needs it, and how to install it here.

    >>> str(lacking("PDF", "typst", "pdf")).partition("; right: ")[0]
    'PDF needs typst, which is not installed'
    """
    here = f"{sys.executable} -m pip install {packages}"
    return BadSetting(
        f"{what} needs {packages}, which is not installed; right: {here} (midframe's extra `{extra}`)"
    )
