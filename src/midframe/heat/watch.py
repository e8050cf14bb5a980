"""A plan watched on the bench: readings come in, the curve is fitted again, the next step is told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import msgspec
import numpy as np

from midframe.heat.attempts import Attempt, Goal, attempt
from midframe.heat.calibrate import (
    MOST,
    THERMOMETER_EMISSIVITY,
    Calibration,
    Reading,
    calibrate,
    check_readings,
    true_c,
)
from midframe.heat.limits import NAMES, face_region
from midframe.heat.model import Model

FIRST_SECONDS = 20.0
OFTEN_SECONDS, SELDOM_SECONDS = 15.0, 60.0
"""First reading, and the least and most between readings (common practice)."""

AHEAD_K = 8.0
"""A reading that runs this far ahead of the curve stops the work (own construction)."""

Step = Literal["heat", "work", "stop"]


class Next(msgspec.Struct, frozen=True, kw_only=True):
    """What comes next.

    Attributes
    ----------
    step
        `heat`: keep the source on; `work`: soft, pry now; `stop`: source off.
    say
        The step in words.
    reading_due_seconds
        When the next reading is due; absent where none is.
    soft_seconds, stop_seconds, hot_seconds
        Of the curve as it is known now.
    off_k
        The last reading less the curve that was expected; absent without readings.
    tried
        The attempt with the source as fitted so far, with its curves.
    """

    step: Step
    say: str
    reading_due_seconds: float | None
    soft_seconds: float | None
    stop_seconds: float | None
    hot_seconds: float | None
    off_k: float | None
    tried: Attempt
    fitted: Calibration | None


def watch(
    model: Model,
    tried: Attempt,
    goal: Goal,
    readings: Sequence[Reading] = (),
    *,
    taped: bool = False,
) -> Next:
    """The next step after some readings.

    Parameters
    ----------
    model, tried, goal
        The model, the attempt that is followed, the plan's goal.
    readings
        What the thermometer has shown so far; the last one is taken as now.
    taped
        As in `calibrate`.

    Raises
    ------
    BadSetting
        As `calibrate`.
    """
    if not readings:
        return told(tried, 0.0, None, None)
    check_readings(readings, fewest=1)
    ordered = sorted(readings, key=lambda one: one.seconds)
    last = ordered[-1]
    surface = 0.95 if taped else face_region(model.found, hot=True)[2]
    shown = true_c(last.shown_c, surface, THERMOMETER_EMISSIVITY, goal.bench.room_c.usual)
    expected = float(np.interp(last.seconds, tried.curves.seconds, tried.curves.surface))
    fitted, now = None, tried
    if len(ordered) >= 2:
        fitted = calibrate(model, tried.setting, ordered, bench=goal.bench, taped=taped)
        now = attempt(model, fitted.setting(), goal)
        expected = float(np.interp(last.seconds, now.curves.seconds, now.curves.surface))
    found = told(now, last.seconds, shown - expected, fitted)
    if len(ordered) >= MOST and found.step == "heat":
        return msgspec.structs.replace(found, reading_due_seconds=None)
    return found


def later(known: Next, seconds: float) -> Next:
    """What comes next at a later time, with no new reading since; a stop stays a stop.

    Parameters
    ----------
    known
        From `watch`.
    seconds
        Now, s since the source went on.
    """
    if known.step == "stop":
        return known
    now = told(known.tried, seconds, None, None)
    due = known.reading_due_seconds if now.step == "heat" else None
    return msgspec.structs.replace(known, step=now.step, say=now.say, reading_due_seconds=due)


def told(tried: Attempt, seconds: float, off_k: float | None, fitted: Calibration | None) -> Next:
    """The step at a time on a curve."""
    window = tried.window
    end = tried.stop_seconds if tried.works else window.hot_seconds
    step: Step = "heat"
    say = "Keep the source on."
    if off_k is not None and off_k > AHEAD_K:
        step, say = (
            "stop",
            f"Source off: the reading is {off_k:.0f} K ahead of the curve. Look for the cause.",
        )
    elif window.hot_seconds is not None and seconds >= window.hot_seconds:
        step, say = "stop", f"Source off: {NAMES[window.hot_key]} is at its limit."
    elif not tried.works and window.soft_seconds is None and window.hot_key:
        step, say = "stop", f"Source off: {tried.advice}."
    elif not tried.works and window.soft_seconds is None:
        say = f"As it heats so far it is {tried.advice}. Hold it nearer or hotter."
    elif end is not None and seconds >= end:
        step, say = "work", "Source off and pry: the bond is soft."
    elif window.soft_seconds is not None and seconds >= window.soft_seconds:
        step, say = "work", "The bond is soft: pry now, the source may stay on until the stop."
    due = None
    if step == "heat":
        gap = max(OFTEN_SECONDS, min(SELDOM_SECONDS, (end or 6 * SELDOM_SECONDS) / 6.0))
        if off_k is not None and off_k > AHEAD_K / 2:
            gap = OFTEN_SECONDS
            say += f" The reading is {off_k:.0f} K ahead of the curve: measure again soon,"
            say += f" {AHEAD_K:g} K is a stop."
        due = FIRST_SECONDS if seconds == 0 else seconds + gap
        if end is not None and seconds < end:
            due = min(due, end)
    return Next(
        step=step,
        say=say,
        reading_due_seconds=due,
        soft_seconds=window.soft_seconds,
        stop_seconds=tried.stop_seconds,
        hot_seconds=window.hot_seconds,
        off_k=off_k,
        tried=tried,
        fitted=fitted,
    )
