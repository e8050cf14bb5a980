"""What-if, upkeep and comparison as plain data: the values of the library as they are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from midframe.cli.shared import device_json
from midframe.dossier.compare import Comparison
from midframe.dossier.firmness import Firmness
from midframe.dossier.upkeep import DeviceUpkeep
from midframe.dossier.what_if import WhatIf
from midframe.record import Record


def what_if_data(found: WhatIf) -> dict[str, Any]:
    """Every redesign that changes something."""
    data = dict(msgspec.to_builtins(found))
    del data["device"]
    return data


def upkeep_data(found: DeviceUpkeep) -> dict[str, Any]:
    """The estimate and what it rests on."""
    data = dict(msgspec.to_builtins(found))
    del data["device"]
    return data


def compare_data(
    records: Sequence[Record], found: Comparison, ranking: Firmness | None = None
) -> dict[str, Any]:
    """The records side by side, and how firm their order is where that was asked for."""
    data = dict(msgspec.to_builtins(found))
    lines = data.pop("devices")
    return {
        "devices": [device_json(record) | line for record, line in zip(records, lines, strict=True)],
        **data,
        "ranking": msgspec.to_builtins(ranking),
    }
