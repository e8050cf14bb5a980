"""Simulated logs with known truth: one cell discharged and charged, fresh and aged."""

from __future__ import annotations

import warnings
from functools import cache
from typing import NamedTuple


class Simulated(NamedTuple):
    """A discharge, a charge and a discharge; capacity in Ah is what the model itself counts."""

    seconds: tuple[float, ...]
    volts: tuple[float, ...]
    amperes: tuple[float, ...]
    capacity_ah: float


@cache
def simulated(scale: float = 1.0) -> Simulated:
    """A cell whose electrodes are `scale` times as large as those of the fresh one, at the same currents."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pybamm

        pybamm.set_logging_level("ERROR")
        parameters = pybamm.ParameterValues("Ai2020")
        parameters["Electrode height [m]"] *= scale
        steps = (
            "Discharge at C/5 until 3.0 V",
            "Rest for 10 minutes",
            "Charge at C/2 until 4.2 V",
            "Hold at 4.2 V until C/50",
            "Rest for 10 minutes",
            "Discharge at C/5 until 3.0 V",
        )
        simulation = pybamm.Simulation(
            pybamm.lithium_ion.SPM(),
            parameter_values=parameters,
            experiment=pybamm.Experiment([steps], period="20 seconds"),
        )
        solution = simulation.solve(initial_soc=1.0)
    last = solution.cycles[0].steps[5]["Discharge capacity [A.h]"].entries
    return Simulated(
        tuple(float(one) for one in solution["Time [s]"].entries),
        tuple(float(one) for one in solution["Voltage [V]"].entries),
        tuple(-float(one) for one in solution["Current [A]"].entries),
        float(last[-1] - last[0]),
    )
