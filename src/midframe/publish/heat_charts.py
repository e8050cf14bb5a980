"""Pictures of heat: temperatures against time with limits and window; the section coloured by temperature.

The colours run evenly in lightness from pale (cool) to dark (hot), so that the
picture reads in grey; curves are told apart by dash and label, never by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import msgspec
import numpy as np

from midframe.heat import Attempt, Bench, Cooling, Model, Plan, Reading
from midframe.heat.grid import Grid
from midframe.publish.svg import cut, drawing, element, path, titled, words

WIDTH, HEIGHT = 560.0, 330.0
LEFT, RIGHT, TOP, BOTTOM = 44.0, 132.0, 26.0, 34.0
SECTION_HEIGHT = 190.0
SEAM = 0.6
"""Neighbouring rectangles overlap by this much, so that no line shows between them."""

BANDS = 12
"""Steps of colour in the section."""

COOL_OKLAB = (0.96, -0.010, 0.035)
HOT_OKLAB = (0.36, 0.105, 0.060)
"""Ends of the scale in OKLab: lightness falls evenly, the hue stays in one corner (own construction)."""

CURVES = (
    ("bond", "coldest bond", "", "d-mark"),
    ("cell", "hottest cell", "7 3", "d-device"),
    ("display", "hottest panel", "2 3", "d-device"),
    ("cover", "heated surface", "", "d-device"),
)
"""Key of the curve, its label, dash, class."""


class Axes(msgspec.Struct, frozen=True):
    """How seconds and °C become drawing units."""

    seconds: float
    low_c: float
    high_c: float

    def x(self, seconds: float) -> float:
        """Abscissa of a time."""
        return LEFT + (WIDTH - LEFT - RIGHT) * seconds / self.seconds

    def y(self, celsius: float) -> float:
        """Ordinate of a temperature."""
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * (celsius - self.low_c) / (self.high_c - self.low_c)


def chart_of(
    plan: Plan, shown: Attempt, after: Cooling | None = None, *, readings: Sequence[Reading] = ()
) -> str:
    """Temperatures against time for one attempt, with softening line, limits, window and stop, as SVG.

    Parameters
    ----------
    plan, shown
        A plan and one of its attempts.
    after
        Cooling after the stop, drawn behind it where given.
    readings
        What a thermometer showed at the heated surface, drawn as crosses.
    """
    heated = shown.stop_seconds if shown.stop_seconds is not None and after else shown.curves.seconds[-1]
    end = heated + (min(600.0, 1.5 * heated) if after is not None and shown.stop_seconds else 0.0)
    end = max([end, *(one.seconds for one in readings)])
    axes = Axes(end, 20.0, nice_top(plan, shown, heated, [one.shown_c for one in readings]))
    parts = [*frame(axes), *window_drawn(axes, shown), *limits_drawn(plan, axes)]
    labels: list[tuple[float, str]] = []
    for key, label, dash, class_ in CURVES:
        points = course(shown, after, key, heated, end)
        if not points:
            continue
        line = [(axes.x(t), max(TOP, min(HEIGHT - BOTTOM, axes.y(c)))) for t, c in points]
        parts.append(titled(dashed(line, class_, dash), label))
        labels.append((line[-1][1], label))
    parts += [crossed(axes, one) for one in readings]
    parts += side_labels([*labels, (axes.y(plan.soft_c), f"soft {plan.soft_c:g} °C")])
    title = f"Temperatures: {plan.joint_name}, {shown.setting.told}"
    return drawing(WIDTH, HEIGHT, title, told(plan, shown), parts)


def crossed(axes: Axes, one: Reading) -> str:
    """A reading as a cross."""
    x, y = axes.x(one.seconds), max(TOP, min(HEIGHT - BOTTOM, axes.y(one.shown_c)))
    lines = [
        element("line", x1=x - 5, y1=y - 5, x2=x + 5, y2=y + 5, class_="d-mark"),
        element("line", x1=x - 5, y1=y + 5, x2=x + 5, y2=y - 5, class_="d-mark"),
    ]
    return titled("".join(lines), f"reading of {one.shown_c:g} °C after {one.seconds:.0f} s")


def nice_top(plan: Plan, shown: Attempt, heated: float, more: Sequence[float] = ()) -> float:
    """The upper end of the axis: above what is reached and the softening line, in tens."""
    count = count_until(shown, heated)
    most = [max(values[:count]) for key, *_ in CURVES if (values := shown.curves.of(key))]
    near = [limit.limit_c for limit in plan.limits if limit.key == "cell"]
    return 10.0 * math.ceil((max([*most, plan.soft_c, *near, *more]) + 5.0) / 10.0)


def count_until(shown: Attempt, seconds: float) -> int:
    """How many points of a curve lie before a time, at least one."""
    return max(1, int(np.searchsorted(shown.curves.seconds, seconds, side="right")))


def course(
    shown: Attempt, after: Cooling | None, key: str, heated: float, end: float
) -> list[tuple[float, float]]:
    """A curve while heating and cooling."""
    values = shown.curves.of(key)
    if not values:
        return []
    times = [*(t for t in shown.curves.seconds if t < heated), heated]
    points = [(t, float(np.interp(t, shown.curves.seconds, values))) for t in times]
    if after is not None and shown.stop_seconds is not None:
        cold = zip(after.curves.seconds, after.curves.of(key), strict=True)
        points += [(heated + t, c) for t, c in cold if 0.0 < t <= end - heated]
    return points


def frame(axes: Axes) -> Iterator[str]:
    """Axes with their figures, every 10 or 20 K and a round number of seconds."""
    step = 10.0 if axes.high_c - axes.low_c <= 90.0 else 20.0
    celsius = axes.low_c
    while celsius <= axes.high_c + 1e-6:
        y = axes.y(celsius)
        yield element("line", x1=LEFT, y1=y, x2=WIDTH - RIGHT, y2=y, class_="d-leader", stroke_opacity=0.35)
        yield words(LEFT - 6, y + 4, f"{celsius:.0f}", "d-text d-small", "end")
        celsius += step
    every = next(s for s in (10.0, 20.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1800.0) if axes.seconds / s <= 8)
    for number in range(int(axes.seconds // every) + 1):
        x = axes.x(number * every)
        yield element("line", x1=x, y1=HEIGHT - BOTTOM, x2=x, y2=HEIGHT - BOTTOM + 4, class_="d-device")
        yield words(x, HEIGHT - BOTTOM + 17, f"{number * every:.0f}", "d-text d-small", "middle")
    yield words(LEFT - 6, TOP - 10, "°C", "d-text d-small", "end")
    yield words(WIDTH - RIGHT + 6, HEIGHT - BOTTOM + 17, "s", "d-text d-small")
    yield path([(LEFT, TOP), (LEFT, HEIGHT - BOTTOM), (WIDTH - RIGHT, HEIGHT - BOTTOM)], "d-device")


def window_drawn(axes: Axes, shown: Attempt) -> Iterator[str]:
    """The window between soft and too hot, and the stop."""
    window = shown.window
    if window.soft_seconds is not None and window.seconds > 0:
        end = axes.seconds if window.hot_seconds is None else min(window.hot_seconds, axes.seconds)
        left, right = axes.x(min(window.soft_seconds, axes.seconds)), axes.x(end)
        box = element(
            "rect", x=left, y=TOP, width=max(1.0, right - left), height=HEIGHT - TOP - BOTTOM,
            class_="d-beside",
        )  # fmt: skip
        yield titled(box, f"window of {window.seconds:.0f} s")
        yield words(right - 4, TOP + 12, "window", "d-text d-small", "end")
    if shown.stop_seconds is not None and shown.stop_seconds <= axes.seconds:
        x = axes.x(shown.stop_seconds)
        yield element("line", x1=x, y1=TOP, x2=x, y2=HEIGHT - BOTTOM, class_="d-mark")
        yield words(x + 4, HEIGHT - BOTTOM - 6, f"stop {shown.stop_seconds:.0f} s", "d-text d-strong")


def limits_drawn(plan: Plan, axes: Axes) -> Iterator[str]:
    """The softening temperature and the limits that the axis reaches."""
    soft = [(LEFT, axes.y(plan.soft_c)), (WIDTH - RIGHT, axes.y(plan.soft_c))]
    yield dashed(soft, "d-mark", "3 3")
    for limit in plan.limits:
        if limit.key in ("cell", "display", "over") and limit.limit_c <= axes.high_c:
            y = axes.y(limit.limit_c)
            yield dashed([(LEFT, y), (WIDTH - RIGHT, y)], "d-leader", "10 3")
            name = {"cell": "cell", "display": "panel", "over": "surface over cell or panel"}[limit.key]
            yield words(LEFT + 4, y - 3, f"limit of {name} {limit.limit_c:g} °C", "d-text d-small")


def dashed(points: Sequence[tuple[float, float]], class_: str, dash: str) -> str:
    """A line with its dash."""
    drawn = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
    more = {"stroke_dasharray": dash} if dash else {}
    return element("polyline", points=drawn, class_=class_, **more)


def side_labels(wanted: Sequence[tuple[float, str]]) -> Iterator[str]:
    """Labels at the right end of curves, moved apart where they would touch."""
    low = TOP
    for y, label in sorted(wanted):
        low = max(y, low + 13.0)
        yield words(WIDTH - RIGHT + 8, low + 4, label, "d-text d-small")


def told(plan: Plan, shown: Attempt) -> str:
    """The chart in words."""
    window = shown.window
    if shown.stop_seconds is None:
        return f"{shown.setting.told} on {plan.joint_name}: {shown.advice}."
    hot = "no limit is reached" if window.hot_seconds is None else f"too hot at {window.hot_seconds:.0f} s"
    return (
        f"{shown.setting.told} on {plan.joint_name}: soft after {window.soft_seconds:.0f} s, "
        f"stop at {shown.stop_seconds:.0f} s, {hot}."
    )


def section_of(model: Model, plan: Plan, shown: Attempt, seconds: float | None = None) -> str:
    """The section coloured by temperature at a time (by default the stop), as SVG.

    Parameters
    ----------
    model, plan, shown
        The model, its plan and the attempt that is shown.
    seconds
        Time since the source went on.
    """
    moment = seconds or shown.stop_seconds or shown.window.hot_seconds or shown.curves.seconds[-1]
    state = model.run(shown.setting, moment, model.figures(shown.setting, Bench())).final_c
    low, high = 10.0 * math.floor(state.min() / 10.0), 10.0 * math.ceil(state.max() / 10.0)
    pane = Pane(model)
    parts = [
        pane.rectangle((left, right), (upper, lower), shade((value - low) / (high - low)))
        for left, right, upper, lower, value in merged_cells(model, state)
    ]
    parts += [*pane.outlines(), *legend(low, high)]
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

    def __init__(self, model: Model) -> None:
        self.model, found = model, model.found
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
                    text = cut(part.removeprefix("bond:"), 24)
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
