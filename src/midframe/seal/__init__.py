"""Seal checks: leak rates of pressure and vacuum decay tests, their uncertainty and published criteria."""

from midframe.seal.check import (
    CRITERIA,
    NO_RATING,
    Compared,
    Criterion,
    Instrument,
    Reading,
    SealCheck,
    compensated,
    seal_check,
)
from midframe.seal.gas import FROM_HELIUM, molecular_factor, scaled_molecular, viscous_factor
from midframe.seal.kept import Setup, kept_in, kept_test, readings_kept, result_of, tested
from midframe.seal.leak import (
    PRESSURE_UNITS,
    RATE_UNITS,
    from_pa_m3_s,
    leak_mol_s,
    leak_pa_m3_s,
    scaled_viscous,
    to_pa_m3_s,
)
from midframe.seal.readings import (
    TEMPERATURE_UNITS,
    TIME_UNITS,
    Row,
    Units,
    Wrong,
    readings_from_csv,
    readings_of,
)
from midframe.seal.water import meniscus_pa, water_ml

__all__ = [
    "CRITERIA",
    "FROM_HELIUM",
    "NO_RATING",
    "PRESSURE_UNITS",
    "RATE_UNITS",
    "TEMPERATURE_UNITS",
    "TIME_UNITS",
    "Compared",
    "Criterion",
    "Instrument",
    "Reading",
    "Row",
    "SealCheck",
    "Setup",
    "Units",
    "Wrong",
    "compensated",
    "from_pa_m3_s",
    "kept_in",
    "kept_test",
    "leak_mol_s",
    "leak_pa_m3_s",
    "meniscus_pa",
    "molecular_factor",
    "readings_from_csv",
    "readings_kept",
    "readings_of",
    "result_of",
    "scaled_molecular",
    "scaled_viscous",
    "seal_check",
    "tested",
    "to_pa_m3_s",
    "viscous_factor",
    "water_ml",
]
