"""The states of a record on the shelf, in words."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

STATES: Mapping[str, str] = MappingProxyType(
    {
        "apart_now": "being taken apart",
        "waiting": "apart, waiting for a part",
        "refitting": "being refitted",
        "closed": "closed",
    }
)
"""Stored state → what the pages call it."""
