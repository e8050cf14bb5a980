"""The plan: how long and how hot with each source, the gentlest that works, and why others do not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from midframe.faults import BadSetting
from midframe.heat.attempts import Attempt, Goal, attempt, cycling, reheating
from midframe.heat.cautions import Caution, CellState, cautions_for
from midframe.heat.heat_sources import Setting, tables
from midframe.heat.limits import Limit, limit_table, limits_for
from midframe.heat.model import Bench, Model
from midframe.heat.windows import window

DWELL_SECONDS = 30.0
"""The coldest point of the bond is to be soft this long (common practice)."""

LEAST_WINDOW_SECONDS = 15.0
"""A shorter window cannot be kept by hand (common practice)."""

HORIZON_SECONDS = 900.0
"""Nobody heats longer than this at one go (common practice)."""

ALIKE_K = 5.0
"""Attempts whose hottest points differ by less are equally gentle (own construction)."""


OWN = "own"
"""Stands among the sources for those that the user has measured."""


class PlanSettings(msgspec.Struct, frozen=True, kw_only=True):
    """What a plan is asked for.

    Parameters
    ----------
    cell
        The state of the cell as someone has seen it; a swollen or damaged one gets no heat at all.
    limits_c
        Own limits by what they are for: cell, display, over, cover, held.
    soft_c
        Own softening temperature at the bond line.
    sources
        Ids of the sources at hand, `own` for those of `own` alone; empty for all.
    own
        Settings of the user's own, measured sources.
    """

    cell: CellState = "not said"
    limits_c: Mapping[str, float] = {}
    soft_c: float | None = None
    sources: tuple[str, ...] = ()
    own: tuple[Setting, ...] = ()
    dwell_seconds: float = DWELL_SECONDS
    least_window_seconds: float = LEAST_WINDOW_SECONDS
    horizon_seconds: float = HORIZON_SECONDS
    bench: Bench = Bench()


class HardStop(msgspec.Struct, frozen=True, kw_only=True):
    """What would leave a window if a person decided on the cell's hard stop; told, never proposed."""

    setting: Setting
    limit_c: float
    seconds: float


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """The plan of one bond.

    `attempts` holds one row for each source and reach: the gentlest setting that works, else the one that
    comes nearest. `best` is the gentlest of all that work: the one whose hottest point is coolest when the
    bond is soft and, among those alike within 5 K, the quickest. `refused` is filled where no heat may be
    used at all; then there are no attempts.
    """

    device: str
    joint: str
    joint_name: str
    side: str
    cover: str
    soft_c: float
    soft_mark: str
    dwell_seconds: float
    limits: tuple[Limit, ...]
    attempts: tuple[Attempt, ...]
    best: Attempt | None
    hard_stop: HardStop | None
    advice: str
    refused: str
    cautions: tuple[Caution, ...]
    rests_on: tuple[str, ...]
    left_out: tuple[str, ...]
    gone: tuple[str, ...]
    sources: tuple[str, ...]


def make_plan(model: Model, settings: PlanSettings | None = None) -> Plan:
    """Plan the heating of a bond.

    Parameters
    ----------
    model
        From `midframe.heat.heat_model`.
    settings
        What is asked for.

    Returns
    -------
    Plan

    Raises
    ------
    BadSetting
        Where a setting is outside what is defined.

    Examples
    --------
    >>> from midframe import demo
    >>> from midframe.heat.model import heat_model
    >>> model = heat_model(demo.load("tern-3"), "battery-bond")
    >>> make_plan(model, PlanSettings(cell="swollen")).refused[:7]
    'No heat'
    >>> make_plan(model, PlanSettings(sources=("hairdryer",))).best.setting.told
    'Hairdryer, 15 cm away, whole face'
    """
    asked = settings or PlanSettings()
    goal = goal_of(model, asked)
    attempts = () if refusal(asked.cell) else tuple(rows(model, goal, asked))
    return plan_of(model, asked, goal, attempts)


def plan_of(model: Model, asked: PlanSettings, goal: Goal, attempts: tuple[Attempt, ...]) -> Plan:
    """The plan that some attempts come to; the gentlest of those that work is told with its reheating."""
    refused = refusal(asked.cell)
    working = [one for one in attempts if one.works]
    best = gentlest_of(working)
    if best is not None:
        best = msgspec.structs.replace(best, reheat=reheating(model, best, goal))
        attempts = tuple(best if one.setting == best.setting else one for one in attempts)
    found = model.found
    return Plan(
        device=found.device,
        joint=found.bond.joint,
        joint_name=found.bond.name,
        side=found.side,
        cover=found.bond.cover,
        soft_c=goal.soft_c,
        soft_mark="own" if asked.soft_c is not None else found.bond.soft_mark,
        dwell_seconds=goal.dwell_seconds,
        limits=goal.limits,
        attempts=attempts,
        best=best,
        hard_stop=None if best or refused else hard_stop(attempts, goal),
        advice="" if best or refused else overall(attempts),
        refused=refused,
        cautions=cautions_for(has_cell=found.has_cell, refused=bool(refused)),
        rests_on=found.rests_on,
        left_out=found.left_out,
        gone=found.gone,
        sources=cited_by(model, goal, attempts),
    )


def gentlest_of(working: list[Attempt]) -> Attempt | None:
    """The gentlest attempt; among those alike within 5 K, the one that is soft first."""
    coolest = min((one.peak_c for one in working), default=0.0)
    alike = [one for one in working if one.peak_c <= coolest + ALIKE_K]
    return min(alike, key=lambda one: (one.window.soft_seconds or 0.0, one.peak_c), default=None)


def goal_of(model: Model, asked: PlanSettings) -> Goal:
    """The goal of every attempt; raises `BadSetting` where a figure is out of range."""
    for name, low, high in (
        ("dwell_seconds", 0.0, 600.0),
        ("least_window_seconds", 0.0, 600.0),
        ("horizon_seconds", 10.0, 7200.0),
    ):
        if not low <= getattr(asked, name) <= high:
            raise BadSetting(f"{name}: found {getattr(asked, name):g}; right: {low:g} to {high:g} s")
    soft = model.found.bond.soft_c.usual if asked.soft_c is None else asked.soft_c
    if not asked.bench.room_c.usual + 2.0 < soft < 250.0:
        raise BadSetting(f"soft_c: found {soft:g} °C; right: above room temperature and below 250 °C")
    return Goal(
        soft_c=soft,
        dwell_seconds=asked.dwell_seconds,
        horizon_seconds=asked.horizon_seconds,
        least_window_seconds=asked.least_window_seconds,
        limits=limits_for(model.found, asked.limits_c),
        bench=asked.bench,
    )


def refusal(cell: CellState) -> str:
    """Why no heat may be used, if so."""
    if cell in ("swollen", "damaged"):
        return f"No heat: the cell is {cell}. No way in by heat is given for it."
    return ""


def rows(model: Model, goal: Goal, asked: PlanSettings) -> Iterable[Attempt]:
    """For each source and reach the gentlest setting that works, else the one that comes nearest."""
    groups: dict[tuple[str, str, str], list[Setting]] = {}
    for setting in (*asked.own, *chosen(asked.sources)):
        if model.found.bond.width_mm is None and setting.reach == "rim":
            continue
        groups.setdefault((setting.source, setting.name, setting.reach), []).append(setting)
    for group in groups.values():
        yield gentlest(model, goal, group)


def chosen(sources: tuple[str, ...]) -> Iterable[Setting]:
    """The settings of the sources at hand; raises `BadSetting` for one that is not in the table."""
    unknown = sorted(set(sources) - {*tables(), OWN})
    if unknown:
        raise BadSetting(f"source: found {', '.join(unknown)}; right: one of {', '.join(tables())}, {OWN}")
    for key, settings in tables().items():
        if not sources or key in sources:
            yield from settings


def gentlest(model: Model, goal: Goal, group: list[Setting]) -> Attempt:
    """The first setting of a source that works; else the nearest, with cycles where they may help."""
    tried = []
    for setting in group:
        one = attempt(model, setting, goal)
        if one.works:
            return one
        tried.append(one)
        if one.window.soft_seconds is None and one.window.hot_key == "cell" and setting.reach == "face":
            break  # a harsher setting heats the cell sooner still
    nearest = max(tried, key=lambda one: (one.window.seconds, one.window.reached_c))
    surface = [one for one in tried if one.window.hot_key in ("cover", "over", "display")]
    if surface and surface[0].setting.kind == "air":
        turned = cycling(model, surface[0], goal)
        if turned.works:
            return msgspec.structs.replace(surface[0], cycles=turned)
    return nearest


def hard_stop(attempts: Iterable[Attempt], goal: Goal) -> HardStop | None:
    """The best window under the cell's hard stop, where there is one."""
    hard = limit_table()["cell-hard"]
    limits = [msgspec.structs.replace(hard, key="cell") if one.key == "cell" else one for one in goal.limits]
    if not any(one.key == "cell" and one.mark != "own" for one in goal.limits):
        return None
    found = [
        (window(one.curves, goal.soft_c, goal.dwell_seconds, limits).seconds, number, one)
        for number, one in enumerate(attempts)
    ]
    seconds, _, one = max(found, default=(0.0, 0, None), key=lambda row: row[:2])
    if one is None or seconds < goal.least_window_seconds:
        return None
    return HardStop(setting=one.setting, limit_c=hard.limit_c, seconds=seconds)


def overall(attempts: Iterable[Attempt]) -> str:
    """What to say where no source works."""
    turned = [one for one in attempts if one.cycles is not None]
    if turned:
        one = turned[0]
        return f"Not in one go; in on and off cycles: {one.setting.told}."
    nearest = max(attempts, key=lambda one: one.window.reached_c, default=None)
    told = "" if nearest is None else f" Nearest: {nearest.setting.told}; {nearest.advice}."
    return (
        "Not feasible with these sources within the limits." + told + " Other ways: solvent at the edge "
        "without any heat, a thin blade at room temperature, the other side, or a bench that can do more."
    )


def cited_by(model: Model, goal: Goal, attempts: Iterable[Attempt]) -> tuple[str, ...]:
    """Keys of the sources that a plan rests on."""
    import re

    texts = [limit.rests_on for limit in goal.limits]
    texts += [region.rests_on for region in model.found.regions]
    texts += [one.setting.rests_on for one in attempts]
    texts += ["[hosea-shampine-1996, section 2]"]
    texts += ["[incropera-fhmt, eq. 7.75]" for one in attempts if one.setting.kind == "air"][:1]
    texts += [line for caution in cautions_for(has_cell=True, refused=not attempts) for line in caution.lines]
    return tuple(dict.fromkeys(key for text in texts for key in re.findall(r"\[([a-z0-9-]+), ", text)))
