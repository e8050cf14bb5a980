"""Seal checks: leak rates of pressure and vacuum decay tests, their uncertainty and published criteria."""

from midframe.seal.check import (
    CRITERIA,
    NO_RATING,
    Compared,
    Criterion,
    Instrument,
    Reading,
    SealCheck,
    readings_from_csv,
    seal_check,
)
from midframe.seal.leak import from_pa_m3_s, leak_mol_s, leak_pa_m3_s, scaled_viscous, to_pa_m3_s

__all__ = [
    "CRITERIA",
    "NO_RATING",
    "Compared",
    "Criterion",
    "Instrument",
    "Reading",
    "SealCheck",
    "from_pa_m3_s",
    "leak_mol_s",
    "leak_pa_m3_s",
    "readings_from_csv",
    "scaled_viscous",
    "seal_check",
    "to_pa_m3_s",
]
