"""Chance that a repair succeeds or is given up, by part, and why devices were given up."""

from __future__ import annotations

import math
from statistics import NormalDist

import msgspec

from midframe.faults import BadSetting
from midframe.upkeep.faults_and_roles import FAULT_OF_ROLE
from midframe.upkeep.tables import (
    EVENT_REPAIRS,
    OutcomeRow,
    barrier_rows,
    battery_next_steps,
    outcomes,
)

THIN_DATA = 10
"""Below this number of records a share is marked as thin data [open-repair-data, own convention]."""

FIXED = "fixed the same day"
GIVEN_UP = "given up as end of life"


class Share(msgspec.Struct, frozen=True):
    """A share with its limits: `count` of `n` records; `mean` is pooled over parts where said so.

    `low` and `high` are 95 % limits.
    """

    count: int
    n: int
    mean: float
    low: float
    high: float


class Chance(msgspec.Struct, frozen=True):
    """What became of the records of one fault; shares pooled over parts, 95 % limits.

    `thin_data` is true where fewer than ten records stand behind them.
    """

    fault: str
    fixed: Share
    given_up: Share
    thin_data: bool
    note: str = EVENT_REPAIRS
    sources: tuple[str, ...] = ("open-repair-data",)


class Reason(msgspec.Struct, frozen=True):
    """How often one reason or next step was given: share of the records that gave one, Wilson 95 % limits."""

    text: str
    share: Share


def wilson(count: int, n: int, confidence: float = 0.95) -> tuple[float, float]:
    """Wilson score interval of a share.

    (p + z²/2n ± z sqrt(p(1 − p)/n + z²/4n²)) / (1 + z²/n), with p = count/n.

    Parameters
    ----------
    count, n
        `count` of `n` records; n above zero.
    confidence
        Share of such intervals that hold the true share, between 0 and 1.

    Returns
    -------
    tuple[float, float]
        Lower and upper limit, shares from 0 to 1.

    Examples
    --------
    >>> low, high = wilson(27, 112)
    >>> round(low, 4), round(high, 4)
    (0.1713, 0.328)

    References
    ----------
    [wilson-1927, p. 209-212]; the worked limits [open-repair-data, phone_barriers_end_of_life.csv].
    """
    if n < 1 or not 0 <= count <= n:
        raise BadSetting(
            f"count, n: found {count!r} of {n!r}; n of at least 1 and a count from 0 to n are needed"
        )
    if not 0.0 < confidence < 1.0:
        raise BadSetting(
            f"confidence: found {confidence!r}; a share between 0 and 1, such as 0.95, is needed"
        )
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    p = count / n
    middle = p + z * z / (2 * n)
    half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n))
    below = 1 + z * z / n
    return (
        0.0 if count == 0 else (middle - half) / below,
        1.0 if count == n else (middle + half) / below,
    )


def chances(kind: str) -> tuple[Chance, ...]:
    """Chances of every fault in the open data, most records first, for `kind` "phone" or "tablet".

    Examples
    --------
    >>> chances("phone")[0].fault, chances("phone")[0].fixed.n
    ('display', 624)

    References
    ----------
    [open-repair-data, phone_outcome_pooled.csv].
    """
    rows = outcomes(kind)
    given_up = {row.part: row for row in rows if row.outcome == GIVEN_UP}
    fixed = sorted((row for row in rows if row.outcome == FIXED), key=lambda row: -row.n)
    return tuple(
        Chance(
            fault=row.part,
            fixed=_pooled(row),
            given_up=_pooled(given_up[row.part]),
            thin_data=row.n < THIN_DATA,
        )
        for row in fixed
    )


def chance_of_role(kind: str, role: str) -> Chance | None:
    """Chances for a part with this role of the record; `None` where the open data has no such records.

    Examples
    --------
    >>> chance_of_role("phone", "hinge") is None
    True
    >>> chance_of_role("phone", "front_camera").fault
    'camera'

    References
    ----------
    [open-repair-data, phone_outcome_pooled.csv].
    """
    fault = FAULT_OF_ROLE.get(role)
    if fault is None:
        raise BadSetting(f"role: found {role!r}; roles known are {', '.join(FAULT_OF_ROLE)}")
    return next((chance for chance in chances(kind) if chance.fault == fault), None)


def barriers(kind: str) -> tuple[Reason, ...]:
    """Reasons given when a device was given up, most frequent first.

    Most records give none (phones: 338 of 450): the shares are of those that do.

    Examples
    --------
    >>> barriers("phone")[-1].text, round(barriers("phone")[-1].share.mean, 3)
    ('No way to open product', 0.062)

    References
    ----------
    [open-repair-data, phone_barriers_end_of_life.csv].
    """
    return tuple(
        Reason(row.barrier, Share(row.count, row.n_barrier_given, row.share_of_given, row.lo, row.hi))
        for row in barrier_rows(kind)
    )


def battery_needs(kind: str) -> tuple[Reason, ...]:
    """What battery cases left repairable needed next, most frequent first; poor records left out.

    Examples
    --------
    >>> battery_needs("phone")[0].text, round(battery_needs("phone")[0].share.mean, 2)
    ('Replace with new battery', 0.72)

    References
    ----------
    [open-repair-data, phone_battery_next_step.csv].
    """
    return tuple(
        Reason(row.next_step_or_barrier, Share(row.count, row.n_without_poor_data, row.share, row.lo, row.hi))
        for row in battery_next_steps(kind)
        if row.status == "Repairable" and row.share is not None and row.lo is not None and row.hi is not None
    )


def _pooled(row: OutcomeRow) -> Share:
    return Share(count=row.count, n=row.n, mean=row.pooled_mean, low=row.pooled_lo, high=row.pooled_hi)
