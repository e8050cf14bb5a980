"""Pictures of a battery log: voltage and current against time; a state of health beside the 80 % line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from midframe.battery import Health, Log
from midframe.battery.health import LINE_PERCENT
from midframe.publish.svg import drawing, element, path, titled, words

WIDTH, PANEL, GAP = 560.0, 130.0, 22.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 14.0, 22.0, 34.0
SCALE_HEIGHT = 74.0
COLUMNS = 250
"""Points that a curve is thinned to keep the least and most of each: house choice, for size."""

LEAST_SPAN: Mapping[str, float] = {"voltage": 0.5, "current": 0.05}
"""The axes span at least so many V and A: house choice."""

STEPS = (1.0, 2.0, 5.0)
HOURS = 7200.0
"""From this length in seconds on the time is told in hours, below it in minutes."""


class Panel(msgspec.Struct, frozen=True, kw_only=True):
    """One curve: its figures, name and unit, the ends of its axes, and where it stands."""

    name: str
    unit: str
    values: Sequence[float]
    low: float
    high: float
    end_s: float
    top: float

    def x(self, seconds: float) -> float:
        """Abscissa of a time."""
        return LEFT + (WIDTH - LEFT - RIGHT) * seconds / self.end_s

    def y(self, value: float) -> float:
        """Ordinate of a value."""
        return self.top + PANEL * (self.high - value) / (self.high - self.low)


def log_chart(log: Log, health: Health | None = None) -> str:
    """Voltage and current of a log against time, what was counted marked, as SVG.

    Parameters
    ----------
    log
        Seconds, volts, amperes.
    health
        The result; the stretch that it counted is framed.
    """
    end = max(log.seconds[-1], 1e-6)
    volts = panel("voltage", "V", log.voltage_v, end, TOP)
    amps = panel("current", "A", log.current_a, end, TOP + PANEL + GAP)
    parts: list[str] = []
    for one in (volts, amps):
        parts += [*axes(one), *curves(one, log)]
    parts += time_axis(amps)
    if health is not None:
        parts += counted(volts, amps, health)
    title = f"Voltage and current: {log.file}"
    return drawing(WIDTH, amps.top + PANEL + BOTTOM, title, told(log, health), parts)


def panel(name: str, unit: str, values: Sequence[float], end: float, top: float) -> Panel:
    """A panel whose axis holds all values and ends at round figures."""
    low, high = min(values), max(values)
    if name == "current":
        low, high = min(low, 0.0), max(high, 0.0)
    least = LEAST_SPAN[name]
    if high - low < least:  # a steady voltage stays a line in the middle, and its noise stays small
        low, high = low - (least - high + low) / 2, high + (least - high + low) / 2
    step = round_step(high - low)
    low, high = step * math.floor(low / step + 1e-9), step * math.ceil(high / step - 1e-9)
    return Panel(name=name, unit=unit, values=values, low=low, high=high, end_s=end, top=top)


def round_step(span: float, most: int = 5) -> float:
    """A round step that divides a span into `most` parts or fewer.

    >>> round_step(1.3), round_step(4.7), round_step(0.02)
    (0.5, 1.0, 0.005)
    """
    power = 10.0 ** math.floor(math.log10(span / most))
    return float(next(round(power * one, 9) for one in (*STEPS, 10.0) if span / (power * one) <= most + 1e-9))


def axes(one: Panel) -> Iterator[str]:
    """Hairlines with their figures, and the name of the panel."""
    step = round_step(one.high - one.low)
    for number in range(round((one.high - one.low) / step) + 1):
        value = one.low + number * step
        y = one.y(value)
        yield element("line", x1=LEFT, y1=y, x2=WIDTH - RIGHT, y2=y, class_="d-leader", stroke_opacity=0.35)
        yield words(LEFT - 6, y + 4, f"{value:.6g}", "d-text d-small", "end")
    yield words(LEFT, one.top - 7, f"{one.name}, {one.unit}", "d-text d-small")
    yield path([(LEFT, one.top), (LEFT, one.top + PANEL)], "d-device")


def time_axis(one: Panel) -> Iterator[str]:
    """Round times under the lower panel, in hours or minutes."""
    factor, unit = (3600.0, "h") if one.end_s >= HOURS else (60.0, "min")
    if one.end_s < 120.0:
        factor, unit = 1.0, "s"
    step = round_step(one.end_s / factor, 7)
    bottom = one.top + PANEL
    yield path([(LEFT, bottom), (WIDTH - RIGHT, bottom)], "d-device")
    for number in range(math.floor(one.end_s / factor / step + 1e-9) + 1):
        x = one.x(number * step * factor)
        yield element("line", x1=x, y1=bottom, x2=x, y2=bottom + 4, class_="d-device")
        label = f"{number * step:.6g}" + (f" {unit}" if number == 0 else "")
        yield words(x, bottom + 17, label, "d-text d-small", "start" if number == 0 else "middle")


def curves(one: Panel, log: Log) -> Iterator[str]:
    """The curve, broken where the log begins anew or has a gap."""
    begins = {*log.pieces[1:]}
    starts = {start for start, _ in log.gaps}
    first = 0
    for at in range(1, len(log.seconds) + 1):
        if at == len(log.seconds) or at in begins or log.seconds[at - 1] in starts:
            points = [(one.x(t), one.y(v)) for t, v in thinned(log.seconds[first:at], one.values[first:at])]
            if len(points) > 1:
                yield titled(path(points, "d-device"), one.name)
            first = at


def thinned(seconds: Sequence[float], values: Sequence[float]) -> Iterator[tuple[float, float]]:
    """First, least, most and last of each column, in order of time; short curves whole.

    >>> list(thinned([0, 1], [3.7, 3.6]))
    [(0, 3.7), (1, 3.6)]
    """
    if len(seconds) <= 4 * COLUMNS:
        yield from zip(seconds, values, strict=True)
        return
    every = math.ceil(len(seconds) / COLUMNS)
    for begin in range(0, len(seconds), every):
        rows = range(begin, min(begin + every, len(seconds)))
        low, high = min(rows, key=lambda at: values[at]), max(rows, key=lambda at: values[at])
        yield from ((seconds[at], values[at]) for at in sorted({rows[0], low, high, rows[-1]}))


def counted(upper: Panel, lower: Panel, health: Health) -> Iterator[str]:
    """A frame round the stretch that was counted."""
    left, right = upper.x(health.start_s), upper.x(health.start_s + health.seconds)
    height = lower.top + PANEL - upper.top
    box = element("rect", x=left, y=upper.top, width=max(1.0, right - left), height=height, class_="d-beside")
    amount = f"{health.charge_ah:.3f} Ah, {health.energy_wh:.2f} Wh counted"
    yield titled(box, amount)
    middle = min(max((left + right) / 2, LEFT + 90), WIDTH - RIGHT - 90)
    yield words(middle, lower.top - 7, amount, "d-text d-small d-strong", "middle")


def told(log: Log, health: Health | None) -> str:
    """The chart in words."""
    volts = f"{min(log.voltage_v):.2f} to {max(log.voltage_v):.2f} V"
    amperes = f"{min(log.current_a):.2f} to {max(log.current_a):.2f} A"
    said = (
        f"{len(log.seconds)} rows over {log.seconds[-1] / 3600:.2f} h, {volts}, {amperes}, charging positive."
    )
    if health is None:
        return said
    hours = health.seconds / 3600
    return f"{said} Counted: {health.charge_ah:.3f} Ah, {health.energy_wh:.2f} Wh in {hours:.2f} h."


def health_scale(health: Health) -> str:
    """The state of health with its range on a scale beside the 80 % line, as SVG; empty without one."""
    soh = health.soh_percent
    if soh is None:
        return ""
    low = 10.0 * math.floor(min(60.0, soh.low - 5.0) / 10.0)
    high = 10.0 * math.ceil(max(105.0, soh.high + 5.0) / 10.0)

    def x(percent: float) -> float:
        return 16.0 + (WIDTH - 32.0) * (percent - low) / (high - low)

    y = 34.0
    parts = [path([(x(low), y), (x(high), y)], "d-device")]
    for percent in range(int(low), int(high) + 1, 10):
        parts.append(element("line", x1=x(percent), y1=y, x2=x(percent), y2=y + 5, class_="d-device"))
        parts.append(words(x(percent), y + 19, f"{percent}", "d-text d-small", "middle"))
    line = x(LINE_PERCENT)
    parts.append(element("line", x1=line, y1=10, x2=line, y2=y + 5, class_="d-mark", stroke_dasharray="3 3"))
    parts.append(words(line, y + 34, "80 % line", "d-text d-small", "middle"))
    bar = element(
        "rect", x=x(soh.low), y=y - 9, width=max(2.0, x(soh.high) - x(soh.low)), height=9, class_="d-slab"
    )
    parts.append(titled(bar, f"{soh.low:.1f} to {soh.high:.1f} %"))
    if soh.value is not None:
        parts.append(path([(x(soh.value), y - 13), (x(soh.value), y)], "d-mark"))
        parts.append(words(x(soh.value), y - 17, f"{soh.value:.1f} %", "d-text d-strong", "middle"))
    range_words = f"{soh.low:.1f} to {soh.high:.1f} % of rated capacity"
    return drawing(
        WIDTH, SCALE_HEIGHT, "State of health", f"{range_words}; the 80 % line: {health.line}.", parts
    )
