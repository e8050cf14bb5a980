"""Temperatures against time as a drawing, with limits, window and stop.

Curves are told apart by dash and label, never by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import msgspec
import numpy as np

from midframe.heat import Attempt, Cooling, Plan, Reading
from midframe.publish.svg import drawing, element, path, titled, words

WIDTH, HEIGHT = 560.0, 330.0
LEFT, RIGHT, TOP, BOTTOM = 44.0, 132.0, 26.0, 34.0
SIDE_GAP = 15.0
"""Least distance of two labels at the end of their curves."""

CURVES = (
    ("bond", "coldest bond", "", "d-mark"),
    ("cell", "hottest cell", "7 3", "d-device"),
    ("display", "hottest panel", "2 3", "d-device"),
    ("cover", "heated surface", "", "d-device"),
)
"""Key of the curve, its label, dash, class."""

READ = ("surface", "surface read", "", "d-device")
"""The curve that readings are taken of, in the place of the hottest point of the surface."""


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
    labels: list[tuple[float, str, str, str]] = []
    for key, label, dash, class_ in (*CURVES[:-1], READ) if readings else CURVES:
        points = course(shown, after, key, heated, end)
        if not points:
            continue
        line = [(axes.x(t), max(TOP, min(HEIGHT - BOTTOM, axes.y(c)))) for t, c in points]
        parts.append(titled(dashed(line, class_, dash), label))
        labels.append((line[-1][1], label, class_, dash))
    parts += [crossed(axes, one) for one in readings]
    parts += side_labels([*labels, (axes.y(plan.soft_c), f"soft {plan.soft_c:g} °C", "d-mark", "3 3")])
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
            class_="d-window",
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


def side_labels(wanted: Sequence[tuple[float, str, str, str]]) -> Iterator[str]:
    """Labels at the right end of curves, moved apart where they would touch; a hairline leads to each.

    `wanted` gives where a curve ends, its label, class and dash; a piece of it stands before the label.
    """
    end, low = WIDTH - RIGHT, TOP - SIDE_GAP
    for y, label, class_, dash in sorted(wanted):
        low = max(y, low + SIDE_GAP)
        yield element("line", x1=end, y1=y, x2=end + 10, y2=low, class_="d-leader")
        yield dashed([(end + 10, low), (end + 28, low)], class_, dash)
        yield words(end + 32, low + 4, label, "d-text d-small")


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
