"""A seal check: readings of a pressure or vacuum decay test, the leak rate with its uncertainty, criteria."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec

from midframe.faults import BadSetting
from midframe.seal.gas import LAMINAR_FROM_PA_M3_S, molecular_factor, viscous_factor
from midframe.seal.leak import ATMOSPHERE_PA, hole_um, scaled_viscous
from midframe.seal.water import meniscus_pa, water_ml

NO_RATING = (
    "The test indicates how tight the device is at this pressure. It restores no rating: a rating "
    "belongs to the device as it was made and tested."
)
"""Stands under every result."""

COVERAGE = 2.0
"""Factor from a standard uncertainty to about 95 % [jcgm-100, 6.2.1]."""


LEAST_SECONDS = 0.01
"""A test that is shorter says nothing: house choice."""


class Reading(msgspec.Struct, frozen=True):
    """One reading: seconds, absolute pressure in pascals, temperature in kelvin (None: not measured)."""

    seconds: float
    pressure_pa: float
    kelvin: float | None = None


class Instrument(msgspec.Struct, frozen=True):
    """Standard uncertainties: of the volume (share), of a pressure (Pa), of a temperature change (K)."""

    volume_share: float = 0.05
    pressure_pa: float = 5.0
    kelvin: float = 0.05


class Criterion(msgspec.Struct, frozen=True):
    """A limit to compare with: its rate in Pa·m³/s, at which overpressure, and where it is from."""

    name: str
    limit_pa_m3_s: float
    at_over_pa: float | None
    source: str
    note: str


CRITERIA = (
    Criterion(
        "phone on the bench, 10 kPa",
        2e-4,
        10_000.0,
        "",
        "Own construction: about a hole of 20 µm, where drops begin [leak-capillary-2020, table].",
    ),
    Criterion(
        "water-resistant watch",
        7.0e-5,
        None,
        "iso-2281",
        "50 µg of air a minute [iso-2281, 4.1] at its own test pressure, 2 bar over the ambient one (from "
        "memory), which no bench test reaches; compared unscaled, an order of magnitude only.",
    ),
    Criterion(
        "watertight, as the word is used",
        1e-3,
        None,
        "watertight-colloquial",
        "1e-2 mbar·L/s of air [watertight-colloquial, question]; no test pressure is told with it; "
        "compared unscaled.",
    ),
)
"""Limits that a result is compared with."""


class Compared(msgspec.Struct, frozen=True):
    """A result beside a criterion: `rate_pa_m3_s` as compared, "below", "above" or "not decided"."""

    criterion: Criterion
    rate_pa_m3_s: float
    uncertainty_pa_m3_s: float
    verdict: str


class SealCheck(msgspec.Struct, frozen=True, kw_only=True):
    """What a test says. `rate_pa_m3_s` is positive where the seal leaks, whichever way the pressure goes.

    The rate is that of the gas of the test; hole, water and criteria are told for air.
    `uncertainty_pa_m3_s` is expanded (about 95 %). `apparent_pa_m3_s` is the part of the reading that the
    change of temperature alone made; None where it was not measured, and then the result is in doubt.
    `hole_um` is the one round hole of 1 mm length that would leak so; through it `water_ml` would run in
    30 minutes at 1 m of water if it were wetted, and up to `meniscus_pa` none where it is not.
    """

    rate_pa_m3_s: float
    uncertainty_pa_m3_s: float
    apparent_pa_m3_s: float | None
    over_pa: float
    seconds: float
    hole_um: float
    water_ml: float
    meniscus_pa: float | None
    compared: tuple[Compared, ...]
    doubts: tuple[str, ...]
    statement: str = NO_RATING


def seal_check(
    readings: Sequence[Reading],
    volume_m3: float,
    *,
    ambient_pa: float = ATMOSPHERE_PA,
    instrument: Instrument | None = None,
    gas: str = "air",
) -> SealCheck:
    """The leak rate of a decay test, compensated for temperature, beside the criteria.

    Parameters
    ----------
    readings
        Two or more, in order of time, absolute pressures above (pressure test) or below (vacuum test)
        the ambient one.
    volume_m3
        Free volume that holds the test pressure, cubic metres.
    ambient_pa
        Absolute pressure outside.
    gas
        What the test was made with; hole and criteria are told for air, converted for laminar flow.

    Raises
    ------
    BadSetting
        For fewer than two readings, times that do not rise, figures that cannot be.

    References
    ----------
    Slope of p·T1/T over time by least squares times the volume; for two readings it is
    [cfr-40-1065-644, equation 1]. Uncertainties add as variances [jcgm-100, 5.1.2].

    >>> found = seal_check([Reading(0, 111_325, 293.15), Reading(60, 111_275, 293.15)], 1e-5)
    >>> round(found.rate_pa_m3_s * 1e6, 2), found.compared[0].verdict
    (8.33, 'below')
    """
    checked(readings, volume_m3, ambient_pa)
    tool = instrument or Instrument()
    timed = all(reading.kelvin is not None for reading in readings)
    first = readings[0].kelvin or 293.15
    times = [reading.seconds for reading in readings]
    plain = [reading.pressure_pa for reading in readings]
    level = compensated(readings)
    over = sum(plain) / len(plain) - ambient_pa
    sign = -1.0 if over >= 0 else 1.0
    rate = sign * volume_m3 * slope(times, level) + 0.0  # no minus before a zero
    apparent = sign * volume_m3 * (slope(times, plain) - slope(times, level)) if timed else None
    standard = uncertainty(rate, times, plain, volume_m3, tool, first)
    expanded = COVERAGE * standard
    as_air = viscous_factor(gas)
    hole = hole_um(rate * as_air, max(ambient_pa, ambient_pa + over), min(ambient_pa, ambient_pa + over))
    return SealCheck(
        rate_pa_m3_s=rate,
        uncertainty_pa_m3_s=expanded,
        apparent_pa_m3_s=apparent,
        over_pa=over,
        seconds=times[-1] - times[0],
        hole_um=hole,
        water_ml=water_ml(hole),
        meniscus_pa=meniscus_pa(hole) if hole else None,
        compared=tuple(compare(one, rate * as_air, expanded * as_air, over, ambient_pa) for one in CRITERIA),
        doubts=tuple(doubts(rate, expanded, timed=timed, gas=gas)),
    )


def compensated(readings: Sequence[Reading]) -> list[float]:
    """Pressures in Pa as they would be at the temperature of the first reading; as read where one lacks it.

    >>> compensated([Reading(0, 100_000, 293.15), Reading(60, 100_341, 294.15)])[1] < 100_001
    True
    """
    first = readings[0].kelvin
    if first is None or any(one.kelvin is None for one in readings):
        return [one.pressure_pa for one in readings]
    return [one.pressure_pa * first / (one.kelvin or first) for one in readings]


def slope(times: Sequence[float], values: Sequence[float]) -> float:
    """Change a second by least squares.

    >>> slope([0, 1, 2], [5, 7, 9])
    2.0
    """
    middle, mean = sum(times) / len(times), sum(values) / len(values)
    spread = sum((t - middle) ** 2 for t in times)
    return sum((t - middle) * (v - mean) for t, v in zip(times, values, strict=True)) / spread


def uncertainty(
    rate: float,
    times: Sequence[float],
    pressures: Sequence[float],
    volume_m3: float,
    tool: Instrument,
    kelvin: float,
) -> float:
    """Standard uncertainty of the rate: volume, pressure readings, drift of temperature."""
    middle = sum(times) / len(times)
    spread = math.sqrt(sum((t - middle) ** 2 for t in times))
    drift = sum(pressures) / len(pressures) / kelvin * tool.kelvin / (times[-1] - times[0])
    parts = (rate * tool.volume_share, volume_m3 * tool.pressure_pa / spread, volume_m3 * drift)
    return math.sqrt(sum(part**2 for part in parts))


def compare(criterion: Criterion, rate: float, expanded: float, over: float, ambient_pa: float) -> Compared:
    """The rate beside a limit, scaled to the limit's own pressure where it names one."""
    factor = 1.0
    if criterion.at_over_pa is not None:
        measured = (ambient_pa + over, ambient_pa) if over > 0 else (ambient_pa, ambient_pa + over)
        factor = scaled_viscous(1.0, measured, (ambient_pa + criterion.at_over_pa, ambient_pa))
    told, around = rate * factor, expanded * factor
    verdict = "not decided"
    if told + around <= criterion.limit_pa_m3_s:
        verdict = "below"
    elif told - around > criterion.limit_pa_m3_s:
        verdict = "above"
    return Compared(criterion, told, around, verdict)


def doubts(rate: float, expanded: float, *, timed: bool, gas: str) -> list[str]:
    """What is uncertain about a result, in words."""
    told = []
    if not timed:
        told.append(
            "Temperature was not measured: 1 K makes 346 Pa at one atmosphere, which looks like a leak."
        )
    if abs(rate) <= expanded:
        told.append("The rate does not differ from nothing within its uncertainty.")
    if gas != "air":
        told.append(f"Told for air by the viscosity of {gas}: right only while the flow is laminar.")
        if 0 < rate < LAMINAR_FROM_PA_M3_S:
            other = molecular_factor(gas) / viscous_factor(gas)
            told.append(f"So small a leak may not be laminar; molecular, it would be {other:.2g} times that.")
    if rate < -expanded:
        told.append("Pressure moves away from the ambient one: wait until temperatures are equal, try again.")
    return told


def checked(readings: Sequence[Reading], volume_m3: float, ambient_pa: float) -> None:
    """Raise `BadSetting` for what cannot be."""
    if len(readings) < 2:
        raise BadSetting(f"readings: found {len(readings)}; right: two or more")
    if not (math.isfinite(volume_m3) and 0 < volume_m3 <= 0.1):
        right = "the free volume that holds the pressure, above 0 and at most 100000 mL"
        raise BadSetting(f"volume: found {volume_m3 * 1e6:g} mL; right: {right}")
    if not 30_000 <= ambient_pa <= 120_000:
        raise BadSetting(f"ambient: found {ambient_pa:g} Pa; right: absolute pressure, some 101 000 Pa")
    for number, reading in enumerate(readings, start=1):
        if not (math.isfinite(reading.pressure_pa) and 0 < reading.pressure_pa < 1e6):
            raise BadSetting(
                f"reading {number}: found {reading.pressure_pa:g} Pa; right: an absolute pressure in Pa"
            )
        if reading.kelvin is not None and not 250 <= reading.kelvin <= 350:
            raise BadSetting(
                f"reading {number}: found {reading.kelvin:g} K; right: kelvin, 20 °C is 293.15 K"
            )
        if number > 1 and reading.seconds <= readings[number - 2].seconds:
            raise BadSetting(
                f"reading {number}: found {reading.seconds:g} s; right: later than the one before"
            )
    if (whole := readings[-1].seconds - readings[0].seconds) < LEAST_SECONDS:
        raise BadSetting(f"readings: found {whole:g} s in all; right: seconds to minutes")
    if all(reading.pressure_pa == ambient_pa for reading in readings):
        raise BadSetting("readings: found no difference to the ambient pressure; right: absolute pressures")
