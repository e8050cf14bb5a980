"""Thermal layers as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from midframe.thermal import PadFit, Path, Stack, Substitutes, ThermalComparison


def thermal_data(
    stack: Stack | None = None,
    paths: Sequence[Path] = (),
    found: Substitutes | None = None,
    beside: ThermalComparison | None = None,
    *,
    fit: PadFit | None = None,
) -> dict[str, Any]:
    """Layers, ways, substitutes, predecessor and bar test as the library gives them."""
    head = {} if stack is None else msgspec.to_builtins(stack)
    head.pop("device", None)
    return {
        **head,
        "paths": msgspec.to_builtins(paths),
        "substitutes": msgspec.to_builtins(found),
        "beside": msgspec.to_builtins(beside),
        "tested": msgspec.to_builtins(fit),
    }
