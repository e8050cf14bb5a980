"""Afterwards: when the device may be touched, charged, and pressed together again."""

from __future__ import annotations

import msgspec
import numpy as np

from midframe.heat.attempts import Attempt, Goal
from midframe.heat.limits import touch_material
from midframe.heat.model import Curves, Model
from midframe.heat.windows import crossing

TOUCH_C = 48.0
"""A surface that may be held for ten minutes, any material (from memory, for [iso-13732-1, long contact])."""

CHARGE_C = 40.0
"""Charging a cell: 0 to 45 °C by datasheet class, five kelvin kept free (common practice)."""

PRESS_C = 38.0
"""New adhesive is pressed at 21 to 38 °C (common practice, no source)."""

LONGEST_SECONDS = 3600.0

SKIN_EFFUSIVITY = 1100.0
EFFUSIVITY = {"metal": 20_000.0, "glass": 1_400.0, "plastic": 540.0}.items()
"""√(k·ρ·c), W·s^½/(m²·K): skin [cengel-htpa, contact of two bodies]; others from the table of materials."""


class Cooling(msgspec.Struct, frozen=True, kw_only=True):
    """Cooling after the stop, source off: seconds until …; absent where it takes longer than an hour."""

    touch_seconds: float | None
    charge_seconds: float | None
    press_seconds: float | None
    curves: Curves
    has_cell: bool
    face_feels_c: float


def contact_c(first_c: float, first_effusivity: float, second_c: float, second_effusivity: float) -> float:
    """Temperature of the border when two bodies touch: (e₁·T₁ + e₂·T₂)/(e₁ + e₂).

    >>> round(contact_c(32.0, 1100.0, 20.0, 24000.0), 3)
    20.526

    References
    ----------
    [cengel-htpa, contact of two bodies]
    """
    weighed = first_effusivity * first_c + second_effusivity * second_c
    return weighed / (first_effusivity + second_effusivity)


def cooling(model: Model, tried: Attempt, goal: Goal, *, stop_seconds: float | None = None) -> Cooling:
    """Let the device cool after an attempt, in still air.

    Parameters
    ----------
    model, tried, goal
        The model, one attempt, the plan's goal.
    stop_seconds
        When the source goes off; by default the attempt's own stop, else the end of its run.
    """
    stop = stop_seconds or tried.stop_seconds or tried.curves.seconds[-1]
    figures = model.figures(tried.setting, goal.bench)
    hot = model.run(tried.setting, stop, figures).final_c
    run = model.rest(tried.setting, LONGEST_SECONDS, figures, hot)
    curves = model.curves(run)
    outside = tuple(np.maximum(curves.cover, curves.held).tolist())
    feel = dict(EFFUSIVITY)[touch_material(model.found, hot=True)]
    return Cooling(
        touch_seconds=below(curves.seconds, outside, TOUCH_C),
        charge_seconds=below(curves.seconds, curves.cell, CHARGE_C) if curves.cell else 0.0,
        press_seconds=below(curves.seconds, curves.bond_hottest, PRESS_C),
        curves=curves,
        has_cell=bool(curves.cell),
        face_feels_c=contact_c(32.0, SKIN_EFFUSIVITY, max(curves.cover[0], 32.0), feel),
    )


def below(seconds: tuple[float, ...], values: tuple[float, ...], level: float) -> float | None:
    """From when on a curve stays at or below a level.

    >>> below((0, 10, 20), (60, 50, 40), 45), below((0, 10), (60, 50), 45), below((0, 10), (30, 20), 45)
    (15.0, None, 0.0)
    """
    if values[-1] > level:
        return None
    last = max((number for number, value in enumerate(values) if value > level), default=None)
    if last is None:
        return 0.0
    return crossing(seconds[last:], tuple(-value for value in values[last:]), -level)
