"""One source at one setting tried on a bond: its window, when to stop, what follows."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import numpy as np

from midframe.heat.heat_sources import Setting
from midframe.heat.integrate import Stop
from midframe.heat.limits import Limit
from midframe.heat.model import Bench, Curves, Figures, Model
from midframe.heat.network import Floats
from midframe.heat.windows import Window, at, crossing, until, window

BEYOND_K = 12.0
"""A run ends when something is this far above its limit: further on there is nothing to learn."""

LONGEST_EXTRA_SECONDS = 60.0
"""Heat is kept on after the bond is soft for half the window, at most this long (own construction)."""

PRY_SECONDS = 60.0
"""How long one pries before heating again (common practice)."""

FALL_K = 6.0
"""In cycles the source stays off until what was too hot has fallen by this much (own construction)."""

MOST_CYCLES = 40
"""Nobody turns a source on and off more often than this by hand (house choice)."""

SETTLED_CYCLES, SETTLED_K = 3, 0.3
"""Cycles are given up where the bond is warmer by less than this after so many more (own construction)."""


class Reheat(msgspec.Struct, frozen=True, kw_only=True):
    """Prying and heating again: how long the bond stays soft without heat, how long heat brings it back.

    `too_hot` is what passes its limit while the bond is heated again, empty where nothing does.
    """

    stays_soft_seconds: float
    pried_seconds: float
    bond_then_c: float
    again_seconds: float | None
    overshoot_k: float
    too_hot: str = ""


class Cycles(msgspec.Struct, frozen=True, kw_only=True):
    """On and off in turn: so many times, first and later times on and off, whether it gets there."""

    works: bool
    count: int
    first_on_seconds: float
    on_seconds: float
    off_seconds: float
    soft_seconds: float | None
    stopped_by: str
    curves: Curves


class Attempt(msgspec.Struct, frozen=True, kw_only=True):
    """One setting tried.

    `works` says whether the window is long enough. `stop_seconds` is when to stop; `peak_c` the most
    that surface and bond reach until the bond is soft, else until something is too hot or the run
    ends. `advice` says what would help where it fails.
    """

    setting: Setting
    works: bool
    window: Window
    stop_seconds: float | None
    peak_c: float
    bond_c: float
    cell_c: float
    advice: str
    curves: Curves
    reheat: Reheat | None = None
    cycles: Cycles | None = None


class Goal(msgspec.Struct, frozen=True, kw_only=True):
    """What is asked of an attempt."""

    soft_c: float
    dwell_seconds: float
    horizon_seconds: float
    least_window_seconds: float
    limits: tuple[Limit, ...]
    bench: Bench


def ends_late(model: Model, limits: Sequence[Limit]) -> Stop:
    """Ends a run when something is far above its limit."""
    watch = [(model.watched[limit.key], limit.limit_c + BEYOND_K) for limit in limits]
    watch = [(nodes, most) for nodes, most in watch if len(nodes)]
    return lambda _seconds, state: any(state[nodes].max() > most for nodes, most in watch)


def attempt(model: Model, setting: Setting, goal: Goal) -> Attempt:
    """Heat a bond with one setting and judge it."""
    figures = model.figures(setting, goal.bench)
    run = model.run(setting, goal.horizon_seconds, figures, until=ends_late(model, goal.limits))
    curves = model.curves(run)
    found = window(curves, goal.soft_c, goal.dwell_seconds, goal.limits)
    works = found.soft_seconds is not None and found.seconds >= goal.least_window_seconds
    moment = found.soft_seconds or found.hot_seconds or curves.seconds[-1]
    stop = None
    if works and found.soft_seconds is not None:
        stop = found.soft_seconds + min(found.seconds / 2.0, LONGEST_EXTRA_SECONDS)
    shown = stop if stop is not None else (found.hot_seconds or curves.seconds[-1])
    return Attempt(
        setting=setting,
        works=works,
        window=found,
        stop_seconds=stop,
        peak_c=max(until(curves, key, moment) for key in ("cover", "bond_hottest")),
        bond_c=at(curves, "bond", shown),
        cell_c=at(curves, "cell", shown),
        advice="" if works else advice(setting, found, goal),
        curves=curves,
    )


def advice(setting: Setting, found: Window, goal: Goal) -> str:
    """What to say of a setting that does not work."""
    reached = f"the coldest point of the bond reaches {found.reached_c:.0f} of {goal.soft_c:.0f} °C"
    names = {limit.key: limit.what.partition(",")[0] for limit in goal.limits}
    if found.soft_seconds is not None:
        if found.hot_seconds is None:
            return "the bond is soft only at the end of the time allowed: a little hotter, or longer"
        if found.hot_seconds > found.soft_seconds:
            return f"a window of {found.seconds:.0f} s is too short to work with: lower and longer"
        late = found.soft_seconds - found.hot_seconds
        return f"the {names[found.hot_key]} is at its limit {late:.0f} s before the bond is soft"
    if not found.hot_key:
        return f"too weak: {reached} in {goal.horizon_seconds / 60:.0f} min"
    first = f"the {names[found.hot_key]} is at its limit first, {reached}"
    if found.hot_key in ("cover", "over", "display"):
        return f"{first}: lower and longer"
    if found.hot_key == "cell" and setting.reach == "face":
        return f"{first}: the rim only, the middle under a card, or another way in"
    return f"{first}: another way in"


def state_at(model: Model, setting: Setting, figures: Figures, seconds: float) -> Floats:
    """Temperature of every node after so long."""
    return model.run(setting, seconds, figures).final_c


def reheating(model: Model, tried: Attempt, goal: Goal) -> Reheat:
    """Prying after the stop and heating again."""
    setting, figures = tried.setting, model.figures(tried.setting, goal.bench)
    hot = state_at(model, setting, figures, tried.stop_seconds or 0.0)
    rest = model.rest(setting, 600.0, figures, hot)
    cooling = model.curves(rest)
    below = crossing(cooling.seconds, [-value for value in cooling.bond], -goal.soft_c)
    peak = max(cooling.cell) - cooling.cell[0] if cooling.cell else 0.0
    pried = min(600.0, PRY_SECONDS + (below if below is not None else 600.0))
    cold = model.rest(setting, pried, figures, hot).final_c
    nodes = model.watched["bond"]
    again = model.reheat(
        setting,
        goal.horizon_seconds,
        figures,
        cold,
        lambda _seconds, state: bool(state[nodes].min() >= goal.soft_c),
    )
    curves = model.curves(again)
    return Reheat(
        stays_soft_seconds=600.0 if below is None else below,
        pried_seconds=pried,
        bond_then_c=float(cold[nodes].min()),
        again_seconds=crossing(curves.seconds, curves.bond, goal.soft_c),
        overshoot_k=float(peak),
        too_hot=window(curves, goal.soft_c, 0.0, goal.limits).hot_key,
    )


def cycling(model: Model, tried: Attempt, goal: Goal) -> Cycles:
    """On until the surface is at its limit, off until it has cooled a little, and again."""
    setting, figures = tried.setting, model.figures(tried.setting, goal.bench)
    surface = [limit for limit in goal.limits if limit.key in ("cover", "over", "display")]
    others = [limit for limit in goal.limits if limit not in surface]
    pieces: list[Curves] = []
    state, now, on, stopped = np.full(len(model.grid.across_mm), figures.room_c), 0.0, True, ""
    times: list[tuple[bool, float]] = []
    tops: list[float] = []
    while now < goal.horizon_seconds and len(times) < 2 * MOST_CYCLES:
        left = goal.horizon_seconds - now
        if on:
            run = model.reheat(setting, left, figures, state, reaches(model, [*surface, *others], 0.0))
        else:
            run = model.rest(setting, left, figures, state, falls(model, surface))
        piece = model.curves(run)
        pieces.append(shifted(piece, now))
        times.append((on, float(run.seconds[-1])))
        state, now = run.final_c, now + float(run.seconds[-1])
        stopped = next((limit.key for limit in others if over(model, limit, state)), "")
        if stopped or window(joined_curves(pieces), goal.soft_c, goal.dwell_seconds, ()).soft_seconds:
            break
        if on and settled(tops := [*tops, piece.bond[-1]], goal):
            break
        on = not on
    curves = joined_curves(pieces)
    soft = window(curves, goal.soft_c, goal.dwell_seconds, ()).soft_seconds
    ons, offs = [t for is_on, t in times if is_on], [t for is_on, t in times if not is_on]
    return Cycles(
        works=soft is not None and not stopped,
        count=len(ons),
        first_on_seconds=ons[0],
        on_seconds=float(np.mean(ons[1:])) if len(ons) > 1 else ons[0],
        off_seconds=float(np.mean(offs)) if offs else 0.0,
        soft_seconds=soft,
        stopped_by=stopped,
        curves=curves,
    )


def settled(tops: Sequence[float], goal: Goal) -> bool:
    """Whether the bond stays too cold however many cycles follow: its last tops rise no more."""
    return (
        len(tops) > SETTLED_CYCLES
        and tops[-1] - tops[-1 - SETTLED_CYCLES] < SETTLED_K
        and max(tops) < goal.soft_c
    )


def over(model: Model, limit: Limit, state: Floats) -> bool:
    """Whether something is at its limit less its margin."""
    nodes = model.watched[limit.key]
    return bool(len(nodes)) and bool(state[nodes].max() >= limit.stop_c)


def reaches(model: Model, limits: Sequence[Limit], below_k: float) -> Stop:
    """Ends a run when one of these is at its limit less its margin."""
    return lambda _seconds, state: any(
        len(model.watched[limit.key]) and state[model.watched[limit.key]].max() >= limit.stop_c - below_k
        for limit in limits
    )


def falls(model: Model, limits: Sequence[Limit]) -> Stop:
    """Ends a rest when all of these are well below their limits."""
    ready = reaches(model, limits, FALL_K)
    return lambda seconds, state: not ready(seconds, state)


def shifted(curves: Curves, seconds: float) -> Curves:
    """Curves that begin later."""
    return msgspec.structs.replace(curves, seconds=tuple(t + seconds for t in curves.seconds))


def joined_curves(pieces: Sequence[Curves]) -> Curves:
    """Curves one after the other, the first point of each but the first left out."""
    whole = {}
    for name in Curves.__struct_fields__:
        values: tuple[float, ...] = ()
        for number, piece in enumerate(pieces):
            values += getattr(piece, name)[1 if number else 0 :]
        whole[name] = values
    return Curves(**whole)
