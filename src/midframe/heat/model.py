"""The heat model of one bond: its section as a network, what meets its faces, what is watched in a run."""

from __future__ import annotations

import math
from collections.abc import Mapping

import msgspec
import numpy as np

from midframe.heat.grid import RIM_MM, Grid, grid_of
from midframe.heat.heat_sources import Setting
from midframe.heat.integrate import History, Steps, Stop, integrate
from midframe.heat.limits import face_region
from midframe.heat.materials import Range
from midframe.heat.network import Floats, Integers, Network, Surroundings
from midframe.heat.section import Section, section
from midframe.record.model import Record

USUAL_STEPS = Steps(tolerance_k=5e-3)
"""Tolerance of a plan's runs (own construction; what it leaves is measured in tests)."""

STILL_AIR_W_M2K = Range(3.0, 5.0, 8.0)
"""Still air at a warm face, without radiation (common practice; order of [bench-physics-calc, still air])."""

BENCH_W_M2K = Range(3.0, 6.0, 12.0)
"""A face that lies on a bench mat, and the card over a masked middle (own construction)."""

ROOM_C = Range(18.0, 22.0, 27.0)


class Bench(msgspec.Struct, frozen=True, kw_only=True):
    """The room: its temperature, still air, what the device lies on. A device starts as warm as it."""

    room_c: Range = ROOM_C
    still_w_m2k: Range = STILL_AIR_W_M2K
    bench_w_m2k: Range = BENCH_W_M2K


class Figures(msgspec.Struct, frozen=True, eq=False):
    """One choice of every uncertain figure: conductivities and capacities by region, source, room."""

    through_w_mk: Floats
    plane_w_mk: Floats
    capacity_j_m3k: Floats
    air_c: float
    coefficient_w_m2k: float
    settling_seconds: float
    room_c: float
    still_w_m2k: float
    bench_w_m2k: float
    emissivity: float


class Curves(msgspec.Struct, frozen=True):
    """Watched temperatures over time, °C: coldest and hottest point of the bond, hottest of what has a limit.

    The coldest point is looked for along the bond, in the middle of its thickness.
    `cell` and `over` are empty where the section holds no cell or panel.
    """

    seconds: tuple[float, ...]
    bond: tuple[float, ...]
    bond_hottest: tuple[float, ...]
    cell: tuple[float, ...]
    display: tuple[float, ...]
    over: tuple[float, ...]
    cover: tuple[float, ...]
    held: tuple[float, ...]
    surface: tuple[float, ...]

    def of(self, key: str) -> tuple[float, ...]:
        """One curve by the key of its limit."""
        found: tuple[float, ...] = getattr(self, key)
        return found


NO_CURVES = Curves((), (), (), (), (), (), (), (), ())
"""In the place of curves that are not sent along."""


class Model(msgspec.Struct, frozen=True, eq=False):
    """A section ready to be heated; made by `heat_model`."""

    found: Section
    grid: Grid
    watched: Mapping[str, Integers]
    band_mm: float

    def figures(self, setting: Setting, bench: Bench) -> Figures:
        """The usual value of every figure."""
        regions = self.found.regions
        return Figures(
            np.array([region.through_w_mk.usual for region in regions]),
            np.array([region.plane_w_mk.usual for region in regions]),
            np.array([region.capacity_j_m3k.usual for region in regions]),
            setting.air_c.usual,
            setting.coefficient_w_m2k.usual,
            setting.settling_seconds.usual if setting.settling_seconds else math.inf,
            bench.room_c.usual,
            bench.still_w_m2k.usual,
            bench.bench_w_m2k.usual,
            face_region(self.found, hot=True)[2],
        )

    def network(self, figures: Figures) -> Network:
        """The network with these figures."""
        return self.grid.network(figures.through_w_mk, figures.plane_w_mk, figures.capacity_j_m3k)

    def heating(self, setting: Setting, figures: Figures) -> dict[str, Surroundings]:
        """What meets each face while the source is on."""
        room = figures.room_c
        hot = Surroundings(
            air_c=figures.air_c,
            coefficient_w_m2k=figures.coefficient_w_m2k,
            settles_c=room,
            settling_seconds=figures.settling_seconds,
            emissivity=figures.emissivity if setting.kind == "air" else 0.0,
            room_c=room,
        )
        card = Surroundings(air_c=room, coefficient_w_m2k=figures.bench_w_m2k)
        return {
            "hot": hot,
            "masked": hot if setting.reach == "face" else card,
            "far": self.far(setting, figures),
            "edge": self.beside(setting, figures),
        }

    def beside(self, setting: Setting, figures: Figures) -> Surroundings:
        """The side wall: hot air at half its coefficient (own construction), else still air."""
        if setting.kind != "air":
            return still(figures)
        return Surroundings(
            air_c=figures.air_c,
            coefficient_w_m2k=0.5 * figures.coefficient_w_m2k,
            emissivity=figures.emissivity,
            room_c=figures.room_c,
        )

    def far(self, setting: Setting, figures: Figures) -> Surroundings:
        """The side away from the heat: on the bench under hot air, up in still air on a mat."""
        if setting.kind == "air":
            return Surroundings(air_c=figures.room_c, coefficient_w_m2k=figures.bench_w_m2k)
        return still(figures)

    def resting(self, setting: Setting, figures: Figures) -> dict[str, Surroundings]:
        """What meets each face while the source is off."""
        around = still(figures)
        return {"hot": around, "masked": around, "far": self.far(setting, figures), "edge": around}

    def curves(self, run: History) -> Curves:
        """What is watched, out of a run."""
        state, watch = run.temperature_c, self.watched

        def hottest(key: str) -> tuple[float, ...]:
            nodes = watch[key]
            return tuple(state[:, nodes].max(axis=1).tolist()) if len(nodes) else ()

        return Curves(
            seconds=tuple(run.seconds.tolist()),
            bond=tuple(state[:, watch["bond"]].min(axis=1).tolist()),
            bond_hottest=hottest("layer"),
            cell=hottest("cell"),
            display=hottest("display"),
            over=hottest("over"),
            cover=hottest("cover"),
            held=hottest("held"),
            surface=tuple(state[:, watch["surface"]].mean(axis=1).tolist()),
        )

    def run(
        self,
        setting: Setting,
        seconds: float,
        figures: Figures,
        *,
        until: Stop | None = None,
    ) -> History:
        """Heat for a time from room temperature."""
        around = self.heating(setting, figures)
        start = figures.room_c
        return integrate(self.network(figures), start, around, seconds, steps=USUAL_STEPS, until=until)

    def rest(
        self, setting: Setting, seconds: float, figures: Figures, start_c: Floats, until: Stop | None = None
    ) -> History:
        """Let it cool for a time, from a state."""
        around = self.resting(setting, figures)
        return integrate(self.network(figures), start_c, around, seconds, steps=USUAL_STEPS, until=until)

    def reheat(
        self, setting: Setting, seconds: float, figures: Figures, start_c: Floats, until: Stop | None = None
    ) -> History:
        """Heat again for a time, from a state."""
        around = self.heating(setting, figures)
        return integrate(self.network(figures), start_c, around, seconds, steps=USUAL_STEPS, until=until)


def heat_model(record: Record, joint: str, *, band_mm: float = RIM_MM, refine: int = 1) -> Model:
    """The heat model of one adhesive joint of a record.

    Parameters
    ----------
    record, joint
        A sound record and the id or name of an adhesive joint.
    band_mm
        Width of the band along the edge that is heated where the middle is masked.
    refine
        Divides every cell of the grid.

    Raises
    ------
    UnknownPart, RecordFault
        As `midframe.heat.section.section`.

    Examples
    --------
    >>> from midframe import demo
    >>> model = heat_model(demo.load("tern-3"), "back-bond")
    >>> from midframe.heat.heat_sources import settings_of
    >>> dryer = settings_of("hairdryer")[3]
    >>> run = model.run(dryer, 60.0, model.figures(dryer, Bench()))
    >>> run.balance < 1e-6
    True
    """
    found = section(record, joint)
    grid = grid_of(found, refine=refine, band_mm=band_mm)
    return Model(found, grid, watched_nodes(found, grid), band_mm)


def watched_nodes(found: Section, grid: Grid) -> dict[str, Integers]:
    """The nodes behind each watched temperature."""
    hot = np.union1d(grid.faces["hot"].nodes, grid.faces["masked"].nodes)
    cells, panels = nodes_of(found, grid, "cell"), nodes_of(found, grid, "display")
    panels = panels[grid.across_mm[panels] >= found.panel_from_mm - 1e-6]
    beneath = panels if heats_display(found) else cells
    over = hot[grid.across_mm[hot] >= grid.across_mm[beneath].min() - 1e-6] if len(beneath) else hot[:0]
    layer = nodes_of(found, grid, "bond")
    bond = middle_of(grid, layer)
    near = grid.faces["hot"].nodes
    above = near[grid.across_mm[near] <= grid.across_mm[bond].max() + 1e-6]
    return {
        "bond": bond,
        "layer": layer,
        "cell": cells,
        "display": panels,
        "over": over,
        "cover": hot,
        "held": grid.faces["far"].nodes,
        "surface": above if len(above) else near,
    }


def middle_of(grid: Grid, layer: Integers) -> Integers:
    """The nodes of a bond nearest to the middle of its thickness.

    A softening temperature is that of a layer at one temperature. Heated from one face a layer has many; a
    bond opens where it is softest in its thickness, so its middle is still on the safe side, while its cold
    face would ask for more heat than any bench uses (own construction; measured in docs/heat.md).
    """
    depth = grid.depth_mm[layer]
    middle = (depth.min() + depth.max()) / 2.0
    off = np.abs(depth - middle)
    return np.asarray(layer[off <= off.min() + 1e-6])


def heats_display(found: Section) -> bool:
    """Whether the heated face is that of a display."""
    cover = [region for region in found.regions if region.part == found.bond.cover]
    return any(region.kind in ("display", "glass") for region in cover)


def nodes_of(found: Section, grid: Grid, kind: str) -> Integers:
    """Nodes on the regions of one kind."""
    numbers = found.numbers(kind)
    if not numbers:
        return np.zeros(0, dtype=np.int64)
    return np.unique(np.concatenate([grid.of_region[number] for number in numbers]))


def still(figures: Figures) -> Surroundings:
    """Still air with radiation to the room."""
    return Surroundings(
        air_c=figures.room_c,
        coefficient_w_m2k=figures.still_w_m2k,
        emissivity=figures.emissivity,
        room_c=figures.room_c,
    )
