"""Heat in a network over time: TR-BDF2 with a step that adapts, and the balance of energy of every run.

Each step is a trapezoid to a fraction γ = 2 − √2 of it and then a backward
difference; both stages have the same matrix, so that one factor serves both. The
method is of second order and damps what is stiff (L-stable). The third-order
companion of the same stages tells the error of a step.

References: [hosea-shampine-1996, section 2] for stages, weights and companion.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

import msgspec
import numpy as np
from scipy.linalg import LinAlgError, cho_solve_banded, cholesky_banded

from midframe.faults import BadSetting
from midframe.heat.network import Floats, Network, Surroundings, face_conductance, face_power

GAMMA = 2.0 - math.sqrt(2.0)
SHARE = GAMMA / 2.0
WEIGHT = math.sqrt(2.0) / 4.0
COMPANION = ((1.0 - WEIGHT) / 3.0, (3.0 * WEIGHT + 1.0) / 3.0, SHARE / 3.0)
"""Weights of the third-order companion [hosea-shampine-1996, section 2]."""

USUAL_TOLERANCE_K = 1e-3
"""Error allowed in one step, K (own construction; the error of a whole run is measured in tests)."""

FIRST_STEP_SECONDS = 1e-3
SOLVED_K = 1e-9
"""A stage is solved when its last correction is below this, K (own construction)."""

MOST_CORRECTIONS = 30
MOST_STEPS = 100_000
BALANCE = 1e-6
"""Stored and entered heat may differ by this share of the heat that moved (own construction)."""

Conditions = Mapping[str, Surroundings]


class Steps(msgspec.Struct, frozen=True):
    """How the time is stepped: an error for each step, or a fixed step where `fixed_seconds` is given."""

    tolerance_k: float = USUAL_TOLERANCE_K
    largest_seconds: float = math.inf
    fixed_seconds: float | None = None


class History(msgspec.Struct, frozen=True, eq=False):
    """A run: times (s), temperatures (times × nodes, °C), heat that entered by face (J), the balance."""

    seconds: Floats
    temperature_c: Floats
    entered_j: Mapping[str, float]
    stored_j: float
    moved_j: float
    steps: int
    rejected: int

    @property
    def balance(self) -> float:
        """Difference of stored and entered heat as a share of the heat that moved."""
        lacking = abs(self.stored_j - sum(self.entered_j.values()))
        return lacking / self.moved_j if self.moved_j > 0 else lacking

    @property
    def final_c(self) -> Floats:
        """Temperatures at the end."""
        return np.asarray(self.temperature_c[-1])


Stop = Callable[[float, Floats], bool]


def integrate(
    network: Network,
    start_c: Floats | float,
    conditions: Conditions,
    seconds: float,
    *,
    steps: Steps | None = None,
    until: Stop | None = None,
) -> History:
    """Run a network from a state under constant conditions.

    Parameters
    ----------
    network
        What is heated.
    start_c
        Temperature of every node at the start, °C.
    conditions
        What each face meets; a face that is not named is insulated.
    seconds
        Length of the run.
    steps
        Tolerance or fixed step.
    until
        Ends the run early: called after each step with the time (s) and the temperatures (°C).

    Returns
    -------
    History
        All steps that were taken, the first one being the start.

    Raises
    ------
    BadSetting
        Where a face is unknown, a time is negative, or the energy does not balance to 1e-6.

    Notes
    -----
    >>> from midframe.heat.stack import Layer, stack_network
    >>> plate = Layer("plate", 0.003, 177.0, 2770.0, 875.0)
    >>> run = integrate(stack_network([plate]), 20.0, {"hot": Surroundings(flux_w_m2=1000.0)}, 60.0)
    >>> round(float(run.final_c.mean()), 3)  # 1000 W/m² for 60 s into 7271 J/(m²·K)
    28.252
    """
    stepper = _Stepper(network, conditions, steps or Steps())
    if not math.isfinite(seconds) or seconds < 0:
        raise BadSetting(f"seconds: found {seconds}; right: a time of at least 0 s")
    state = np.broadcast_to(np.asarray(start_c, dtype=float), (network.size,)).copy()
    times, states = [0.0], [state]
    now, step = 0.0, stepper.first_step(seconds)
    while now < seconds:
        if stepper.steps + stepper.rejected > MOST_STEPS:
            raise BadSetting(f"time step: found more than {MOST_STEPS} steps; right: a larger tolerance_k")
        taken = min(step, seconds - now)
        state, step = stepper.advance(states[-1], now, taken, step)
        if stepper.accepted:
            now = seconds if taken >= seconds - now else now + taken
            times.append(now)
            states.append(state)
            if until is not None and until(now, state):
                break
    return stepper.history(times, states)


def joined(runs: Sequence[History]) -> History:
    """Runs one after the other as one: times go on, heat adds up.

    >>> from midframe.heat.stack import Layer, stack_network
    >>> net = stack_network([Layer("plate", 0.003, 177.0, 2770.0, 875.0)])
    >>> first = integrate(net, 20.0, {"hot": Surroundings(flux_w_m2=1000.0)}, 30.0)
    >>> both = joined([first, integrate(net, first.final_c, {}, 30.0)])
    >>> float(both.seconds[-1]), both.balance < 1e-9
    (60.0, True)
    """
    shift, times, states = 0.0, [runs[0].seconds[:1]], [runs[0].temperature_c[:1]]
    entered: dict[str, float] = {}
    for run in runs:
        times.append(run.seconds[1:] + shift)
        states.append(run.temperature_c[1:])
        shift += float(run.seconds[-1])
        for face, heat in run.entered_j.items():
            entered[face] = entered.get(face, 0.0) + heat
    return History(
        np.concatenate(times),
        np.concatenate(states),
        entered,
        sum(run.stored_j for run in runs),
        sum(run.moved_j for run in runs),
        sum(run.steps for run in runs),
        sum(run.rejected for run in runs),
    )


class _Stepper:
    """One run's matrices, factors and sums."""

    def __init__(self, network: Network, conditions: Conditions, rule: Steps) -> None:
        unknown = sorted(conditions.keys() - network.faces.keys())
        if unknown:
            raise BadSetting(
                f"face: found {', '.join(unknown)}; right: one of {', '.join(sorted(network.faces))}"
            )
        self.network, self.conditions, self.rule = network, conditions, rule
        self.matrix = network.banded()
        self.radiates = any(around.emissivity for around in conditions.values())
        self.factors: dict[float, Floats] = {}
        self.factored_at: Floats | None = None
        self.entered = dict.fromkeys(conditions, 0.0)
        self.moved = 0.0
        self.steps = self.rejected = 0
        self.accepted = False

    def first_step(self, seconds: float) -> float:
        """The step to begin with."""
        return self.rule.fixed_seconds or min(FIRST_STEP_SECONDS, seconds or FIRST_STEP_SECONDS)

    def conducted(self, state: Floats) -> Floats:
        """Power that each node gets from its neighbours, W."""
        net = self.network
        flow = net.conductance_wk * (state[net.second] - state[net.first])
        return np.asarray(np.bincount(net.first, flow, net.size) - np.bincount(net.second, flow, net.size))

    def power(self, state: Floats, now: float) -> tuple[Floats, dict[str, float]]:
        """Power into each node, and the sum through each face."""
        total, through = self.conducted(state), {}
        for name, around in self.conditions.items():
            face = self.network.faces[name]
            entering = face_power(face, around, state, now)
            np.add.at(total, face.nodes, entering)
            through[name] = float(entering.sum())
        return total, through

    def factor(self, step: float, state: Floats) -> Floats:
        """The factor of C + d·Δt·J, from the last time where the step was the same and J has not moved."""
        if self.radiates and self.factored_at is not None and np.abs(state - self.factored_at).max() > 20.0:
            self.factors.clear()
        if step not in self.factors:
            if self.factored_at is None or not self.factors:
                self.factored_at = state
            matrix = SHARE * step * self.matrix
            matrix[0] += self.network.capacity_jk
            for name, around in self.conditions.items():
                face = self.network.faces[name]
                np.add.at(
                    matrix[0],
                    face.nodes,
                    SHARE * step * face_conductance(face, around, self.factored_at),
                )
            self.factors[step] = self._cholesky(matrix)
        return self.factors[step]

    def _cholesky(self, matrix: Floats) -> Floats:
        try:
            return np.asarray(cholesky_banded(matrix, lower=True, overwrite_ab=True, check_finite=False))
        except LinAlgError:
            raise BadSetting(
                "network: found a node without heat capacity or a figure that is no number; "
                "right: positive thickness, conductivity, density and heat capacity"
            ) from None

    def stage(self, known: Floats, guess: Floats, now: float, step: float, factor: Floats) -> Stage:
        """Solve C·(z − known) = d·Δt·P(z) by corrections with the factor."""
        state, capacity = guess, self.network.capacity_jk
        for _ in range(MOST_CORRECTIONS):
            total, through = self.power(state, now)
            lacking = SHARE * step * total - capacity * (state - known)
            change = cho_solve_banded((factor, True), lacking, check_finite=False)
            state = state + change
            if not self.radiates or np.abs(change).max() < SOLVED_K:
                break
        total, through = self.power(state, now)
        return Stage(state, total, through)

    def advance(self, state: Floats, now: float, taken: float, step: float) -> tuple[Floats, float]:
        """One step tried: the new state and the step to try next; `accepted` says which it is."""
        factor = self.factor(taken, state)
        capacity = self.network.capacity_jk
        power, through = self.power(state, now)
        begin = Stage(state, power, through)
        known = state + taken * SHARE * power / capacity
        middle = self.stage(known, state, now + GAMMA * taken, taken, factor)
        known = state + taken * WEIGHT * (begin.power + middle.power) / capacity
        end = self.stage(known, middle.state, now + taken, taken, factor)
        new_step = self.judge(begin, middle, end, taken, step, factor)
        if self.accepted:
            self.count(taken, begin, middle, end)
            return end.state, new_step
        return state, new_step

    def judge(
        self, begin: Stage, middle: Stage, end: Stage, taken: float, step: float, factor: Floats
    ) -> float:
        """Set `accepted` by the error of the step and give the next step, which changes by powers of two."""
        self.accepted = True
        if self.rule.fixed_seconds is not None:
            return self.rule.fixed_seconds
        first, second, third = (
            (own - other) * stage.power
            for own, other, stage in zip(
                (WEIGHT, WEIGHT, SHARE), COMPANION, (begin, middle, end), strict=True
            )
        )
        error = cho_solve_banded((factor, True), taken * (first + second + third), check_finite=False)
        size = float(np.abs(error).max()) / self.rule.tolerance_k
        if size > 1.0:
            self.accepted = False
            self.rejected += 1
            return taken * 0.5 ** max(1, math.ceil(math.log2(size) / 3.0))
        if size < 0.08 and taken >= step:
            return min(2.0 * step, self.rule.largest_seconds)
        return step

    def count(self, taken: float, begin: Stage, middle: Stage, end: Stage) -> None:
        """Add the heat of an accepted step."""
        self.steps += 1
        for name in self.entered:
            powers = [stage.through[name] for stage in (begin, middle, end)]
            self.entered[name] += taken * (WEIGHT * (powers[0] + powers[1]) + SHARE * powers[2])
            self.moved += taken * (WEIGHT * (abs(powers[0]) + abs(powers[1])) + SHARE * abs(powers[2]))

    def history(self, times: list[float], states: list[Floats]) -> History:
        """The run, with its balance checked."""
        stored = self.network.stored_j(states[-1], states[0])
        run = History(
            np.array(times), np.array(states), self.entered, stored, self.moved, self.steps, self.rejected
        )
        if not run.balance <= BALANCE and abs(stored) > 1e-12:
            raise BadSetting(
                f"energy: found stored and entered heat {run.balance:.1e} apart; "
                "right: a tolerance_k above 1e-8 and figures within the range of materials"
            )
        return run


class Stage(msgspec.Struct, frozen=True, eq=False):
    """The state at one stage, its power by node and through each face."""

    state: Floats
    power: Floats
    through: dict[str, float]
