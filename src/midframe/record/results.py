"""What was found on the bench and is kept with the record: measurements, function checks, seal tests."""

from __future__ import annotations

from typing import Literal

from midframe.record.values import (
    Celsius,
    Id,
    Measured,
    NotNegative,
    Percent,
    Positive,
    Spec,
    Struct,
    Text,
)


class Measurement(Struct, frozen=True, kw_only=True):
    """What a check on the bench found on a part or joint: a figure with its range, and how it was had.

    `at` is ISO 8601; `file` the SHA-256 of a log. `value` is absent where only the range is worth saying.
    """

    id: Id
    on: Text
    what: Text
    value: Measured | None = None
    low: Measured | None = None
    high: Measured | None = None
    unit: str = ""
    at: str = ""
    method: str = ""
    file: str = ""
    note: str = ""


class Outcome(Struct, frozen=True, kw_only=True):
    """What a function check came to, a note, and figures read beside it."""

    outcome: Literal["works", "worse", "does not work", "not tried"]
    note: str = ""
    figures: tuple[Spec, ...] = ()


class Tried(Struct, frozen=True, kw_only=True):
    """A function check as tried on this device before and after a job.

    `check` is the id of one of `[[checks]]`, or of the list in `midframe.trials`.
    """

    check: Text
    before: Outcome | None = None
    after: Outcome | None = None


class SealTest(Struct, frozen=True, kw_only=True):
    """A pressure or vacuum decay test: readings, absolute pressures, and how sure they are.

    `seconds`, `pressure_pa` and, where it was measured, `celsius` hold one value a reading. `unit` is the
    unit of the gauge, `gauge` that it told pressures relative to `ambient_pa`; both only for showing.
    Uncertainties are standard ones.
    """

    id: Id
    at: str = ""
    gas: Literal["air", "nitrogen", "argon", "helium", "hydrogen"] = "air"
    volume_ml: Positive
    ambient_pa: Positive = 101_325.0
    seconds: tuple[NotNegative, ...]
    pressure_pa: tuple[Positive, ...]
    celsius: tuple[Celsius, ...] = ()
    unit: str = "Pa"
    gauge: bool = False
    volume_uncertainty_percent: Percent = 5.0
    pressure_uncertainty_pa: NotNegative = 5.0
    temperature_uncertainty_k: NotNegative = 0.05
    note: str = ""
