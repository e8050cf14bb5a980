"""Maintainability of one device: its parts' repair times over a failure mix."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING

import msgspec

from midframe.faults import BadSetting
from midframe.upkeep.chances import chance_of_role
from midframe.upkeep.faults_and_roles import FAULT_OF_ROLE, NO_PART, NOT_IN_DEVICE, FaultCount, fault_counts
from midframe.upkeep.lognormal import SIGMA_OF_LN, sum_moments
from midframe.upkeep.mix import (
    FailureMix,
    check_draws,
    draw_fault_shares,
    draw_role_split,
    failure_mix,
    generator,
    interval,
)
from midframe.upkeep.repair_time import (
    OtherTasks,
    check_medians,
    draw_repair_seconds,
    mean_time_to_repair,
    mixture_percentiles,
    repair_time,
)
from midframe.upkeep.result import LeftOut, PartRow, PartTimes, Upkeep, UpkeepSettings
from midframe.upkeep.tables import EVENT_REPAIRS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Draws = NDArray[np.float64]

POINTS = (0.05, 0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 0.95, 0.99)
"""Shares of repairs at which the maintainability function is given."""

SOURCES = ("open-repair-data", "mil-hdbk-472", "mil-hdbk-338b", "step-times-lf", "fenton-1960")
"""Source keys behind every estimate."""


class _Drawn(msgspec.Struct, frozen=True):
    """Draws of the belief: share of each part among the answered faults, of each fault among all."""

    counts: tuple[FaultCount, ...]
    faults: Draws
    parts: Draws
    present: frozenset[str]


def upkeep(
    kind: str,
    parts: Mapping[str, PartTimes],
    own_counts: Mapping[str, int] | None = None,
    settings: UpkeepSettings | None = None,
) -> Upkeep:
    """Mean time to repair of a device, its median and 95th percentile, with what they rest on.

    MTTR = Σ(λ_i R_i) / Σ λ_i over the parts given. λ_i is the mean share of the belief about the
    failure mix, renormalised over the faults that a part of this device answers; R_i the mean of
    way in, refit and other tasks. Where several parts share a role, each is as likely to be the one.

    Parameters
    ----------
    kind
        "phone" or "tablet".
    parts
        Times by any id of the caller's (one entry for each role of a part).
    own_counts
        The shop's jobs by role or by fault of the open data.
    settings
        Tasks, spread and simulation; the defaults where absent.

    Returns
    -------
    Upkeep
        All times in seconds.

    Raises
    ------
    BadSetting
        Lists everything wrong with the parts, the counts or the settings.

    Examples
    --------
    >>> parts = {
    ...     "battery": PartTimes(role="battery", name="Battery", way_in_seconds=(30.0,) * 12),
    ...     "display": PartTimes(role="display", name="Display", way_in_seconds=(30.0,) * 20),
    ... }
    >>> result = upkeep("phone", parts)
    >>> [row.name for row in result.parts]
    ['Display', 'Battery']
    >>> result.parts[1].time.mean_seconds < result.mean_seconds < result.parts[0].time.mean_seconds
    True

    References
    ----------
    [mil-hdbk-472, procedure II], [mil-hdbk-338b, 5.6.2.1], [fenton-1960, moment matching],
    [open-repair-data, phone_shop_prior.csv], [step-times-lf, sigma of ln(time)].
    """
    import numpy as np

    chosen = settings or UpkeepSettings()
    _check(parts, chosen)
    drawn = _draw(kind, parts, own_counts, chosen)
    times = {key: _draw_times(key, part, chosen) for key, part in parts.items()}
    rows = tuple(
        _row(kind, key, part, drawn.parts[:, column], times[key], chosen)
        for column, (key, part) in enumerate(parts.items())
    )
    shares = [row.share for row in rows]
    means = [row.time.mean_seconds for row in rows]
    percentiles = mixture_percentiles(shares, list(times.values()), POINTS)
    at = dict(zip(POINTS, percentiles, strict=True))
    mean_low, mean_high = interval(drawn.parts @ np.array(means), chosen.credible_level)
    left_out, left_low, left_high = _left_out(drawn, chosen.credible_level)
    mix = failure_mix(
        kind, own_counts, credible_level=chosen.credible_level, draws=chosen.draws, seed=chosen.seed
    )
    return Upkeep(
        kind=kind,
        mix=mix,
        mix_used=_mix_used(mix),
        parts=tuple(sorted(rows, key=lambda row: -row.share)),
        mean_seconds=mean_time_to_repair(shares, means),
        mean_low_seconds=mean_low,
        mean_high_seconds=mean_high,
        median_seconds=at[0.50],
        p05_seconds=at[0.05],
        p95_seconds=at[0.95],
        maintainability=tuple((seconds, share) for share, seconds in at.items()),
        left_out_share=math.fsum(fault.share for fault in left_out),
        left_out_low=left_low,
        left_out_high=left_high,
        left_out=left_out,
        closed_form_gap=max(_gap(row) for row in rows),
        settings=chosen,
        draws=chosen.draws,
        seed=chosen.seed,
        rests_on_defaults=_defaults(parts, own_counts, chosen),
        note=EVENT_REPAIRS,
        sources=SOURCES,
    )


def draw_mean_seconds(
    kind: str,
    parts: Mapping[str, PartTimes],
    settings: UpkeepSettings | None = None,
    *,
    vary: Collection[str] = ("times", "failure mix"),
    name: str = "",
) -> Draws:
    """Draws of the mean time to repair with every part's repair timed once, seconds, shape (draws,).

    Devices of one kind meet the same drawn mix; their times are drawn apart by `name`. Of "times" and
    "failure mix" what `vary` does not name stands at its mean.

    Examples
    --------
    >>> parts = {"battery": PartTimes(role="battery", name="Battery", way_in_seconds=(30.0,) * 12)}
    >>> drawn = draw_mean_seconds("phone", parts, UpkeepSettings(draws=1000), vary=())
    >>> bool(abs(drawn.mean() - upkeep("phone", parts).mean_seconds) < 1e-6)
    True

    References
    ----------
    [mil-hdbk-472, procedure II], [open-repair-data, phone_shop_prior.csv].
    """
    import numpy as np

    chosen = settings or UpkeepSettings()
    _check(parts, chosen)
    shares = _draw(kind, parts, None, chosen).parts
    if "failure mix" not in vary:
        shares = np.broadcast_to(shares.mean(axis=0), shares.shape)
    drawn = [
        _draw_times(f"{key} of {name}", part, chosen)
        if "times" in vary
        else np.full(chosen.draws, _mean_seconds(part, chosen))
        for key, part in parts.items()
    ]
    return np.asarray((shares * np.column_stack(drawn)).sum(axis=1))


def _mean_seconds(part: PartTimes, settings: UpkeepSettings) -> float:
    mean, _ = sum_moments(medians_of(part, settings), settings.sigma)
    return mean + part.fixed_seconds


def medians_of(part: PartTimes, settings: UpkeepSettings) -> tuple[float, ...]:
    """Median seconds of everything done to exchange one part: way in, refit, other tasks.

    Examples
    --------
    >>> part = PartTimes(role="battery", name="Battery", way_in_seconds=(10.0, 20.0))
    >>> medians_of(part, UpkeepSettings(tasks=OtherTasks(1.0, 2.0, 3.0, 4.0, 5.0)))
    (10.0, 20.0, 10.0, 20.0, 1.0, 2.0, 3.0, 4.0, 5.0)

    References
    ----------
    [mil-hdbk-472, procedure II; names of the tasks from memory].
    """
    refit = part.refit_seconds or part.way_in_seconds
    return (*part.way_in_seconds, *refit, *(part.tasks or settings.tasks).seconds)


def _draw(
    kind: str, parts: Mapping[str, PartTimes], own_counts: Mapping[str, int] | None, settings: UpkeepSettings
) -> _Drawn:
    import numpy as np

    counts = fault_counts(kind, own_counts)
    faults = draw_fault_shares(counts, settings.draws, generator(settings.seed, "mix"))
    keys_of_role: dict[str, list[int]] = {}
    for column, part in enumerate(parts.values()):
        keys_of_role.setdefault(part.role, []).append(column)
    shares = np.zeros((settings.draws, len(parts)))
    present = set()
    for number, count in enumerate(counts):
        here = [role for role in count.roles if role in keys_of_role]
        if not here:
            continue
        present.add(count.fault)
        split = draw_role_split(
            count, here, settings.draws, generator(settings.seed, f"roles of {count.fault}")
        )
        for place, role in enumerate(here):
            columns = keys_of_role[role]
            shares[:, columns] = (faults[:, number] * split[:, place] / len(columns))[:, None]
    if not present:
        answered = [role for count in counts for role in count.roles]
        roles = ", ".join(sorted(keys_of_role))
        raise BadSetting(
            f"parts: found only the roles {roles}; at least one part with a role that the failure mix "
            f"knows is needed ({', '.join(answered)}), or own counts for the roles given"
        )
    return _Drawn(counts, faults, shares / shares.sum(axis=1, keepdims=True), frozenset(present))


def _draw_times(key: str, part: PartTimes, settings: UpkeepSettings) -> Draws:
    return draw_repair_seconds(
        medians_of(part, settings),
        fixed_seconds=part.fixed_seconds,
        sigma=settings.sigma,
        draws=settings.draws,
        seed=settings.seed,
        name=key,
    )


def _row(
    kind: str, key: str, part: PartTimes, shares: Draws, times: Draws, settings: UpkeepSettings
) -> PartRow:
    low, high = interval(shares, settings.credible_level)
    mean = float(shares.mean())
    return PartRow(
        key=key,
        role=part.role,
        name=part.name,
        fault=FAULT_OF_ROLE[part.role],
        fault_known=mean > 0,
        share=mean,
        share_low=low,
        share_high=high,
        time=repair_time(
            medians_of(part, settings), times, fixed_seconds=part.fixed_seconds, sigma=settings.sigma
        ),
        chance=chance_of_role(kind, part.role),
    )


def _left_out(drawn: _Drawn, level: float) -> tuple[tuple[LeftOut, ...], float, float]:
    import numpy as np

    out = [number for number, count in enumerate(drawn.counts) if count.fault not in drawn.present]
    low, high = interval(np.asarray(drawn.faults[:, out].sum(axis=1)), level)
    rows = [
        LeftOut(
            fault=drawn.counts[number].fault,
            share=float(drawn.faults[:, number].mean()),
            reason=NO_PART.get(drawn.counts[number].fault, NOT_IN_DEVICE),
        )
        for number in out
    ]
    return tuple(sorted(rows, key=lambda row: -row.share)), low, high


def _gap(row: PartRow) -> float:
    pairs: Sequence[tuple[float, float]] = (
        (row.time.median_seconds, row.time.closed_form_median_seconds),
        (row.time.p95_seconds, row.time.closed_form_p95_seconds),
    )
    return max(abs(simulated / closed - 1) if closed else 0.0 for simulated, closed in pairs)


def _mix_used(mix: FailureMix) -> str:
    own = f"{mix.own_jobs} own jobs added" if mix.own_jobs else "no own jobs added"
    return (
        f"start belief fitted over {mix.places} countries of open repair records, worth "
        f"{mix.prior_jobs_display:g} jobs for the display share and {mix.prior_jobs_rest:g} for the "
        f"split of the rest; {own}"
    )


def _defaults(
    parts: Mapping[str, PartTimes], own_counts: Mapping[str, int] | None, settings: UpkeepSettings
) -> tuple[str, ...]:
    found = []
    for name, default in zip(OtherTasks.__struct_fields__, OtherTasks().seconds, strict=True):
        used = [key for key, part in parts.items() if getattr(part.tasks or settings.tasks, name) == default]
        if used:
            task = name.removesuffix("_seconds")
            found.append(f"{task}: {default:g} s, common practice, no source ({_which(used, parts)})")
    mirrored = [key for key, part in parts.items() if not part.refit_seconds and part.way_in_seconds]
    if mirrored:
        found.append(
            f"refit: taken as long as the way in, common practice, no source ({_which(mirrored, parts)})"
        )
    if settings.sigma == SIGMA_OF_LN:
        found.append(
            f"spread: sigma of ln(time) {SIGMA_OF_LN:g}, from another product [step-times-lf, README]"
        )
    if not any((own_counts or {}).values()):
        found.append("failure mix: start belief only, no own jobs [open-repair-data, phone_shop_prior.csv]")
    return tuple(found)


def _which(keys: Sequence[str], parts: Mapping[str, PartTimes]) -> str:
    return "all parts" if len(keys) == len(parts) else ", ".join(keys)


def _check(parts: Mapping[str, PartTimes], settings: UpkeepSettings) -> None:
    check_draws(settings.credible_level, settings.draws, settings.seed)
    wrong = []
    if not parts:
        wrong.append("parts: found none; the times of at least one part are needed")
    if not (math.isfinite(settings.sigma) and 0.0 <= settings.sigma <= 3.0):
        wrong.append(f"settings.sigma: found {settings.sigma!r}; a spread of ln(time) from 0 to 3 is needed")
    wrong += _wrong_numbers("settings.tasks", settings.tasks.seconds)
    for key, part in parts.items():
        wrong += _wrong_part(key, part)
    if wrong:
        raise BadSetting("\n".join(wrong))


def _wrong_part(key: str, part: PartTimes) -> list[str]:
    where = f"parts[{key!r}]"
    wrong = []
    if part.role not in FAULT_OF_ROLE:
        wrong.append(f"{where}.role: found {part.role!r}; roles known are {', '.join(FAULT_OF_ROLE)}")
    if not part.way_in_seconds:
        wrong.append(f"{where}.way_in_seconds: found no move; the median seconds of at least one are needed")
    for field in ("way_in_seconds", "refit_seconds"):
        wrong += _wrong_numbers(f"{where}.{field}", getattr(part, field))
    wrong += _wrong_numbers(f"{where}.fixed_seconds", (part.fixed_seconds,))
    if part.tasks is not None:
        wrong += _wrong_numbers(f"{where}.tasks", part.tasks.seconds)
    return wrong


def _wrong_numbers(where: str, values: Sequence[float]) -> list[str]:
    try:
        check_medians(where, values)
    except BadSetting as fault:
        return [str(fault)]
    return []
