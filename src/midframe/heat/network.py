"""What is integrated: heat capacities joined by conductances, with faces to the surroundings.

A stack of layers and a section of a device both become a network. Per metre of
length for a section, per square metre for a stack; the words below say watt and
joule for both.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Integers: TypeAlias = NDArray[np.int64]

KELVIN = 273.15
STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
"""Stefan–Boltzmann constant [bipm-si-brochure, 2.3.1]: it follows from exact constants of the SI."""


class Face(msgspec.Struct, frozen=True, eq=False):
    """Nodes that touch the surroundings, and the area (m²) by which each of them does."""

    nodes: Integers
    area_m2: Floats


class Surroundings(msgspec.Struct, frozen=True):
    """What a face meets: moving or still air or a warm body, radiation to a room, a flux.

    Parameters
    ----------
    air_c, coefficient_w_m2k
        Temperature of air or body at the face, and the coefficient of heat transfer to it.
    settles_c, settling_seconds
        Where `settling_seconds` is finite, the body runs from `air_c` towards `settles_c` with this
        time constant (a heat bag that cools).
    emissivity, room_c
        Radiation to large surroundings at `room_c`; 0 for none.
    flux_w_m2
        A flux into the face.
    """

    air_c: float = 20.0
    coefficient_w_m2k: float = 0.0
    settles_c: float = 20.0
    settling_seconds: float = math.inf
    emissivity: float = 0.0
    room_c: float = 20.0
    flux_w_m2: float = 0.0

    def air_at(self, seconds: float) -> float:
        """Temperature of air or body after so many seconds.

        >>> Surroundings(air_c=70, settles_c=20, settling_seconds=600).air_at(600)
        38.39...
        """
        if math.isinf(self.settling_seconds):
            return self.air_c
        return self.settles_c + (self.air_c - self.settles_c) * math.exp(-seconds / self.settling_seconds)


class Network(msgspec.Struct, frozen=True, eq=False):
    """Nodes with their heat capacity (J/K), edges with their conductance (W/K), named faces."""

    capacity_jk: Floats
    first: Integers
    second: Integers
    conductance_wk: Floats
    faces: Mapping[str, Face]

    @property
    def size(self) -> int:
        """How many nodes there are."""
        return len(self.capacity_jk)

    @property
    def band(self) -> int:
        """Greatest distance of two joined nodes: the half width of the band of the matrix."""
        return int(np.max(np.abs(self.first - self.second), initial=0))

    def banded(self) -> Floats:
        """The conductance matrix in lower banded form, (band + 1) × nodes."""
        low, high = np.minimum(self.first, self.second), np.maximum(self.first, self.second)
        matrix = np.zeros((self.band + 1, self.size))
        np.add.at(matrix, (high - low, low), -self.conductance_wk)
        np.add.at(matrix[0], low, self.conductance_wk)
        np.add.at(matrix[0], high, self.conductance_wk)
        return matrix

    def dense(self) -> Floats:
        """The conductance matrix, nodes × nodes."""
        matrix = np.zeros((self.size, self.size))
        for sign, rows, columns in (
            (1.0, self.first, self.first),
            (1.0, self.second, self.second),
            (-1.0, self.first, self.second),
            (-1.0, self.second, self.first),
        ):
            np.add.at(matrix, (rows, columns), sign * self.conductance_wk)
        return matrix

    def stored_j(self, temperature_c: Floats, from_c: Floats | float) -> float:
        """Heat stored above another state."""
        return float(self.capacity_jk @ (temperature_c - from_c))


def face_power(face: Face, around: Surroundings, temperature_c: Floats, seconds: float) -> Floats:
    """Power into each node of a face, W.

    P = A·(h·(T_air − T) + ε·σ·(T_room⁴ − T⁴) + q), temperatures of radiation in kelvin.

    >>> face = Face(np.array([0]), np.array([1.0]))
    >>> hot = Surroundings(emissivity=0.9, room_c=20.0)
    >>> face_power(face, hot, np.array([80.0]), 0.0).round(1).tolist()
    [-416.9]

    References
    ----------
    [bench-physics-calc, linearised radiation]: 416.87 W/m² at ε 0.9, 80 °C to 20 °C.
    """
    surface = temperature_c[face.nodes]
    flux = around.coefficient_w_m2k * (around.air_at(seconds) - surface) + around.flux_w_m2
    if around.emissivity:
        room, hot = around.room_c + KELVIN, surface + KELVIN
        flux = flux + around.emissivity * STEFAN_BOLTZMANN_W_M2K4 * (room**4 - hot**4)
    return np.asarray(face.area_m2 * flux)


def face_conductance(face: Face, around: Surroundings, temperature_c: Floats) -> Floats:
    """How much less power a node of a face takes for each kelvin that it is warmer, W/K."""
    slope = np.full(len(face.nodes), around.coefficient_w_m2k)
    if around.emissivity:
        hot = temperature_c[face.nodes] + KELVIN
        slope = slope + 4.0 * around.emissivity * STEFAN_BOLTZMANN_W_M2K4 * hot**3
    return np.asarray(face.area_m2 * slope)


def radiation_w_m2k(emissivity: float, surface_c: float, room_c: float) -> float:
    """Coefficient of radiation as if it were convection: q / (T_s − T_room).

    h_r = ε·σ·(T_s + T_room)·(T_s² + T_room²), temperatures in kelvin.

    >>> round(radiation_w_m2k(0.9, 80.0, 20.0), 2)
    6.95

    References
    ----------
    textbook; value [bench-physics-calc, linearised radiation].
    """
    hot, room = surface_c + KELVIN, room_c + KELVIN
    return emissivity * STEFAN_BOLTZMANN_W_M2K4 * (hot + room) * (hot**2 + room**2)
