"""Results of a log as measurements that a record keeps, and what it kept before."""

from __future__ import annotations

import re
import statistics
from collections.abc import Iterable, Iterator

import msgspec

from midframe.battery.health import Estimate, Health
from midframe.battery.label import Label, labels_of
from midframe.battery.resistance import StepResistance
from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Measurement

HEALTH, CAPACITY, ENERGY, RESISTANCE = "state of health", "capacity", "usable energy", "step resistance"
"""What is measured, in the words of the record."""

ALIKE = 3.0
"""Steps whose times lie within this factor are told as one figure of resistance; own construction."""


def measurements_of(
    health: Health, part: str, at: str, *, file: str = "", log_name: str = ""
) -> tuple[Measurement, ...]:
    """What a log said of a battery, as measurements to be kept.

    Parameters
    ----------
    health
        The result; one that was refused gives nothing to keep.
    part
        Id of the battery.
    at
        The moment as ISO 8601; the ids are made from it.
    file, log_name
        SHA-256 of the log, and its name.

    Raises
    ------
    BadSetting
        Where the result was refused.

    Examples
    --------
    >>> from midframe.battery.health import cell_health
    >>> from midframe.battery.log_series import plain_log
    >>> from midframe.battery.window import given_window
    >>> log = plain_log([0.0, 7200.0, 14400.0], [3.9, 3.8, 3.7], [-1.0, -1.0, -1.0])
    >>> health = cell_health(log, 5000, given_window(90, 10, 1))
    >>> [(one.what, one.value, one.unit) for one in measurements_of(health, "cell", "2026-11-25T10:00:00Z")]
    [('state of health', 100.0, '%'), ('capacity', 5000.0, 'mAh'), ('usable energy', 19.0, 'Wh')]
    """
    if health.outcome == "refused":
        raise BadSetting(
            f"result: found one without a figure ({health.reason}); right: one with a figure or range"
        )
    stamp = re.sub(r"\D", "", at)[:14]
    found: list[Measurement] = []
    for what, unit, digits, one in figures_of(health):
        found.append(
            Measurement(
                id=f"{part}-{what.replace(' ', '-')}-{stamp}",
                on=part,
                what=what,
                value=None if one.value is None else round(one.value, digits),
                low=round(one.low, digits),
                high=round(one.high, digits),
                unit=unit,
                at=at,
                method=method(health, log_name),
                file=file,
                note=step_note(health) if what == RESISTANCE else health.reason,
            )
        )
    return tuple(found)


def figures_of(health: Health) -> Iterator[tuple[str, str, int, Estimate]]:
    """What is worth keeping: name, unit, digits after the point, figure."""
    if health.soh_percent is not None:
        yield HEALTH, "%", 1, health.soh_percent
    if health.capacity_mah is not None:
        yield CAPACITY, "mAh", 0, health.capacity_mah
    if health.capacity_wh is not None:
        yield ENERGY, "Wh", 2, health.capacity_wh
    resistance = resistance_of(health)
    if resistance is not None:
        yield RESISTANCE, "mΩ", 1, resistance


def resistance_of(health: Health) -> Estimate | None:
    """Resistance in mΩ from the steps seen after about the same time: the median, the least and the most.

    >>> from midframe.battery.health import cell_health
    >>> from midframe.battery.log_series import plain_log
    >>> resistance_of(cell_health(plain_log([0, 1, 2], [3.9, 3.8, 3.8], [0, -2, -2]), None))
    Estimate(value=50.0, low=50.0, high=50.0)
    """
    ohms = [1000 * one.resistance_ohm for one in steps_alike(health)]
    if not ohms:
        return None
    middle, low, high = (round(one, 6) for one in (statistics.median(ohms), min(ohms), max(ohms)))
    return Estimate(value=middle, low=low, high=high)


def steps_alike(health: Health) -> list[StepResistance]:
    """The steps seen after about the same time as most: only those are compared."""
    steps = sorted(health.resistances, key=lambda one: one.step_seconds)
    best, first = (0, 0), 0
    for last, step in enumerate(steps):
        while steps[first].step_seconds * ALIKE < step.step_seconds:
            first += 1
        if last + 1 - first > best[1] - best[0]:
            best = (first, last + 1)
    return steps[slice(*best)]


def step_note(health: Health) -> str:
    """Which steps the figure of resistance is from."""
    alike = steps_alike(health)
    first, last = (f"{one.step_seconds:.2g}" for one in (alike[0], alike[-1]))
    after = first if first == last else f"{first} to {last}"
    counted = f"{len(alike)} steps" if len(alike) > 1 else "one step"
    return f"{counted} of the current, seen {after} s after {'they' if len(alike) > 1 else 'it'} began"


def method(health: Health, log_name: str) -> str:
    """How it was measured, in one line."""
    way = "charge" if health.charging else "discharge"
    where = "at the cell" if health.place == "cell" else "before the phone's converter, in energy"
    window = (
        ""
        if health.window is None
        else f", {health.window.start_percent:g} to {health.window.end_percent:g} %"
    )
    return f"{way} logged {where}{window}" + (f"; {log_name}" if log_name else "")


def told(one: Measurement) -> str:
    """A measurement with its range, as it is read.

    >>> told(Measurement(id="a", on="b", what="capacity", low=3600.0, high=4400.0, unit="mAh"))
    '3600 to 4400 mAh'
    """
    unit = f" {one.unit}" if one.unit else ""
    span = "" if one.low is None or one.high is None else f"{one.low:g} to {one.high:g}"
    if one.value is None:
        return f"{span}{unit}" if span else "no figure"
    return f"{one.value:g}{unit}" + (f" ({span})" if span else "")


def kept_of(record: Record, part: str) -> tuple[Measurement, ...]:
    """What the record keeps on one battery, the newest first."""
    found = [one for one in record.measurements if one.on == part]
    return tuple(sorted(found, key=lambda one: one.at, reverse=True))


def newest(record: Record, what: str = HEALTH, parts: Iterable[str] | None = None) -> Measurement | None:
    """The newest measurement of one thing, on any part or on these; none where there is none."""
    wanted = None if parts is None else set(parts)
    found = [one for one in record.measurements if one.what == what and (wanted is None or one.on in wanted)]
    return max(found, key=lambda one: one.at, default=None)


def stands(record: Record) -> str:
    """How the battery stands, in a few words: condition as seen, newest state of health; of two, whose it is.

    >>> from midframe import demo
    >>> stands(demo.load("tern-2"))
    ''
    """
    seen = [f"{part.name} {part.condition}" for part in record.parts if part.condition not in (None, "sound")]
    found, names = newest(record), {part.id: part.name for part in record.parts if part.role == "battery"}
    if found is None:
        return "; ".join(seen)
    which = f"{names.get(found.on, found.on)}, " if len(names) > 1 else ""
    return "; ".join([*seen, f"{which}{found.what} {told(found)}, {found.at[:10]}"])


def in_short(record: Record) -> str:
    """Rated capacity and energy of all batteries of a device in a few words; empty where no label says them.

    >>> from midframe import demo
    >>> in_short(demo.load("tern-3")), in_short(demo.load("avocet-fold"))
    ('4880 mAh, 18.93 Wh', '1170 + 2440 mAh, 14.01 Wh')
    """
    labels = labels_of(record)
    charges = [one for label in labels if (one := rated_figures(label)[0]) is not None]
    energies = [label.energy_wh for label in labels if label.energy_wh is not None]
    if len(charges) < len(labels) or not labels:
        return ""
    energy = f", {sum(energies):.4g} Wh" if len(energies) == len(labels) else ""
    return f"{' + '.join(f'{one:g}' for one in charges)} mAh{energy}"


def rated_figures(label: Label) -> tuple[float | None, float | None]:
    """Rated capacity in mAh and nominal voltage in V, where a label says them."""
    rated, nominal = label.figure("charge", "rated"), label.figure("voltage", "nominal")
    return (None if rated is None else rated.value, None if nominal is None else nominal.value)


def with_kept(record: Record, found: Iterable[Measurement]) -> Record:
    """The record with more measurements; one that it has already is not added again."""
    known = {one.id for one in record.measurements}
    added = tuple(one for one in found if one.id not in known)
    return msgspec.structs.replace(record, measurements=(*record.measurements, *added))
