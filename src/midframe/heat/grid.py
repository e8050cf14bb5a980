"""The section as a network: nodes on the corners of small rectangles, graded towards the bond.

Every rectangle gives a quarter of its heat capacity to each of its corners and
conducts along its four sides; so conductivities and capacities enter the network
linearly, region by region, which the draws of the uncertainty make use of.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise

import msgspec
import numpy as np

from midframe.faults import BadSetting
from midframe.heat.network import Face, Floats, Integers, Network
from midframe.heat.section import VOID, Section

FINEST_MM, COARSEST_MM, GROWTH = 0.35, 3.0, 1.35
"""Sizes of cells across: at the bond, at most, and how fast they grow away from it (own construction)."""

ROW_MM = 0.8
"""Largest cell in depth (own construction; the error it leaves is measured in tests)."""

RIM_MM = 5.0
"""The band along the edge that a card over the middle leaves open (common practice, no source)."""


class Grid(msgspec.Struct, frozen=True, eq=False):
    """Nodes, and what each region of the section gives to their edges and capacities.

    Attributes
    ----------
    across_mm, depth_mm
        Place of every node.
    first, second, edge_factor, edge_figure
        Edges; conductance = factor × figure, where `edge_figure` is 2·region for the conductivity
        through the thickness and 2·region + 1 for that in the plane.
    capacity_node, capacity_factor, capacity_region
        Shares of capacity by node and region.
    faces
        `hot` (heated band along the edge), `masked` (the rest of the heated side), `far`, `edge`.
    of_region
        Nodes of every region.
    """

    across_mm: Floats
    depth_mm: Floats
    first: Integers
    second: Integers
    edge_factor: Floats
    edge_figure: Integers
    capacity_node: Integers
    capacity_factor: Floats
    capacity_region: Integers
    faces: Mapping[str, Face]
    of_region: tuple[Integers, ...]
    regions: int

    def network(self, through: Floats, plane: Floats, capacity: Floats) -> Network:
        """The network with these figures by region, W/(m·K) and J/(m³·K), per metre of edge."""
        figures = np.empty(2 * self.regions)
        figures[0::2], figures[1::2] = through, plane
        size = len(self.across_mm)
        heat = tallied(self.capacity_node, self.capacity_factor * capacity[self.capacity_region], size)
        flow = self.edge_factor * figures[self.edge_figure]
        return Network(heat, self.first, self.second, flow, self.faces)


def grid_of(found: Section, *, refine: int = 1, band_mm: float = RIM_MM) -> Grid:
    """The grid of a section; `refine` divides every cell, `band_mm` is the heated band along the edge.

    >>> from midframe import demo
    >>> from midframe.heat.section import section
    >>> grid = grid_of(section(demo.load("tern-3"), "back-bond"))
    >>> sorted(grid.faces)
    ['edge', 'far', 'hot', 'masked']
    """
    if refine < 1:
        raise BadSetting(f"refine: found {refine}; right: 1 or more")
    bond = found.numbers("bond")
    across, columns = columns_of(found, bond, band_mm, refine)
    depth, rows = rows_of(found, refine)
    region = np.array(found.cells)[np.ix_(columns, rows)]
    return Mesh(np.array(across), np.array(depth), region, found, band_mm).grid()


def columns_of(
    found: Section, bond: frozenset[int], band_mm: float, refine: int
) -> tuple[list[float], list[int]]:
    """Lines across, fine at the bond and coarse away from it, and the column of the section of each cell."""
    lines = list(found.across_mm)
    here = [c for c, column in enumerate(found.cells) if bond & set(column)]
    low, high = lines[here[0]], lines[here[-1] + 1]
    rim = found.bond.width_mm is not None
    across, columns = [lines[0]], []
    for column, (start, end) in enumerate(pairwise(lines)):
        stops = [end]
        if start < band_mm < end and min(band_mm - start, end - band_mm) > 0.05:
            stops = [band_mm, end]
        for stop in stops:
            begin = across[-1]
            away = max(0.0, low - stop, begin - high) if rim else min(begin, found.cut.length_mm - stop)
            size = min(COARSEST_MM, FINEST_MM + (GROWTH - 1.0) * away)
            count = refine * max(1, math.ceil((stop - begin) / (1.6 * size) - 1e-9))
            across += [begin + (stop - begin) * (k + 1) / count for k in range(count)]
            columns += [column] * count
    return across, columns


def rows_of(found: Section, refine: int) -> tuple[list[float], list[int]]:
    """Lines of depth and the row of the section of each cell; the bond has a line in its middle."""
    lines, bond = list(found.depth_mm), found.numbers("bond")
    inside = [r for r in range(len(lines) - 1) if any(column[r] in bond for column in found.cells)]
    middle = (lines[inside[0]] + lines[inside[-1] + 1]) / 2.0
    depth, rows = [lines[0]], []
    for row, (start, end) in enumerate(pairwise(lines)):
        cut = row in inside and start + 1e-9 < middle < end - 1e-9
        for stop in (middle, end) if cut else (end,):
            begin = depth[-1]
            count = math.ceil((stop - begin) / ROW_MM - 1e-9)
            if row in inside:
                count = max(count, math.ceil(4 / (len(inside) + 1)))
            count *= refine
            depth += [begin + (stop - begin) * (k + 1) / count for k in range(count)]
            rows += [row] * count
    return depth, rows


class Mesh:
    """Cells of a grid while their shares are collected."""

    def __init__(
        self, across: Floats, depth: Floats, region: Integers, found: Section, band_mm: float
    ) -> None:
        self.across, self.depth, self.region = across, depth, region
        self.found, self.band_mm = found, band_mm
        columns, rows = region.shape
        self.solid = region != VOID
        used = np.zeros((columns + 1, rows + 1), dtype=bool)
        for right in (0, 1):
            for down in (0, 1):
                used[right : columns + right, down : rows + down] |= self.solid
        self.node = np.full(used.shape, -1)
        self.node[used] = np.arange(int(used.sum()))
        self.wide, self.high = np.diff(across) / 1e3, np.diff(depth) / 1e3

    def corners(self, right: int, down: int) -> Integers:
        """The node at one corner of every solid cell."""
        columns, rows = self.region.shape
        return np.asarray(self.node[right : columns + right, down : rows + down][self.solid])

    def grid(self) -> Grid:
        """All shares, edges between the same nodes kept apart by region."""
        wide = np.broadcast_to(self.wide[:, None], self.region.shape)[self.solid]
        high = np.broadcast_to(self.high[None, :], self.region.shape)[self.solid]
        region = self.region[self.solid]
        first, second, factor, figure = [], [], [], []
        for right in (0, 1):
            first.append(self.corners(right, 0))
            second.append(self.corners(right, 1))
            factor.append(wide / 2.0 / high)
            figure.append(2 * region)
        for down in (0, 1):
            first.append(self.corners(0, down))
            second.append(self.corners(1, down))
            factor.append(high / 2.0 / wide)
            figure.append(2 * region + 1)
        corners = [self.corners(right, down) for right in (0, 1) for down in (0, 1)]
        places = np.argwhere(self.node >= 0)
        return Grid(
            self.across[places[:, 0]],
            self.depth[places[:, 1]],
            *summed(first, second, factor, figure),
            *shares(corners, [wide * high / 4.0] * 4, [region] * 4),
            self.faces(),
            tuple(self.nodes_of(number) for number in range(len(self.found.regions))),
            len(self.found.regions),
        )

    def nodes_of(self, number: int) -> Integers:
        """The nodes on the cells of one region."""
        here = region_corners(self.node, self.region == number)
        return np.unique(here)

    def faces(self) -> dict[str, Face]:
        """Sides of cells that meet the open: towards the heat, away from it, at the edge."""
        heated = self.open_sides(down=self.found.side == "back")
        middle = (self.across[:-1] + self.across[1:]) / 2.0
        band = np.broadcast_to((middle < self.band_mm)[:, None], self.region.shape)
        far = self.open_sides(down=self.found.side != "back")
        return {
            "hot": self.flat(heated & band, self.found.side == "back"),
            "masked": self.flat(heated & ~band, self.found.side == "back"),
            "far": self.flat(far, self.found.side != "back"),
            "edge": self.upright(),
        }

    def open_sides(self, *, down: bool) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Solid cells with nothing beneath (down: towards the back) or above them."""
        nothing = np.ones_like(self.solid)
        if down:
            nothing[:, :-1] = ~self.solid[:, 1:]
        else:
            nothing[:, 1:] = ~self.solid[:, :-1]
        return np.asarray(self.solid & nothing)

    def flat(self, cells: np.ndarray[tuple[int, ...], np.dtype[np.bool_]], down: bool) -> Face:
        """A face made of the lower or upper sides of cells."""
        columns, rows = np.nonzero(cells)
        row = rows + (1 if down else 0)
        half = self.wide[columns] / 2.0
        return face_of([self.node[columns, row], self.node[columns + 1, row]], [half, half])

    def upright(self) -> Face:
        """Sides of cells across that meet the open; the middle of the device is no such side."""
        nothing_left, nothing_right = np.ones_like(self.solid), np.zeros_like(self.solid)
        nothing_left[1:] = ~self.solid[:-1]
        nothing_right[:-1] = ~self.solid[1:]
        nodes, areas = [], []
        for cells, side in ((self.solid & nothing_left, 0), (self.solid & nothing_right, 1)):
            columns, rows = np.nonzero(cells)
            half = self.high[rows] / 2.0
            nodes += [self.node[columns + side, rows], self.node[columns + side, rows + 1]]
            areas += [half, half]
        return face_of(nodes, areas)


def region_corners(node: Integers, cells: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> Integers:
    """Nodes at the corners of cells."""
    columns, rows = np.nonzero(cells)
    return np.concatenate([node[columns + right, rows + down] for right in (0, 1) for down in (0, 1)])


def face_of(nodes: Sequence[Integers], areas: Sequence[Floats]) -> Face:
    """A face with the areas of the same node added up."""
    every, area = np.concatenate(nodes), np.concatenate(areas)
    kept, place = np.unique(every, return_inverse=True)
    return Face(kept, tallied(place, area, len(kept)))


def summed(
    first: list[Integers], second: list[Integers], factor: list[Floats], figure: list[Integers]
) -> tuple[Integers, Integers, Floats, Integers]:
    """Edges with the factors of the same nodes and figure added up."""
    keys = np.stack([np.concatenate(first), np.concatenate(second), np.concatenate(figure)])
    kept, place = np.unique(keys, axis=1, return_inverse=True)
    return kept[0], kept[1], tallied(place, np.concatenate(factor), kept.shape[1]), kept[2]


def shares(
    nodes: list[Integers], factor: list[Floats], region: list[Integers]
) -> tuple[Integers, Floats, Integers]:
    """Capacities with the shares of the same node and region added up."""
    keys = np.stack([np.concatenate(nodes), np.concatenate(region)])
    kept, place = np.unique(keys, axis=1, return_inverse=True)
    return kept[0], tallied(place, np.concatenate(factor), kept.shape[1]), kept[1]


def tallied(place: Integers, amounts: Floats, size: int) -> Floats:
    """Amounts added up by place."""
    total = np.zeros(size)
    np.add.at(total, place.ravel(), amounts)
    return total
