"""The failure mix: which faults come to the bench, how often, and how well that is known.

Two levels, as fitted between places: the display against all else (beta), and all else among
itself (Dirichlet). A shop's own jobs are added to the pseudo-counts of both. Shares and credible
intervals come from draws of that belief; the seed is part of every result.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import msgspec

from midframe.faults import BadSetting
from midframe.upkeep.faults_and_roles import NO_PART, FaultCount, fault_counts
from midframe.upkeep.tables import EVENT_REPAIRS, shop_prior

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Draws = NDArray[np.float64]

ONE_JOB_EACH = 1.0
"""Pseudo-count of each role where the data does not tell them apart: a flat belief, own convention."""


class MixRow(msgspec.Struct, frozen=True):
    """One fault of the mix: mean share with credible interval, and what it rests on (jobs).

    `left_out` says why no part of a device answers it; empty: a part does.
    """

    fault: str
    roles: tuple[str, ...]
    share: float
    low: float
    high: float
    prior_jobs: float
    own_jobs: int
    left_out: str = ""


class FailureMix(msgspec.Struct, frozen=True):
    """The mix of all faults of one kind of device, most frequent first.

    `prior_jobs_display` and `prior_jobs_rest` say what the start belief is worth, in jobs, at its
    two levels; `left_out_share` is the mean share of faults that no part exchange answers.
    """

    kind: str
    rows: tuple[MixRow, ...]
    left_out_share: float
    left_out_low: float
    left_out_high: float
    own_jobs: int
    prior_jobs_display: float
    prior_jobs_rest: float
    places: int
    credible_level: float
    draws: int
    seed: int
    note: str = EVENT_REPAIRS
    sources: tuple[str, ...] = ("open-repair-data",)


def failure_mix(
    kind: str,
    own_counts: Mapping[str, int] | None = None,
    *,
    credible_level: float = 0.90,
    draws: int = 20_000,
    seed: int = 1,
) -> FailureMix:
    """Posterior mean share and credible interval of every fault.

    Display: Beta(a + n_d, b + n_r); any other fault: (1 − display) · Dirichlet(α + n), where a, b, α
    are pseudo-counts of the start belief and n the shop's own jobs.

    Parameters
    ----------
    kind
        "phone" or "tablet".
    own_counts
        The shop's own jobs by role or fault.
    credible_level
        Share of the belief inside the interval.
    draws, seed
        Size and seed of the simulation.

    Returns
    -------
    FailureMix
        Shares are of all faults, software included, and add up to 1.

    Raises
    ------
    BadSetting
        For bad counts or settings.

    Examples
    --------
    >>> start = failure_mix("phone")
    >>> start.rows[0].fault, 0.45 < start.rows[0].share < 0.48
    ('display', True)
    >>> 0.20 < start.left_out_share < 0.35
    True

    References
    ----------
    [open-repair-data, phone_shop_prior.csv]; Dirichlet and beta are textbook statistics.
    """
    check_draws(credible_level, draws, seed)
    counts = fault_counts(kind, own_counts)
    shares = draw_fault_shares(counts, draws, generator(seed, "mix"))
    prior = shop_prior(kind)
    rows = tuple(_row(count, shares[:, column], credible_level) for column, count in enumerate(counts))
    left = shares[:, [column for column, count in enumerate(counts) if not count.roles]].sum(axis=1)
    low, high = interval(left, credible_level)
    return FailureMix(
        kind=kind,
        rows=tuple(sorted(rows, key=lambda row: -row.share)),
        left_out_share=float(left.mean()),
        left_out_low=low,
        left_out_high=high,
        own_jobs=sum(count.own for count in counts),
        prior_jobs_display=prior[0].pseudo_total_of_level,
        prior_jobs_rest=prior[-1].pseudo_total_of_level,
        places=prior[0].n_countries,
        credible_level=credible_level,
        draws=draws,
        seed=seed,
    )


def draw_fault_shares(counts: Sequence[FaultCount], draws: int, rng: np.random.Generator) -> Draws:
    """Draws of the share of every fault: array of shape (draws, faults), rows add up to 1.

    The weight of "all else" against the display is `prior_against` of the display, not the sum of the
    pseudo-counts below it: the two levels were fitted apart.
    """
    import numpy as np

    display = [column for column, count in enumerate(counts) if count.level == "display"]
    rest = [column for column, count in enumerate(counts) if count.level == "rest"]
    own_rest = sum(counts[column].own for column in rest)
    here = counts[display[0]]
    shares = np.empty((draws, len(counts)))
    shares[:, display[0]] = rng.beta(here.total, here.prior_against + own_rest, size=draws)
    split = rng.dirichlet([counts[column].total for column in rest], size=draws)
    shares[:, rest] = (1.0 - shares[:, display]) * split
    return shares


def draw_role_split(count: FaultCount, present: Sequence[str], draws: int, rng: np.random.Generator) -> Draws:
    """Draws of how a fault falls on those of its roles that the device has: shape (draws, len(present)).

    Dirichlet with one pseudo-job for each role plus the own jobs that named it; a single role takes all.
    """
    import numpy as np

    if len(present) == 1:
        return np.ones((draws, 1))
    own = dict(zip(count.roles, count.own_of_role, strict=True))
    return rng.dirichlet([ONE_JOB_EACH + own[role] for role in present], size=draws)


def interval(values: Draws, level: float) -> tuple[float, float]:
    """Equal-tailed interval that holds the share `level` of the drawn values."""
    import numpy as np

    low, high = np.quantile(values, [(1 - level) / 2, (1 + level) / 2])
    return float(low), float(high)


def generator(seed: int, purpose: str) -> np.random.Generator:
    """Random generator of its own for each purpose, so that one part more leaves the others' draws alone."""
    import numpy as np

    return np.random.default_rng([seed, zlib.crc32(purpose.encode())])


def check_draws(credible_level: object, draws: object, seed: object) -> None:
    """Refuse settings of a simulation that cannot be run."""
    wrong = []
    if not isinstance(credible_level, float) or not 0.0 < credible_level < 1.0:
        wrong.append(
            f"credible_level: found {credible_level!r}; a share between 0 and 1, such as 0.90, is needed"
        )
    if not isinstance(draws, int) or not 1_000 <= draws <= 1_000_000:
        wrong.append(f"draws: found {draws!r}; a whole number from 1000 to 1000000 is needed")
    if not isinstance(seed, int) or seed < 0:
        wrong.append(f"seed: found {seed!r}; a whole number, zero or more, is needed")
    if wrong:
        raise BadSetting("\n".join(wrong))


def _row(count: FaultCount, drawn: Draws, level: float) -> MixRow:
    low, high = interval(drawn, level)
    return MixRow(
        fault=count.fault,
        roles=count.roles,
        share=float(drawn.mean()),
        low=low,
        high=high,
        prior_jobs=count.prior,
        own_jobs=count.own,
        left_out=NO_PART.get(count.fault, ""),
    )
