"""A seal check as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from midframe.seal import Reading, SealCheck


def seal_data(found: SealCheck, readings: Sequence[Reading], chart: str | None = None) -> dict[str, Any]:
    """The result as the library gives it, and the readings that it rests on, absolute and in kelvin."""
    return {
        **msgspec.to_builtins(found),
        "readings": msgspec.to_builtins(tuple(readings)),
        "chart": chart,
    }
