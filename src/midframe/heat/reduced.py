"""The network in a few shapes: fast enough for thousands of draws, and measured against the whole.

Conductivities, capacities and coefficients enter the network linearly, so each
region's matrix is projected once on a small basis; a draw is then a sum of small
matrices and is solved exactly in time by its eigenvalues. The basis spans the
steady answers of shifted networks, (K + s·C)⁻¹·b, for many s and some draws.

References: own construction from the textbook method of reduced bases.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import numpy as np
from scipy.linalg import cho_solve_banded, cholesky_banded

from midframe.heat.grid import Grid
from midframe.heat.network import Floats, Integers

SHIFTS_SECONDS = (1.5, 5.0, 15.0, 40.0, 100.0, 250.0, 700.0, 3000.0)
KEPT = 1e-5
"""Shapes whose share is below this are left out (own construction; the error is measured in every run)."""

MOST_SHAPES = 26
FACES = ("hot", "masked", "far", "edge")


class Draws(msgspec.Struct, frozen=True, eq=False):
    """Figures of n draws: by region (n × regions), by face (n × 4), the room, a time constant or infinity."""

    through_w_mk: Floats
    plane_w_mk: Floats
    capacity_j_m3k: Floats
    coefficient_w_m2k: Floats
    above_room_k: Floats
    settling_seconds: Floats

    @property
    def count(self) -> int:
        """How many draws."""
        return len(self.settling_seconds)

    def part(self, which: slice | Integers) -> Draws:
        """Some of them."""
        return Draws(*(getattr(self, name)[which] for name in self.__struct_fields__))


class Reduced(msgspec.Struct, frozen=True, eq=False):
    """Projected matrices: per figure of conduction, per region's capacity, per face; and the shapes."""

    shapes: Floats
    conduction: Floats
    capacity: Floats
    face: Floats
    drive: Floats


def reduce(grid: Grid, draws: Draws) -> Reduced:
    """Build the basis from some draws and project the network on it."""
    snapshots = [column for number in range(draws.count) for column in snapshots_of(grid, draws, number)]
    heat = grid.network(draws.through_w_mk[0], draws.plane_w_mk[0], draws.capacity_j_m3k[0]).capacity_jk
    root = np.sqrt(heat)
    table = np.array(snapshots).T * root[:, None]
    table /= np.linalg.norm(table, axis=0)
    left, sizes, _ = np.linalg.svd(table, full_matrices=False)
    kept = min(MOST_SHAPES, int(np.sum(sizes > KEPT * sizes[0])))
    return projected(grid, left[:, :kept] / root[:, None])


def snapshots_of(grid: Grid, draws: Draws, number: int) -> list[Floats]:
    """Answers of one draw's network to its own drive, for every shift."""
    net = grid.network(draws.through_w_mk[number], draws.plane_w_mk[number], draws.capacity_j_m3k[number])
    matrix, drive = net.banded(), np.zeros(net.size)
    for place, name in enumerate(FACES):
        face, coefficient = grid.faces[name], draws.coefficient_w_m2k[number, place]
        np.add.at(matrix[0], face.nodes, face.area_m2 * coefficient)
        np.add.at(drive, face.nodes, face.area_m2 * draws.above_room_k[number, place])
    found = []
    for seconds in SHIFTS_SECONDS:
        shifted = matrix.copy()
        shifted[0] += net.capacity_jk / seconds
        factor = cholesky_banded(shifted, lower=True, overwrite_ab=True, check_finite=False)
        found.append(np.asarray(cho_solve_banded((factor, True), drive, check_finite=False)))
    return found


def projected(grid: Grid, shapes: Floats) -> Reduced:
    """Every matrix on the basis."""
    count, size = shapes.shape[1], grid.regions
    difference = shapes[grid.first] - shapes[grid.second]
    conduction = np.zeros((2 * size, count, count))
    for figure in range(2 * size):
        own = grid.edge_figure == figure
        conduction[figure] = difference[own].T @ (grid.edge_factor[own, None] * difference[own])
    capacity = np.zeros((size, count, count))
    for region in range(size):
        own = grid.capacity_region == region
        there = shapes[grid.capacity_node[own]]
        capacity[region] = there.T @ (grid.capacity_factor[own, None] * there)
    face, drive = np.zeros((len(FACES), count, count)), np.zeros((len(FACES), count))
    for place, name in enumerate(FACES):
        there, area = shapes[grid.faces[name].nodes], grid.faces[name].area_m2
        face[place] = there.T @ (area[:, None] * there)
        drive[place] = area @ there
    return Reduced(shapes, conduction, capacity, face, drive)


def rises(model: Reduced, draws: Draws, nodes: Integers, seconds: Floats) -> Floats:
    """Rise above the room at nodes and times for every draw: draws × nodes × times, K."""
    figures = np.empty((draws.count, len(model.conduction)))
    figures[:, 0::2], figures[:, 1::2] = draws.through_w_mk, draws.plane_w_mk
    shape = model.conduction.shape[1:]
    matrix = figures @ model.conduction.reshape(len(model.conduction), -1)
    matrix += draws.coefficient_w_m2k @ model.face.reshape(len(FACES), -1)
    heat = draws.capacity_j_m3k @ model.capacity.reshape(len(model.capacity), -1)
    drive = draws.above_room_k @ model.drive
    lower = np.linalg.cholesky(heat.reshape(-1, *shape))
    inverse = np.linalg.inv(lower)
    values, vectors = np.linalg.eigh(inverse @ matrix.reshape(-1, *shape) @ inverse.transpose(0, 2, 1))
    modes = inverse.transpose(0, 2, 1) @ vectors
    driven = np.einsum("nrm,nr->nm", modes, drive)
    grown = growth(np.maximum(values, 1e-12), draws.settling_seconds, seconds) * driven[:, :, None]
    return np.asarray((model.shapes[nodes] @ modes) @ grown)


def growth(rates: Floats, settling: Floats, seconds: Floats) -> Floats:
    """Integral of exp(−λ(t − s))·exp(−s/τ) from 0 to t, for every mode and time."""
    decay = np.exp(-rates[:, :, None] * seconds[None, None, :])
    if np.isinf(settling).all():
        return np.asarray((1.0 - decay) / rates[:, :, None])
    slow = 1.0 / settling[:, None]
    apart = rates - slow
    apart = np.where(np.abs(apart) < 1e-9, 1e-9, apart)
    cooling = np.exp(-seconds[None, None, :] * slow[:, :, None])
    return np.asarray((cooling - decay) / apart[:, :, None])


def chunks(count: int, size: int) -> Sequence[slice]:
    """The draws in parts.

    >>> chunks(5, 2)
    [slice(0, 2, None), slice(2, 4, None), slice(4, 5, None)]
    """
    return [slice(start, min(start + size, count)) for start in range(0, count, size)]
