"""Seal tests as a record keeps them: readings and how sure they are; the result is computed anew."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec

from midframe.record.draft import unused
from midframe.record.model import Record, SealTest
from midframe.seal.check import Instrument, Reading, SealCheck, seal_check
from midframe.seal.gas import Gas
from midframe.seal.leak import ATMOSPHERE_PA
from midframe.seal.readings import Units


class Setup(msgspec.Struct, frozen=True, kw_only=True):
    """What a test was made with: free volume in mL, gas, ambient pressure in Pa, the gauges, the units."""

    volume_ml: float
    gas: Gas = "air"
    ambient_pa: float = ATMOSPHERE_PA
    instrument: Instrument = Instrument()
    units: Units = Units()


def kept_test(
    readings: Sequence[Reading],
    setup: Setup,
    *,
    id: str,  # noqa: A002 (the record's own key)
    at: str = "",
    note: str = "",
) -> SealTest:
    """A seal test for the record.

    >>> readings = [Reading(0, 111_325, 293.15), Reading(60, 111_275, 293.15)]
    >>> test = kept_test(readings, Setup(volume_ml=10), id="seal-1")
    >>> test.celsius, round(result_of(test).rate_pa_m3_s * 1e6, 2)
    ((20.0, 20.0), 8.33)
    """
    tool, shown = setup.instrument, setup.units
    kelvin = [one.kelvin for one in readings if one.kelvin is not None]
    return SealTest(
        id=id,
        at=at,
        gas=setup.gas,
        volume_ml=setup.volume_ml,
        ambient_pa=setup.ambient_pa,
        seconds=tuple(one.seconds for one in readings),
        pressure_pa=tuple(one.pressure_pa for one in readings),
        celsius=tuple(round(one - 273.15, 4) for one in kelvin) if len(kelvin) == len(readings) else (),
        unit=shown.pressure,
        gauge=shown.gauge_at_pa is not None,
        volume_uncertainty_percent=round(100 * tool.volume_share, 6),
        pressure_uncertainty_pa=tool.pressure_pa,
        temperature_uncertainty_k=tool.kelvin,
        note=note,
    )


def tested(readings: Sequence[Reading], setup: Setup) -> SealCheck:
    """What readings say under a setup; raises `BadSetting` where the figures cannot be."""
    return seal_check(
        readings,
        setup.volume_ml * 1e-6,
        ambient_pa=setup.ambient_pa,
        instrument=setup.instrument,
        gas=setup.gas,
    )


def kept_in(
    record: Record, readings: Sequence[Reading], setup: Setup, *, at: str = "", note: str = ""
) -> Record:
    """The record with one more seal test, under an id of its own."""
    test = kept_test(readings, setup, id=id_of(record, at), at=at, note=note)
    return msgspec.structs.replace(record, seal_tests=(*record.seal_tests, test))


def id_of(record: Record, at: str) -> str:
    """An id for a test of this moment that is not taken; tests kept on two screens at once differ in it.

    >>> from midframe import demo
    >>> id_of(demo.load("tern-3"), "2026-11-25T10:00:00.125+00:00"), id_of(demo.load("tern-3"), "")
    ('seal-20261125100000125', 'seal')
    """
    stamp = re.sub(r"\D", "", at)[:17]
    return unused(f"seal-{stamp}" if stamp else "seal", {one.id for one in record.seal_tests})


def readings_kept(test: SealTest) -> tuple[Reading, ...]:
    """The readings of a kept test."""
    kelvin: list[float | None] = [round(one + 273.15, 4) for one in test.celsius]
    kelvin = kelvin or [None] * len(test.seconds)
    return tuple(
        Reading(seconds, pressure, at)
        for seconds, pressure, at in zip(test.seconds, test.pressure_pa, kelvin, strict=True)
    )


def result_of(test: SealTest) -> SealCheck:
    """What a kept test says; raises `BadSetting` where its figures cannot be."""
    tool = Instrument(
        test.volume_uncertainty_percent / 100, test.pressure_uncertainty_pa, test.temperature_uncertainty_k
    )
    setup = Setup(volume_ml=test.volume_ml, gas=test.gas, ambient_pa=test.ambient_pa, instrument=tool)
    return tested(readings_kept(test), setup)
