"""Thousands of draws of what is not known: the chance that a plan holds, and which unknown matters most."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

import msgspec
import numpy as np

from midframe.faults import BadSetting
from midframe.heat.attempts import Attempt, Goal
from midframe.heat.heat_sources import Setting
from midframe.heat.limits import Limit, face_region
from midframe.heat.materials import Range
from midframe.heat.model import Figures, Model
from midframe.heat.network import Floats, Integers, radiation_w_m2k
from midframe.heat.reduced import Draws, chunks, reduce, rises

USUAL_DRAWS = 4_000
CHUNK = 500
TRAINING = 16
TIMES = 90
LEVEL = 0.95
"""A plan holds where this share of the draws does (the project's own rule)."""

BINS = 20


class Matter(msgspec.Struct, frozen=True):
    """One unknown and the share of the scatter of the plan's margin that it explains alone."""

    name: str
    share: float


class Spread(msgspec.Struct, frozen=True):
    """A time over the draws: 5, 50 and 95 in 100 are below `low`, `middle`, `high`; absent: never."""

    low: float | None
    middle: float | None
    high: float | None


class Confidence(msgspec.Struct, frozen=True, kw_only=True):
    """How sure a plan is.

    Attributes
    ----------
    chance
        Share of the draws in which the bond is soft and no limit is passed at the plan's stop.
    best_stop_seconds, best_chance
        The stop with the greatest chance.
    holds
        Whether the greatest chance is at least 95 %.
    soft, hot
        When the bond is soft, when the first limit is passed.
    matters
        Unknowns by the share of the scatter that they explain, greatest first.
    largest_difference_k
        Greatest difference found between the fast model and the full one, at checked draws.
    """

    draws: int
    seed: int
    chance: float
    best_stop_seconds: float
    best_chance: float
    holds: bool
    soft: Spread
    hot: Spread
    matters: tuple[Matter, ...]
    largest_difference_k: float


class Unknowns(msgspec.Struct, frozen=True, eq=False):
    """Draws of every unknown by name (n each), in columns."""

    names: tuple[str, ...]
    values: Floats

    def of(self, name: str) -> Floats:
        """The draws of one unknown."""
        return np.asarray(self.values[:, self.names.index(name)])


def triangular(share: Floats, figure: Range) -> Floats:
    """Quantiles of the triangle over a range with its tip at the usual figure.

    >>> triangular(np.array([0.0, 0.5, 1.0]), Range(0.0, 1.0, 2.0)).tolist()
    [0.0, 1.0, 2.0]
    """
    low, tip, high = figure.low, figure.usual, figure.high
    if high <= low:
        return np.full(share.shape, tip)
    turn = (tip - low) / (high - low)
    below = low + np.sqrt(np.maximum(share, 0.0) * (high - low) * (tip - low))
    above = high - np.sqrt(np.maximum(1.0 - share, 0.0) * (high - low) * (high - tip))
    return np.where(share < turn, below, above)


def unknowns(model: Model, setting: Setting, goal: Goal, count: int, seed: int) -> Unknowns:
    """Draw every unknown once in each of `count` equal slices of its range, in random order."""
    found = model.found
    ranges: dict[str, Range] = {
        "softening temperature": shifted(found.bond.soft_c, goal.soft_c),
        "source temperature": setting.air_c,
        "source coefficient": setting.coefficient_w_m2k,
        "room": goal.bench.room_c,
        "still air": goal.bench.still_w_m2k,
        "bench": goal.bench.bench_w_m2k,
        "thickness of the bond": scaled(found.bond.thickness_mm),
    }
    if setting.settling_seconds is not None:
        ranges["cooling of the source"] = setting.settling_seconds
    for region in found.regions:
        ranges[f"{region.key}: conductivity"] = scaled(region.through_w_mk)
        ranges[f"{region.key}: heat capacity"] = scaled(region.capacity_j_m3k)
        if region.plane_w_mk != region.through_w_mk:
            ranges[f"{region.key}: conductivity in plane"] = scaled(region.plane_w_mk)
    generator = np.random.default_rng(seed)
    columns = []
    for figure in ranges.values():
        share = (generator.permutation(count) + generator.random(count)) / count
        columns.append(triangular(share, figure))
    return Unknowns(tuple(ranges), np.array(columns).T)


def scaled(figure: Range) -> Range:
    """A range as a multiple of its usual figure."""
    return figure.times(1.0 / figure.usual) if figure.usual > 0 else Range(1.0, 1.0, 1.0)


def shifted(figure: Range, usual: float) -> Range:
    """A range moved to another usual figure."""
    move = usual - figure.usual
    return Range(figure.low + move, usual, figure.high + move)


def draws_of(model: Model, setting: Setting, drawn: Unknowns, warmth: Sequence[float]) -> Draws:
    """The draws as figures of the network; radiation as a coefficient at `warmth`, K above the room."""
    regions = model.found.regions
    through, plane, heat = (np.empty((len(drawn.values), len(regions))) for _ in range(3))
    for number, region in enumerate(regions):
        k = drawn.of(f"{region.key}: conductivity")
        own = f"{region.key}: conductivity in plane"
        along = drawn.of(own) if own in drawn.names else k
        thick = drawn.of("thickness of the bond") if region.kind == "bond" else 1.0
        through[:, number] = region.through_w_mk.usual * k / thick
        plane[:, number] = region.plane_w_mk.usual * along * thick
        heat[:, number] = region.capacity_j_m3k.usual * drawn.of(f"{region.key}: heat capacity") * thick
    source, room = drawn.of("source coefficient"), drawn.of("room")
    excess = drawn.of("source temperature") - room
    still, bench = drawn.of("still air"), drawn.of("bench")
    emissivity = face_region(model.found, hot=True)[2]
    rays = [radiation_w_m2k(emissivity, 22.0 + rise, 22.0) for rise in warmth]
    none = np.zeros_like(source)
    if setting.kind == "air":
        masked = source + rays[1] if setting.reach == "face" else bench
        coefficient = [source + rays[0], masked, bench, 0.5 * source + rays[3]]
        drive = [
            source * excess,
            source * excess if setting.reach == "face" else none,
            none,
            0.5 * source * excess,
        ]
    else:
        masked = source if setting.reach == "face" else bench
        coefficient = [source, masked, still + rays[2], still + rays[3]]
        drive = [source * excess, source * excess if setting.reach == "face" else none, none, none]
    settling = drawn.of("cooling of the source") if "cooling of the source" in drawn.names else none + np.inf
    return Draws(through, plane, heat, np.array(coefficient).T, np.array(drive).T, settling)


def confidence(
    model: Model, tried: Attempt, goal: Goal, *, draws: int = USUAL_DRAWS, seed: int = 1
) -> Confidence:
    """The chance that an attempt holds.

    Parameters
    ----------
    model, tried, goal
        The model, one attempt of its plan and the plan's goal (`midframe.heat.plan.goal_of`).
    draws, seed
        Number of draws and seed; the same seed gives the same answer.

    Raises
    ------
    BadSetting
        Where there are fewer than 100 draws or more than a million.

    Notes
    -----
    Each figure is drawn from a triangle over its range. A draw is judged by the limits themselves: the
    margins below them are for the plan at usual figures.
    """
    if not 100 <= draws <= 1_000_000:
        raise BadSetting(f"draws: found {draws}; right: 100 to 1000000")
    end = min(goal.horizon_seconds, 2.0 * (tried.stop_seconds or goal.horizon_seconds) + 60.0)
    seconds = end * np.linspace(0.0, 1.0, TIMES) ** 1.5
    drawn = unknowns(model, tried.setting, goal, draws, seed)
    figures = draws_of(model, tried.setting, drawn, warmth_of(model, tried, goal, end))
    basis = reduce(model.grid, figures.part(slice(0, TRAINING)))
    watched = {"bond": "", **{limit.key: "" for limit in goal.limits if len(model.watched[limit.key])}}
    chosen = {
        key: candidates(rises(basis, figures.part(slice(0, 60)), model.watched[key], seconds), key)
        for key in watched
    }
    nodes = {key: model.watched[key][places] for key, places in chosen.items()}
    every = np.concatenate(list(nodes.values()))
    room = drawn.of("room")[:, None]

    def part(which: slice) -> dict[str, Floats]:
        rise = rises(basis, figures.part(which), every, seconds)
        found, at = {}, 0
        for key, own in nodes.items():
            there = rise[:, at : at + len(own)]
            found[key] = (there.min(axis=1) if key == "bond" else there.max(axis=1)) + room[which]
            at += len(own)
        return found

    with ThreadPoolExecutor(2) as pool:
        parts = list(pool.map(part, chunks(draws, CHUNK)))
    curves = {key: np.concatenate([one[key] for one in parts]) for key in nodes}
    return judged(model, tried, goal, drawn, (seconds, curves), seed)


def warmth_of(model: Model, tried: Attempt, goal: Goal, end: float) -> list[float]:
    """Mean rise above the room of every face over the run at usual figures, for its radiation."""
    figures = model.figures(tried.setting, goal.bench)
    run = model.run(tried.setting, end, figures)
    found = []
    for name in ("hot", "masked", "far", "edge"):
        nodes = model.grid.faces[name].nodes
        course = run.temperature_c[:, nodes].mean(axis=1) if len(nodes) else np.zeros(len(run.seconds))
        found.append(float(np.trapezoid(course, run.seconds) / end) - figures.room_c)
    return found


def candidates(rise: Floats, key: str) -> Integers:
    """Places that are coldest (bond) or hottest in any draw at any time."""
    which = rise.argmin(axis=1) if key == "bond" else rise.argmax(axis=1)
    return np.unique(which)


def first_at(seconds: Floats, values: Floats, level: Floats) -> Floats:
    """For every draw the first time at or above its level, infinite where it is never."""
    above = values >= level[:, None]
    first = above.argmax(axis=1)
    never = ~above.any(axis=1)
    before = np.maximum(first - 1, 0)
    rows = np.arange(len(values))
    low, high = values[rows, before], values[rows, first]
    share = np.clip((level - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
    times = seconds[before] + share * (seconds[first] - seconds[before])
    return np.where(never, np.inf, np.where(first == 0, seconds[0], times))


def judged(
    model: Model,
    tried: Attempt,
    goal: Goal,
    drawn: Unknowns,
    course: tuple[Floats, dict[str, Floats]],
    seed: int,
) -> Confidence:
    """Chances, spreads and what matters, out of the curves of all draws."""
    seconds, curves = course
    softness = drawn.of("softening temperature")
    soft = first_at(seconds, curves["bond"], softness) + goal.dwell_seconds
    limits = [limit for limit in goal.limits if limit.key in curves]
    hots = [first_at(seconds, curves[one.key], np.full(len(soft), one.limit_c)) for one in limits]
    hot = np.min(hots, axis=0) if hots else np.full(len(soft), np.inf)
    stops = np.linspace(0.0, seconds[-1], 400)
    chances = [float(np.mean((soft <= stop) & (stop <= hot))) for stop in stops]
    best = int(np.argmax(chances))
    stop = tried.stop_seconds if tried.stop_seconds is not None else float(stops[best])
    margin = margin_at(seconds, curves, softness, limits, (stop, goal.dwell_seconds))
    return Confidence(
        draws=len(soft),
        seed=seed,
        chance=float(np.mean((soft <= stop) & (stop <= hot))),
        best_stop_seconds=float(stops[best]),
        best_chance=chances[best],
        holds=chances[best] >= LEVEL,
        soft=spread(soft),
        hot=spread(hot),
        matters=what_matters(drawn, margin),
        largest_difference_k=difference(model, tried.setting, drawn, course),
    )


def margin_at(
    seconds: Floats,
    curves: dict[str, Floats],
    softness: Floats,
    limits: Sequence[Limit],
    when: tuple[float, float],
) -> Floats:
    """The smaller of what the bond is above its softening and what is left to the limits, K, at the stop."""
    stop, dwell = when

    def at(key: str, moment: float) -> Floats:
        place = int(np.clip(np.searchsorted(seconds, moment), 1, len(seconds) - 1))
        share = (moment - seconds[place - 1]) / (seconds[place] - seconds[place - 1])
        return np.asarray(curves[key][:, place - 1] * (1 - share) + curves[key][:, place] * share)

    rows = [at("bond", max(0.0, stop - dwell)) - softness]
    rows += [limit.limit_c - at(limit.key, stop) for limit in limits]
    return np.asarray(np.min(rows, axis=0))


def spread(times: Floats) -> Spread:
    """Quantiles of a time that may be infinite."""
    found = [float(np.quantile(times, share, method="lower")) for share in (0.05, 0.5, 0.95)]
    return Spread(*(value if np.isfinite(value) else None for value in found))


def what_matters(drawn: Unknowns, margin: Floats, most: int = 6) -> tuple[Matter, ...]:
    """Shares of the variance of the margin that one unknown explains: variance of the means of slices."""
    total = float(margin.var())
    if total <= 0:
        return ()
    bins, count = min(BINS, max(2, len(margin) // 50)), len(margin)
    found = []
    for name in drawn.names:
        values = drawn.of(name)
        if values.max() <= values.min():
            continue
        slices = np.array_split(margin[np.argsort(values)], bins)
        explained = sum(len(one) * (one.mean() - margin.mean()) ** 2 for one in slices) / count
        found.append(Matter(name, max(0.0, float(explained) / total - (bins - 1) / count)))
    found.sort(key=lambda one: -one.share)
    return tuple(one for one in found[:most] if one.share > 0.005)


def difference(
    model: Model, setting: Setting, drawn: Unknowns, course: tuple[Floats, dict[str, Floats]]
) -> float:
    """Greatest difference between the fast and the full model over a few draws, K."""
    seconds, curves = course
    worst = 0.0
    for number in (0, len(drawn.values) // 2, len(drawn.values) - 1):
        figures = figures_of(model, setting, drawn, number)
        run = model.run(setting, float(seconds[-1]), figures)
        for key, values in curves.items():
            nodes = model.watched[key]
            state = run.temperature_c[:, nodes]
            whole = state.min(axis=1) if key == "bond" else state.max(axis=1)
            theirs = np.interp(seconds, run.seconds, whole)
            worst = max(worst, float(np.abs(theirs - values[number]).max()))
    return worst


def figures_of(model: Model, setting: Setting, drawn: Unknowns, number: int) -> Figures:
    """One draw as figures of the full model."""
    one = Unknowns(drawn.names, drawn.values[number : number + 1])
    figures = draws_of(model, setting, one, [0.0] * 4)
    return Figures(
        figures.through_w_mk[0],
        figures.plane_w_mk[0],
        figures.capacity_j_m3k[0],
        float(one.of("source temperature")[0]),
        float(one.of("source coefficient")[0]),
        float(figures.settling_seconds[0]),
        float(one.of("room")[0]),
        float(one.of("still air")[0]),
        float(one.of("bench")[0]),
        face_region(model.found, hot=True)[2],
    )
