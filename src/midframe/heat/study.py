"""One source at one setting looked at closely: its attempt, how sure it is, what comes after."""

from __future__ import annotations

import msgspec

from midframe.faults import BadSetting
from midframe.heat.attempts import Attempt, attempt, cycling
from midframe.heat.cooling import Cooling, cooling
from midframe.heat.draws import Confidence, confidence
from midframe.heat.heat_sources import Setting
from midframe.heat.model import Model
from midframe.heat.plan import Plan, PlanSettings, goal_of, plan_of, refusal


class Study(msgspec.Struct, frozen=True, kw_only=True):
    """A plan of one attempt, with the chance that it holds and the cooling after it.

    `sure` is absent for on and off cycles and without draws, `after` where the attempt does not work.
    """

    plan: Plan
    shown: Attempt
    sure: Confidence | None
    after: Cooling | None


def study(
    model: Model,
    setting: Setting,
    settings: PlanSettings | None = None,
    *,
    cycles: bool = False,
    draws: int = 2000,
    seed: int = 1,
) -> Study:
    """Look closely at one setting.

    Parameters
    ----------
    model, setting
        A bond, and the source that is tried.
    settings
        As for `make_plan`; its sources are not looked at.
    cycles
        Whether the source goes on and off in turn.
    draws, seed
        As for `confidence`; 0 draws for none.

    Raises
    ------
    BadSetting
        Where the cell gets no heat at all, or a setting is out of range.

    Examples
    --------
    >>> from midframe import demo
    >>> from midframe.heat import heat_model, settings_of
    >>> found = study(heat_model(demo.load("tern-3"), "battery-bond"), settings_of("hairdryer")[0], draws=0)
    >>> found.shown.works, found.sure, found.after.touch_seconds
    (True, None, 0.0)
    """
    asked = settings or PlanSettings()
    if refusal(asked.cell):
        raise BadSetting(refusal(asked.cell))
    goal = goal_of(model, asked)
    tried = attempt(model, setting, goal)
    if cycles and not tried.works:
        tried = msgspec.structs.replace(tried, cycles=cycling(model, tried, goal))
    plan = plan_of(model, asked, goal, (tried,))
    shown = plan.attempts[0]
    sure = None
    if draws and shown.cycles is None:
        sure = confidence(model, shown, goal, draws=draws, seed=seed)
    after = cooling(model, shown, goal) if shown.works else None
    return Study(plan=plan, shown=shown, sure=sure, after=after)
