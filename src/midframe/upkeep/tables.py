"""The open tables behind this package, read when asked for; each folder keeps its own licence and credit."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable
from importlib.resources import files
from typing import Any, TypeVar

import msgspec

from midframe.faults import BadSetting

KINDS = ("phone", "tablet")
"""Kinds of device the open tables know."""

EVENT_REPAIRS = (
    "These records are repairs tried by volunteers at community events, mostly in one evening and usually "
    "without a stock of parts. They are not a repair shop's jobs: the success shares are low ends, and the "
    "mix leans to what people bring along."
)
"""What the open records are; shown wherever a figure from them is shown [open-repair-data, README]."""


class PriorRow(msgspec.Struct, frozen=True):
    """One fault of the start belief, with the range over places [open-repair-data, phone_shop_prior.csv]."""

    device: str
    part: str
    level: str
    n_countries: int
    pseudo_count: float
    pseudo_total_of_level: float
    mean_share: float
    shop_p05: float
    shop_p95: float


class OutcomeRow(msgspec.Struct, frozen=True):
    """Records of one fault with one outcome, raw and pooled [open-repair-data, phone_outcome_pooled.csv]."""

    device: str
    outcome: str
    part: str
    count: int
    n: int
    raw_share: float
    pooled_mean: float
    pooled_lo: float
    pooled_hi: float
    prior_a: float
    prior_b: float


class BarrierRow(msgspec.Struct, frozen=True):
    """How often a device was given up for one reason [open-repair-data, phone_barriers_end_of_life.csv]."""

    device: str
    barrier: str
    count: int
    n_barrier_given: int
    n_end_of_life: int
    n_blank: int
    share_of_given: float
    lo: float
    hi: float


class NextStepRow(msgspec.Struct, frozen=True):
    """What battery cases needed next [open-repair-data, phone_battery_next_step.csv]."""

    device: str
    status: str
    next_step_or_barrier: str
    count: int
    n_without_poor_data: int
    share: float | None = None
    lo: float | None = None
    hi: float | None = None


class SpreadRow(msgspec.Struct, frozen=True):
    """Spread of the logged times of one step of a toy car, in one mode [step-times-lf, sheet disassembly]."""

    step: str
    mode: str
    n: int
    median_s: float
    mean_s: float
    cv: float
    sigma_of_ln: float
    p90_over_p50: float
    p95_over_p50: float


Row = TypeVar("Row", PriorRow, OutcomeRow, BarrierRow, NextStepRow, SpreadRow)


def shop_prior(kind: str) -> tuple[PriorRow, ...]:
    """Start belief for one shop, for `kind` "phone" or "tablet".

    >>> sum(row.n_countries for row in shop_prior("phone")[:1])
    13
    """
    return _of_kind(_table("open_repair", "phone_shop_prior.csv", PriorRow), kind)


def outcomes(kind: str) -> tuple[OutcomeRow, ...]:
    """Outcomes by fault, fixed the same day and given up, for `kind` "phone" or "tablet"."""
    return _of_kind(_table("open_repair", "phone_outcome_pooled.csv", OutcomeRow), kind)


def barrier_rows(kind: str) -> tuple[BarrierRow, ...]:
    """Reasons given for giving a device up, for `kind` "phone" or "tablet"."""
    return _of_kind(_table("open_repair", "phone_barriers_end_of_life.csv", BarrierRow), kind)


def battery_next_steps(kind: str) -> tuple[NextStepRow, ...]:
    """What battery cases needed next, for `kind` "phone" or "tablet"."""
    return _of_kind(_table("open_repair", "phone_battery_next_step.csv", NextStepRow), kind)


def step_spread() -> tuple[SpreadRow, ...]:
    """Spread of logged step times, one row per step and mode."""
    return _table("step_times", "disassembly_step_time_spread.csv", SpreadRow)


def pooled_sigma(rows: Iterable[SpreadRow]) -> float:
    """Standard deviation of ln(time) pooled over groups: sqrt(Σ (n − 1) s² / Σ (n − 1)).

    Parameters
    ----------
    rows
        Rows of `step_spread`.

    Returns
    -------
    float
        Sigma of ln(time), without unit.

    Examples
    --------
    >>> round(pooled_sigma(step_spread()), 2)
    0.58

    References
    ----------
    [step-times-lf, README]; the pooled variance is textbook statistics.
    """
    held = tuple(rows)
    return math.sqrt(sum((r.n - 1) * r.sigma_of_ln**2 for r in held) / sum(r.n - 1 for r in held))


def check_kind(kind: str) -> None:
    """Refuse a kind of device that the open tables do not know."""
    if kind not in KINDS:
        raise BadSetting(f"kind: found {kind!r}; the failure mix is known for {' or '.join(KINDS)}")


def _table(folder: str, name: str, row: type[Row]) -> tuple[Row, ...]:
    text = (files("midframe.upkeep") / "data" / folder / name).read_text(encoding="utf-8")
    return tuple(
        msgspec.convert(_filled(line), row, strict=False) for line in csv.DictReader(text.splitlines())
    )


def _filled(line: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in line.items() if value != ""}


Kept = TypeVar("Kept", PriorRow, OutcomeRow, BarrierRow, NextStepRow)


def _of_kind(rows: tuple[Kept, ...], kind: str) -> tuple[Kept, ...]:
    check_kind(kind)
    return tuple(row for row in rows if row.device == kind)
