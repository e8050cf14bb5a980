"""Thermal layers: resistance and drop of recorded pads, paste and films, substitutes, two records beside."""

from midframe.thermal.compare import LayerRow, ThermalComparison, compare_layers
from midframe.thermal.d5470 import MeterBars, PadFit, conductivity, impedance, samples_from_csv
from midframe.thermal.figures import Span
from midframe.thermal.fitted import with_pad, with_tested
from midframe.thermal.fitting import Seat, seated
from midframe.thermal.layers import LayerResult, layer_result
from midframe.thermal.pads import Pad, common_pads, pads_from
from midframe.thermal.paths import Path, Step, heat_paths
from midframe.thermal.resistance import in_series, resistance, side_by_side, temperature_drop, unit_resistance
from midframe.thermal.spreading import spreading_resistance
from midframe.thermal.stack import PairResult, Stack, thermal_stack
from midframe.thermal.substitutes import Needed, Substitute, Substitutes, substitutes
from midframe.thermal.units import converted

__all__ = [
    "LayerResult",
    "LayerRow",
    "MeterBars",
    "Needed",
    "Pad",
    "PadFit",
    "PairResult",
    "Path",
    "Seat",
    "Span",
    "Stack",
    "Step",
    "Substitute",
    "Substitutes",
    "ThermalComparison",
    "common_pads",
    "compare_layers",
    "conductivity",
    "converted",
    "heat_paths",
    "impedance",
    "in_series",
    "layer_result",
    "pads_from",
    "resistance",
    "samples_from_csv",
    "seated",
    "side_by_side",
    "spreading_resistance",
    "substitutes",
    "temperature_drop",
    "thermal_stack",
    "unit_resistance",
    "with_pad",
    "with_tested",
]
