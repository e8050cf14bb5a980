"""Heat: soften the bond without cooking the cell.

`heat_model(record, joint)` gives the model of a bond, `make_plan(model)` how long and how hot with each
source, `confidence` the chance that it holds, `calibrate` a user's own source, `watch` the next step on the
bench, `cooling` what comes after.
"""

from midframe.heat.attempts import Attempt, Cycles, Goal, Reheat, attempt
from midframe.heat.calibrate import Calibration, Reading, calibrate, calibrations_from, calibrations_text
from midframe.heat.cautions import Caution, cell_state
from midframe.heat.cooling import Cooling, contact_c, cooling
from midframe.heat.draws import Confidence, confidence
from midframe.heat.heat_sources import Setting, own_setting, settings_of, tables
from midframe.heat.integrate import History, Steps, integrate
from midframe.heat.limits import NAMES, Limit, limits_for
from midframe.heat.materials import Range
from midframe.heat.model import NO_CURVES, Bench, Curves, Model, heat_model
from midframe.heat.network import Surroundings
from midframe.heat.plan import Plan, PlanSettings, goal_of, make_plan
from midframe.heat.section import Section, section
from midframe.heat.stack import Layer, stack_network
from midframe.heat.study import Study, study
from midframe.heat.turns import Turn, turn_at
from midframe.heat.watch import Next, later, watch
from midframe.heat.windows import Window

__all__ = [
    "NAMES",
    "NO_CURVES",
    "Attempt",
    "Bench",
    "Calibration",
    "Caution",
    "Confidence",
    "Cooling",
    "Curves",
    "Cycles",
    "Goal",
    "History",
    "Layer",
    "Limit",
    "Model",
    "Next",
    "Plan",
    "PlanSettings",
    "Range",
    "Reading",
    "Reheat",
    "Section",
    "Setting",
    "Steps",
    "Study",
    "Surroundings",
    "Turn",
    "Window",
    "attempt",
    "calibrate",
    "calibrations_from",
    "calibrations_text",
    "cell_state",
    "confidence",
    "contact_c",
    "cooling",
    "goal_of",
    "heat_model",
    "integrate",
    "later",
    "limits_for",
    "make_plan",
    "own_setting",
    "section",
    "settings_of",
    "stack_network",
    "study",
    "tables",
    "turn_at",
    "watch",
]
