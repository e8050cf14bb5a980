"""Accuracy against time of the heat model, beside a stiff integrator (scipy) and finite volumes (FiPy).

    PYTHONPATH=src:tests .venv/bin/python -P benchmarks/heat.py

Everything is measured side by side in one run on one stack; compare ratios, not
seconds. Errors are taken against the exact solution in time on a grid four times
as fine. The draws are measured on the section of a demo device.
"""

from __future__ import annotations

import os
import platform
import time
import warnings
from functools import partial

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from scipy.integrate import solve_ivp
from scipy.sparse import csc_matrix

from heat.test_oracles import FAR, HOT, STACK, fipy_stack
from midframe import demo
from midframe.heat import (
    PlanSettings,
    Steps,
    confidence,
    goal_of,
    heat_model,
    integrate,
    make_plan,
    stack_network,
)
from midframe.heat.exact import exact
from midframe.heat.stack import borders

SECONDS = 120.0
AROUND = {"hot": HOT, "far": FAR}


def places(refine):
    """Depth of every node of the stack, m."""
    depth, begin = [0.0], 0.0
    for layer, (first, last) in zip(STACK, borders(STACK, refine), strict=True):
        depth += (begin + layer.thickness_m * np.arange(1, last - first + 1) / (last - first)).tolist()
        begin += layer.thickness_m
    return np.array(depth)


def timed(call, repeat=5):
    """Least seconds of some calls, and what they returned."""
    best, value = np.inf, None
    for _ in range(repeat):
        start = time.perf_counter()
        value = call()
        best = min(best, time.perf_counter() - start)
    return best, value


def stiff(method, tolerance):
    """The same network by a general stiff integrator with its sparse matrix."""
    net = stack_network(STACK)
    matrix, drive = net.dense(), np.zeros(net.size)
    for name, around in AROUND.items():
        node = net.faces[name].nodes[0]
        matrix[node, node] += around.coefficient_w_m2k
        drive[node] += around.coefficient_w_m2k * around.air_c
    slope = csc_matrix(-matrix / net.capacity_jk[:, None])
    drive = drive / net.capacity_jk
    found = solve_ivp(
        lambda _t, y: slope @ y + drive,
        (0.0, SECONDS),
        np.full(net.size, 22.0),
        method=method,
        jac=slope,
        rtol=tolerance * 1e-2,
        atol=tolerance,
    )
    return found.y[:, -1]


def rows(truth, fine):
    """Name, seconds, greatest error in K of every solver."""
    own, net = places(1), stack_network(STACK)

    def error(depth, state):
        return float(np.abs(np.interp(depth, fine, truth) - state).max())

    for tolerance in (2e-2, 5e-3, 1e-3, 2e-4):
        rule = Steps(tolerance_k=tolerance)
        seconds, run = timed(lambda r=rule: integrate(net, 22.0, AROUND, SECONDS, steps=r))
        yield f"midframe, {tolerance:g} K a step", seconds, error(own, run.final_c)
    seconds, state = timed(lambda: exact(net, 22.0, AROUND, np.array([SECONDS]))[0])
    yield "midframe, exact in time", seconds, error(own, state)
    for method in ("BDF", "Radau"):
        for tolerance in (1e-2, 1e-4):
            seconds, state = timed(lambda m=method, tol=tolerance: stiff(m, tol), 2)
            yield f"scipy {method}, {tolerance:g} K", seconds, error(own, state)
    for steps in (20, 80, 320):
        seconds, (depth, state) = timed(lambda n=steps: fipy_stack(SECONDS, n), 1)
        yield f"FiPy, {steps} steps", seconds, error(depth, state)


def draws():
    """Seconds of ten thousand draws on the section of a demo device."""
    for device, joint in (("tern-3", "battery-bond"), ("tern-3", "lens-bond")):
        model = heat_model(demo.load(device), joint)
        asked = PlanSettings(sources=("hairdryer",))
        plan_seconds, plan = timed(lambda m=model, a=asked: make_plan(m, a), 1)
        goal = goal_of(model, asked)
        run = partial(confidence, model, plan.best, goal, draws=10_000)
        seconds, sure = timed(run, 2)
        nodes = len(model.grid.across_mm)
        print(f"{device} {joint}: {nodes} nodes, plan of one source {plan_seconds:.2f} s,", end=" ")
        print(f"10000 draws {seconds:.2f} s, fast against full {sure.largest_difference_k:.2f} K")


def main():
    """Print both tables."""
    warnings.simplefilter("ignore")
    print(
        f"Python {platform.python_version()}, numpy {np.__version__}, {SECONDS:g} s of a stack of six layers"
    )
    truth = exact(stack_network(STACK, 4), 22.0, AROUND, np.array([SECONDS]))[0]
    found = list(rows(truth, places(4)))
    for name, seconds, error in found:
        print(f"{name:>28}{1000 * seconds:12.2f} ms{error:12.5f} K")
    for kind, ours in (("adaptive", found[:4]), ("exact in time", found[4:5])):
        for name, seconds, error in found[5:]:
            equal = min((s for _, s, e in ours if e <= 1.01 * error), default=None)
            told = "no run as accurate" if equal is None else f"{seconds / equal:.0f} times as fast"
            print(f"{kind} against {name}: {told} at no greater error")
    draws()


if __name__ == "__main__":
    main()
