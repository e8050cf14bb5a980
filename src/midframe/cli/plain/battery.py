"""Battery checks as plain data."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.battery import BatteryComparison, Columns, Handling, Health, LabelReport, LogMapping


def label_data(report: LabelReport) -> dict[str, Any]:
    """One label: its figures with their meaning, what was checked, densities."""
    one = report.label
    return {
        "part": one.part,
        "name": one.name,
        "origin": one.origin,
        "confirmed": one.confirmed,
        "figures": [msgspec.to_builtins(mean.figure) | {"meaning": mean.text} for mean in report.meanings],
        "findings": msgspec.to_builtins(report.findings),
        "energy_wh": report.energy_wh,
        "energy_density_wh_l": report.energy_density_wh_l,
        "energy_density_wh_kg": report.energy_density_wh_kg,
        "sources": list(report.sources),
    }


def health_data(columns: Columns, mapping: LogMapping, found: Health) -> dict[str, Any]:
    """What the columns were taken for, and the result."""
    return {
        "rows": columns.rows,
        "columns": [
            {"role": one.role, "column": one.column, "unit": one.unit, "why": one.why}
            for one in mapping.columns
        ],
        "sign": mapping.sign,
        "remembered": columns.remembered,
        "result": msgspec.to_builtins(found),
    }


def handling_data(name: str, found: Handling, seen: bool) -> dict[str, Any]:
    """Handling of one battery; `seen` is whether anybody said how it looks."""
    return {"name": name, "seen": seen, **msgspec.to_builtins(found)}


def comparison_data(found: BatteryComparison) -> dict[str, Any]:
    """Two batteries side by side."""
    return dict(msgspec.to_builtins(found))
