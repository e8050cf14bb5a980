"""The section through a bond coloured by temperature.

The colours run evenly in lightness from pale (cool) to dark (hot), so that the
picture reads in grey; they are the same on a light and a dark page and on paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from midframe.heat import Attempt, Bench, Model, Plan
from midframe.heat.grid import Grid
from midframe.publish.svg import cut, drawing, element, titled, words

WIDTH, TOP, SECTION_HEIGHT = 560.0, 26.0, 190.0
SEAM = 0.6
"""Neighbouring rectangles overlap by this much, so that no line shows between them."""

BANDS = 12
"""Steps of colour in the section."""

COOL_OKLAB = (0.96, -0.010, 0.035)
HOT_OKLAB = (0.36, 0.105, 0.060)
"""Ends of the scale in OKLab: lightness falls evenly, the hue stays in one corner (own construction)."""


def section_of(
    model: Model,
    plan: Plan,
    shown: Attempt,
    seconds: float | None = None,
    *,
    names: Mapping[str, str] | None = None,
) -> str:
    """The section coloured by temperature at a time (by default the stop), as SVG.

    Parameters
    ----------
    model, plan, shown
        The model, its plan and the attempt that is shown.
    seconds
        Time since the source went on.
    names
        Names of parts by their ids, for the labels; ids where absent.
    """
    moment = seconds or shown.stop_seconds or shown.window.hot_seconds or shown.curves.seconds[-1]
    state = model.run(shown.setting, moment, model.figures(shown.setting, Bench())).final_c
    low, high = 10.0 * math.floor(state.min() / 10.0), 10.0 * math.ceil(state.max() / 10.0)
    pane = Pane(model, names or {})
    parts = [
        pane.rectangle((left, right), (upper, lower), shade((value - low) / (high - low)))
        for left, right, upper, lower, value in merged_cells(model, state)
    ]
    parts += [element("g", "".join(pane.outlines()), class_="d-paper"), *legend(low, high)]
    title = f"Section after {moment:.0f} s: {plan.joint_name}, {shown.setting.told}"
    cell = f", cell up to {state[model.watched['cell']].max():.0f} °C" if len(model.watched["cell"]) else ""
    side = "below" if plan.side == "back" else "above"
    bond = state[model.watched["bond"]]
    said = (
        f"From the edge (left) to the middle (right), heated from {side}: "
        f"bond {bond.min():.0f} to {bond.max():.0f} °C{cell}. Depth is stretched; darker is hotter."
    )
    return drawing(WIDTH, TOP + SECTION_HEIGHT + 62.0, title, said, parts)


class Pane:
    """The section in drawing units: its edge to the left, the front up."""

    def __init__(self, model: Model, part_names: Mapping[str, str]) -> None:
        self.model, self.part_names, found = model, part_names, model.found
        self.across = (WIDTH - 2 * 12.0) / found.across_mm[-1]
        self.depth = SECTION_HEIGHT / (found.depth_mm[-1] - found.depth_mm[0])
        self.top = found.depth_mm[0]

    def box(self, left: float, right: float, low: float, high: float) -> dict[str, Any]:
        """A rectangle of the section in drawing units."""
        return {
            "x": 12.0 + left * self.across,
            "y": TOP + (low - self.top) * self.depth,
            "width": (right - left) * self.across,
            "height": (high - low) * self.depth,
        }

    def rectangle(self, across: tuple[float, float], depth: tuple[float, float], fill: str) -> str:
        """A rectangle in its colour."""
        box = self.box(*across, *depth)
        box["width"] += SEAM
        box["height"] += SEAM
        return element("rect", **box, fill=fill, stroke="none", shape_rendering="crispEdges")

    def outlines(self) -> Iterator[str]:
        """Hairlines round every part, the bond marked and named."""
        found = self.model.found
        named: dict[str, tuple[float, float]] = {}
        for column, (left, right) in enumerate(pairwise(found.across_mm)):
            for low, high, number in runs(found.cells[column], found.depth_mm):
                region = found.regions[number]
                if region.kind in ("gap", "contact"):
                    continue
                own = region.kind == "bond"
                shape = element(
                    "rect", **self.box(left, right, low, high), class_="d-mark" if own else "d-leader"
                )
                yield titled(shape, region.key)
                size = (right - left) * (high - low)
                if size > named.get(region.part or region.key, (0.0, 0.0))[0]:
                    named[region.part or region.key] = (size, column)
        yield from self.names(named)

    def names(self, named: dict[str, tuple[float, float]]) -> Iterator[str]:
        """Names of the parts that are large enough in the drawing."""
        found = self.model.found
        for part, (_, column) in named.items():
            place = int(column)
            left, right = found.across_mm[place], found.across_mm[place + 1]
            for low, high, number in runs(found.cells[place], found.depth_mm):
                region = found.regions[number]
                box = self.box(left, right, low, high)
                if (region.part or region.key) == part and box["height"] > 13 and box["width"] > 60:
                    text = cut(self.part_names.get(part, part.removeprefix("bond:")), 24)
                    yield words(box["x"] + 5, box["y"] + box["height"] / 2 + 4, text, "d-text")
                    break


def runs(column: Sequence[int], depth: Sequence[float]) -> Iterator[tuple[float, float, int]]:
    """Neighbouring cells of one region in a column, as (from, to, region)."""
    start = 0
    for row in range(1, len(column) + 1):
        if row == len(column) or column[row] != column[start]:
            if column[start] >= 0:
                yield depth[start], depth[row], column[start]
            start = row


def merged_cells(model: Model, state: object) -> Iterator[tuple[float, float, float, float, float]]:
    """Cells of the grid with the middle of their band of temperature; alike neighbours in depth as one."""
    grid, found = model.grid, model.found
    values = np.asarray(state)
    low, high = 10.0 * math.floor(values.min() / 10.0), 10.0 * math.ceil(values.max() / 10.0)
    places = {(a, d): t for a, d, t in zip(grid.across_mm, grid.depth_mm, values, strict=True)}
    across, depth = lines_of(grid)
    for left, right in pairwise(across):
        column = found.cells[int(np.searchsorted(found.across_mm, (left + right) / 2.0)) - 1]
        held: tuple[float, float, int] | None = None
        for upper, lower in pairwise(depth):
            row = int(np.searchsorted(found.depth_mm, (upper + lower) / 2.0)) - 1
            band = -1
            corners = [places.get((a, d)) for a in (left, right) for d in (upper, lower)]
            if column[row] >= 0 and None not in corners:
                mean = float(np.mean([c for c in corners if c is not None]))
                band = min(BANDS - 1, int(BANDS * (mean - low) / max(high - low, 1e-9)))
            if held is not None and band == held[2]:
                held = (held[0], lower, band)
                continue
            if held is not None and held[2] >= 0:
                yield left, right, held[0], held[1], low + (held[2] + 0.5) * (high - low) / BANDS
            held = (upper, lower, band)
        if held is not None and held[2] >= 0:
            yield left, right, held[0], held[1], low + (held[2] + 0.5) * (high - low) / BANDS


def lines_of(grid: Grid) -> tuple[list[float], list[float]]:
    """Lines across and of depth of the grid."""
    return sorted(set(grid.across_mm.tolist())), sorted(set(grid.depth_mm.tolist()))


def shade(share: float) -> str:
    """Colour of the scale from 0 (cool) to 1 (hot), as `#rrggbb`.

    >>> shade(0.0), shade(1.0)
    ('#f5f4d8', '#6f1911')
    """
    share = min(1.0, max(0.0, share))
    lab = [cool + (hot - cool) * share for cool, hot in zip(COOL_OKLAB, HOT_OKLAB, strict=True)]
    return "#" + "".join(f"{round(255 * value):02x}" for value in srgb(*lab))


def srgb(lightness: float, a: float, b: float) -> tuple[float, float, float]:
    """OKLab to sRGB, each channel 0 to 1 (from memory: the published matrices of OKLab)."""
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    linear = (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )
    red, green, blue = (min(1.0, max(0.0, gamma(value))) for value in linear)
    return red, green, blue


def gamma(value: float) -> float:
    """Linear light to a channel of sRGB."""
    return 12.92 * value if value <= 0.0031308 else 1.055 * value ** (1 / 2.4) - 0.055


def legend(low: float, high: float) -> Iterator[str]:
    """The scale under the section, with its figures."""
    top, wide = TOP + SECTION_HEIGHT + 20.0, (WIDTH - 24.0) / BANDS
    for band in range(BANDS):
        fill = shade((band + 0.5) / BANDS)
        yield element(
            "rect",
            x=12.0 + band * wide,
            y=top,
            width=wide,
            height=12,
            fill=fill,
            stroke="none",
            shape_rendering="crispEdges",
        )
    yield element("rect", x=12.0, y=top, width=WIDTH - 24.0, height=12, class_="d-leader")
    for step in range(5):
        celsius = low + (high - low) * step / 4.0
        anchor = "start" if step == 0 else "end" if step == 4 else "middle"
        x = 12.0 + (WIDTH - 24.0) * step / 4.0
        yield words(x, top + 27.0, f"{celsius:.0f} °C", "d-text d-small", anchor)
