"""The EU repairability index and its neighbours, one file per regulation.

Everything here takes `DeviceEvidence`, plain values that its caller fills, and
gives plain values back. It knows no record, no way and no file of a device.
"""

from midframe.index.evidence import (
    PRIORITY_ROLES,
    DeviceEvidence,
    Fastener,
    PartEvidence,
    Reading,
    ToolUse,
)
from midframe.index.results import IndexValue, Judgement, LegalFinding, RepairabilityIndex
from midframe.index.score import repairability_index

__all__ = [
    "PRIORITY_ROLES",
    "DeviceEvidence",
    "Fastener",
    "IndexValue",
    "Judgement",
    "LegalFinding",
    "PartEvidence",
    "Reading",
    "RepairabilityIndex",
    "ToolUse",
    "repairability_index",
]
