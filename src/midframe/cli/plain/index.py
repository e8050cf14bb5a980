"""The index as plain data: the values of the library as they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import msgspec

if TYPE_CHECKING:
    from midframe.dossier.index import DeviceIndex


def index_data(found: DeviceIndex) -> dict[str, Any]:
    """The index, what every regulation finds, and the sequence that governs for each part."""
    judgements = [dict(msgspec.to_builtins(one)) for one in found.judgements]
    for judgement in judgements:
        del judgement["index"]
    return {
        "index": msgspec.to_builtins(found.index),
        "range": msgspec.to_builtins(found.range),
        "judgements": judgements,
        "sequences": msgspec.to_builtins(found.sequences),
    }
