"""The record of a device: model, reader, writer, check."""

from midframe.record.check import check, sound
from midframe.record.findings import Finding, faults
from midframe.record.model import Record
from midframe.record.reader import from_plain, read
from midframe.record.schema import schema
from midframe.record.writer import digest, plain, write

__all__ = [
    "Finding",
    "Record",
    "check",
    "digest",
    "faults",
    "from_plain",
    "plain",
    "read",
    "schema",
    "sound",
    "write",
]
