"""The same network solved exactly in time by eigenvalues: linear conditions only, and as a check."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from scipy.linalg import eigh

from midframe.faults import BadSetting
from midframe.heat.network import Floats, Network, Surroundings


def exact(
    network: Network, start_c: Floats | float, conditions: Mapping[str, Surroundings], seconds: Floats
) -> Floats:
    """Temperatures at given times, times × nodes, without any error of time stepping.

    C·dT/dt = −K·T + b is turned by S = C^(−1/2)·K·C^(−1/2) = Q·Λ·Qᵀ into independent
    equations, each a sum of exponentials.

    Parameters
    ----------
    network
        A few hundred nodes at most: the cost grows with the third power.
    start_c
        Temperature of every node at the start, °C.
    conditions
        Without radiation and without settling air.
    seconds
        Times, s.

    Raises
    ------
    BadSetting
        Where a condition is not linear and constant.

    Notes
    -----
    >>> from midframe.heat.stack import Layer, stack_network
    >>> net = stack_network([Layer("plate", 0.003, 177.0, 2770.0, 875.0)])
    >>> around = {"hot": Surroundings(air_c=100.0, coefficient_w_m2k=50.0)}
    >>> exact(net, 20.0, around, np.array([0.0, 1e5]))[:, 0].round(3).tolist()
    [20.0, 100.0]

    References
    ----------
    textbook: modal solution of a linear system.
    """
    matrix, source = network.dense(), np.zeros(network.size)
    for name, around in conditions.items():
        if around.emissivity or np.isfinite(around.settling_seconds):
            raise BadSetting(
                f"face {name}: found radiation or settling air; right: constant, linear conditions"
            )
        face = network.faces[name]
        np.add.at(matrix, (face.nodes, face.nodes), face.area_m2 * around.coefficient_w_m2k)
        np.add.at(
            source,
            face.nodes,
            face.area_m2 * (around.coefficient_w_m2k * around.air_c + around.flux_w_m2),
        )
    root = np.sqrt(network.capacity_jk)
    values, vectors = eigh(matrix / root[:, None] / root[None, :])
    start = np.broadcast_to(np.asarray(start_c, dtype=float), (network.size,))
    begun, driven = vectors.T @ (root * start), vectors.T @ (source / root)
    decay = np.maximum(values, 0.0)[None, :] * np.asarray(seconds, dtype=float)[:, None]
    times = np.asarray(seconds, dtype=float)[:, None]
    filled = np.where(decay > 1e-12, -np.expm1(-decay) / np.where(decay > 1e-12, decay, 1.0) * times, times)
    modal = np.exp(-decay) * begun + filled * driven
    return np.asarray((modal @ vectors.T) / root)
