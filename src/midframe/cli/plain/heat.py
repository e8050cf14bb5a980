"""The heat plan as plain data: curves thinned, attempts and what follows."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.heat import Attempt, Plan

POINTS = 60
"""Points of a curve in the JSON at most (house choice)."""


def heat_data(plan: Plan, found: dict[str, Any]) -> dict[str, Any]:
    """The plan and what goes beyond it."""
    data = dict(msgspec.to_builtins(plan))
    del data["device"]
    data["attempts"] = [attempt_data(one) for one in plan.attempts]
    data["best"] = None if plan.best is None else attempt_data(plan.best)
    data["hard_stop"] = None
    if plan.hard_stop is not None:
        stop = plan.hard_stop
        data["hard_stop"] = {
            "told": stop.setting.told,
            "limit_c": stop.limit_c,
            "seconds": round(stop.seconds, 1),
        }
    data["confidence"] = None if found["confidence"] is None else msgspec.to_builtins(found["confidence"])
    data["cooling"] = None
    if found["cooling"] is not None:
        after = msgspec.to_builtins(found["cooling"])
        data["cooling"] = {key: value for key, value in after.items() if key != "curves"}
    data["next"] = None
    if found["next"] is not None:
        step = msgspec.to_builtins(found["next"])
        data["next"] = {key: value for key, value in step.items() if key != "tried"}
        if step["fitted"] is not None:
            step["fitted"]["readings"] = [list(row.values()) for row in step["fitted"]["readings"]]
    return data


def attempt_data(one: Attempt) -> dict[str, Any]:
    """One attempt with its setting in words and its curves thinned."""
    setting, window = one.setting, one.window
    every = max(1, len(one.curves.seconds) // POINTS)
    curves = msgspec.to_builtins(one.curves)
    return {
        "source": setting.source,
        "told": setting.told,
        "reach": setting.reach,
        "air_c": setting.air_c.usual,
        "coefficient_w_m2k": round(setting.coefficient_w_m2k.usual, 1),
        "rests_on": setting.rests_on,
        "works": one.works,
        "soft_seconds": window.soft_seconds,
        "hot_seconds": window.hot_seconds,
        "hot_key": window.hot_key,
        "window_seconds": window.seconds,
        "stop_seconds": one.stop_seconds,
        "reached_c": window.reached_c,
        "peak_c": one.peak_c,
        "advice": one.advice,
        "reheat": None if one.reheat is None else msgspec.to_builtins(one.reheat),
        "cycles": None
        if one.cycles is None
        else {k: v for k, v in msgspec.to_builtins(one.cycles).items() if k != "curves"},
        "curves": {key: [round(v, 2) for v in values[::every]] for key, values in curves.items()},
    }
