"""The decay of a seal test as a picture: pressures as read, the temperature taken out, the line through."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import msgspec

from midframe.publish.svg import drawing, element, path, titled, words
from midframe.seal import Reading, SealCheck, compensated

WIDTH, LEFT, RIGHT, TOP = 450.0, 56.0, 100.0, 26.0
PRESSURE_HIGH, TEMPERATURE_HIGH, BETWEEN, BOTTOM = 180.0, 56.0, 26.0, 34.0
FEW_PA = 2_000.0
"""Up to this span the axis tells pascals, above it kilopascals; house choice."""


class Scale(msgspec.Struct, frozen=True):
    """How a range of figures becomes a range of drawing units."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """The place of a figure."""
        return self.start + (self.end - self.start) * (value - self.low) / (self.high - self.low)

    def ticks(self, most: int) -> list[float]:
        """Round figures inside the range, at most so many."""
        step = round_step((self.high - self.low) / most)
        first = math.ceil(self.low / step - 1e-9)
        return [step * n for n in range(first, math.floor(self.high / step + 1e-9) + 1)]


def round_step(least: float) -> float:
    """The next step of 1, 2 or 5 times a power of ten.

    >>> round_step(0.3), round_step(12.0)
    (0.5, 20.0)
    """
    power = 10.0 ** math.floor(math.log10(least))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= least * (1 - 1e-9))


def seal_chart(readings: Sequence[Reading], found: SealCheck, *, ambient_pa: float) -> str:
    """Pressure against the ambient one over time, and the temperature below it where it was measured, as SVG.

    Parameters
    ----------
    readings, found
        The readings of a test and its result.
    ambient_pa
        Absolute pressure outside, Pa.
    """
    timed = found.apparent_pa_m3_s is not None
    end = readings[-1].seconds
    time = Scale(readings[0].seconds, end, LEFT, WIDTH - RIGHT)
    plain = [one.pressure_pa - ambient_pa for one in readings]
    level = [one - ambient_pa for one in compensated(readings)]
    high = scale_of([*plain, *level], (TOP + PRESSURE_HIGH, TOP), 20.0)
    bottom = TOP + PRESSURE_HIGH
    parts = [*frame(time, high, *unit_of(high))]
    if timed:
        kelvin = [one.kelvin - 273.15 for one in readings if one.kelvin is not None]
        below = scale_of(kelvin, (bottom + BETWEEN + TEMPERATURE_HIGH, bottom + BETWEEN), 0.2)
        parts += [*frame(time, below, "°C", 1.0)]
        parts.append(
            path(
                [(time.at(r.seconds), below.at(c)) for r, c in zip(readings, kelvin, strict=True)], "d-device"
            )
        )
        bottom += BETWEEN + TEMPERATURE_HIGH
    parts += [*times(time, bottom)]
    parts += [*courses(time, high, [one.seconds for one in readings], plain, level if timed else None)]
    way = "lost" if found.over_pa >= 0 else "gained"
    said = (
        f"{len(readings)} readings over {found.seconds:g} s: {plain[0]:.4g} to {plain[-1]:.4g} Pa against "
        "ambient"
        + (f", {abs(level[-1] - level[0]):.3g} Pa {way} with the temperature taken out." if timed else ".")
    )
    return drawing(WIDTH, bottom + BOTTOM, "Decay of the seal test", said, parts)


def scale_of(values: Sequence[float], room: tuple[float, float], least: float) -> Scale:
    """An axis that holds the figures with some room, never narrower than `least`."""
    low, high = min(values), max(values)
    margin = max(0.12 * (high - low), (least - (high - low)) / 2)
    return Scale(low - margin, high + margin, *room)


def unit_of(scale: Scale) -> tuple[str, float]:
    """The unit of a pressure axis and how many pascals it is."""
    return ("Pa", 1.0) if max(abs(scale.low), abs(scale.high)) <= FEW_PA else ("kPa", 1000.0)


def frame(time: Scale, scale: Scale, unit: str, size: float) -> Iterator[str]:
    """The axis of a panel with its figures."""
    for value in scale.ticks(5 if abs(scale.end - scale.start) > 100 else 2):
        y = scale.at(value)
        yield element("line", x1=time.start, y1=y, x2=time.end, y2=y, class_="d-leader", stroke_opacity=0.35)
        yield words(time.start - 6, y + 4, f"{value / size:.6g}", "d-text d-small", "end")
    yield words(time.start - 6, scale.end - 9, unit, "d-text d-small", "end")
    yield path([(time.start, scale.end), (time.start, scale.start), (time.end, scale.start)], "d-device")


def times(time: Scale, bottom: float) -> Iterator[str]:
    """The axis of time, below everything."""
    for value in time.ticks(6):
        x = time.at(value)
        yield element("line", x1=x, y1=bottom, x2=x, y2=bottom + 4, class_="d-device")
        yield words(x, bottom + 17, f"{value:.6g}", "d-text d-small", "middle")
    yield words(time.end + 18, bottom + 17, "s", "d-text d-small")


def courses(
    time: Scale, scale: Scale, seconds: Sequence[float], plain: Sequence[float], level: Sequence[float] | None
) -> Iterator[str]:
    """Crosses as read, rings with the temperature taken out, the fitted line, their labels."""
    wanted = []
    for x, y in ((time.at(t), scale.at(v)) for t, v in zip(seconds, plain, strict=True)):
        yield path([(x - 3, y - 3), (x + 3, y + 3)], "d-device") + path(
            [(x - 3, y + 3), (x + 3, y - 3)], "d-device"
        )
    fitted = plain if level is None else level
    slope, middle = line_through(seconds, fitted)
    mean = sum(seconds) / len(seconds)
    ends = [(t, middle + slope * (t - mean)) for t in (seconds[0], seconds[-1])]
    yield titled(path([(time.at(t), scale.at(v)) for t, v in ends], "d-mark"), f"{slope:.4g} Pa a second")
    wanted.append((scale.at(ends[-1][1]), "slope"))
    wanted.append((scale.at(plain[-1]), "× as read"))
    if level is not None:
        for t, v in zip(seconds, level, strict=True):
            yield element("circle", cx=time.at(t), cy=scale.at(v), r=3, class_="d-mark")
        wanted.append((scale.at(level[-1]), "○ compensated"))
    low = TOP
    for y, label in sorted(wanted):
        low = max(y, low + 14.0)
        yield words(time.end + 8, low + 4, label, "d-text d-small")


def line_through(times_s: Sequence[float], values: Sequence[float]) -> tuple[float, float]:
    """Slope and mean of the line of least squares."""
    from midframe.seal.check import slope

    return slope(times_s, values), sum(values) / len(values)
