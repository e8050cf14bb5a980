"""Maintainability: failure mix, chances of success, mean time to repair. Takes plain values only."""

from midframe.upkeep.chances import (
    Chance,
    Reason,
    Share,
    barriers,
    battery_needs,
    chance_of_role,
    chances,
    wilson,
)
from midframe.upkeep.estimate import draw_mean_seconds, medians_of, upkeep
from midframe.upkeep.faults_and_roles import FAULT_OF_ROLE, NO_PART, ROLES_OF_FAULT, known_names
from midframe.upkeep.lognormal import SIGMA_OF_LN, LogNormal, fenton_wilkinson, fit, sum_moments
from midframe.upkeep.mix import FailureMix, MixRow, failure_mix
from midframe.upkeep.repair_time import OtherTasks, RepairTime, mean_time_to_repair
from midframe.upkeep.result import LeftOut, PartRow, PartTimes, Upkeep, UpkeepSettings
from midframe.upkeep.tables import EVENT_REPAIRS

__all__ = [
    "EVENT_REPAIRS",
    "FAULT_OF_ROLE",
    "NO_PART",
    "ROLES_OF_FAULT",
    "SIGMA_OF_LN",
    "Chance",
    "FailureMix",
    "LeftOut",
    "LogNormal",
    "MixRow",
    "OtherTasks",
    "PartRow",
    "PartTimes",
    "Reason",
    "RepairTime",
    "Share",
    "Upkeep",
    "UpkeepSettings",
    "barriers",
    "battery_needs",
    "chance_of_role",
    "chances",
    "draw_mean_seconds",
    "failure_mix",
    "fenton_wilkinson",
    "fit",
    "known_names",
    "mean_time_to_repair",
    "medians_of",
    "sum_moments",
    "upkeep",
    "wilson",
]
