"""A stack of layers, one square metre of it: the 1-D model through the thickness."""

from __future__ import annotations

import math
from collections.abc import Sequence

import msgspec
import numpy as np

from midframe.faults import BadSetting
from midframe.heat.network import Face, Network

LARGEST_CELL_MM = 0.25
FEWEST_CELLS = 4


class Layer(msgspec.Struct, frozen=True):
    """One layer: name, thickness (m), conductivity (W/(m·K)), density (kg/m³), heat capacity (J/(kg·K)).

    `contact_m2kw` is the contact resistance to the layer before it (m²·K/W), 0 for a perfect contact.
    """

    name: str
    thickness_m: float
    conductivity_w_mk: float
    density_kg_m3: float
    capacity_j_kgk: float
    contact_m2kw: float = 0.0

    @property
    def resistance_m2kw(self) -> float:
        """Resistance of one square metre, contact included.

        >>> round(Layer("foam", 0.0003, 0.08, 500.0, 1500.0).resistance_m2kw, 6)
        0.00375
        """
        return self.thickness_m / self.conductivity_w_mk + self.contact_m2kw

    @property
    def capacity_j_m2k(self) -> float:
        """Heat capacity of one square metre."""
        return self.thickness_m * self.density_kg_m3 * self.capacity_j_kgk


def cells_of(layer: Layer, refine: int) -> int:
    """How many cells a layer is cut into."""
    return refine * max(FEWEST_CELLS, math.ceil(layer.thickness_m * 1000.0 / LARGEST_CELL_MM - 1e-9))


def stack_network(layers: Sequence[Layer], refine: int = 1) -> Network:
    """The network of a stack: nodes on the borders of cells, two of them where a contact resists.

    Parameters
    ----------
    layers
        From the heated face inwards.
    refine
        Every layer is cut into so many times its usual number of cells.

    Returns
    -------
    Network
        With the faces `hot` (outside of the first layer) and `far` (outside of the last).

    Raises
    ------
    BadSetting
        Where a figure of a layer is not positive.

    Notes
    -----
    >>> glass, foam = Layer("glass", 8e-4, 1.0, 2500, 750), Layer("foam", 3e-4, 0.08, 500, 1500, 1e-4)
    >>> net = stack_network([glass, foam])
    >>> float(net.capacity_jk.sum())
    1725.0
    """
    if not layers:
        raise BadSetting("layers: found none; right: at least one layer")
    capacity, edges = [0.0], []
    for number, layer in enumerate(layers):
        check(layer)
        if number and layer.contact_m2kw > 0:
            edges.append(1.0 / layer.contact_m2kw)
            capacity.append(0.0)
        count = cells_of(layer, refine)
        part = layer.capacity_j_m2k / count / 2.0
        for _ in range(count):
            edges.append(layer.conductivity_w_mk * count / layer.thickness_m)
            capacity[-1] += part
            capacity.append(part)
    last = len(capacity) - 1
    one = np.ones(1)
    return Network(
        np.array(capacity),
        np.arange(last),
        np.arange(1, last + 1),
        np.array(edges),
        {"hot": Face(np.array([0]), one), "far": Face(np.array([last]), one)},
    )


def borders(layers: Sequence[Layer], refine: int = 1) -> tuple[tuple[int, int], ...]:
    """First and last node of every layer in the network of a stack.

    >>> borders([Layer("a", 1e-3, 1, 1, 1), Layer("b", 1e-4, 1, 1, 1, 1e-4)])
    ((0, 4), (5, 9))
    """
    found, at = [], 0
    for number, layer in enumerate(layers):
        at += 1 if number and layer.contact_m2kw > 0 else 0
        end = at + cells_of(layer, refine)
        found.append((at, end))
        at = end
    return tuple(found)


def check(layer: Layer) -> None:
    """Raises `BadSetting` where a figure of a layer cannot be."""
    for name in ("thickness_m", "conductivity_w_mk", "density_kg_m3", "capacity_j_kgk"):
        value = getattr(layer, name)
        if not (math.isfinite(value) and value > 0):
            raise BadSetting(f"layer {layer.name}: found {name} {value}; right: a figure above 0")
    if not (math.isfinite(layer.contact_m2kw) and layer.contact_m2kw >= 0):
        raise BadSetting(
            f"layer {layer.name}: found contact_m2kw {layer.contact_m2kw}; right: 0 or a figure above it"
        )
