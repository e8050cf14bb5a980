"""The battery of a device beside that of its predecessor, figure by figure; what is missing is said."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec

from midframe.battery.handling_rules import handling_of
from midframe.battery.label import Kind, Label, labels_of
from midframe.battery.label_check import check_label
from midframe.record import Record


class BatteryRow(msgspec.Struct, frozen=True, kw_only=True):
    """One figure of both devices, none where a record does not say it; `change_percent` is new to old."""

    name: str
    unit: str
    now: float | None
    before: float | None
    change_percent: float | None
    missing: tuple[str, ...]


class BatteryFigure(msgspec.Struct, frozen=True, kw_only=True):
    """One figure of the batteries of several devices, none where a record does not say it."""

    name: str
    unit: str
    values: tuple[float | None, ...]


class BatteryComparison(msgspec.Struct, frozen=True, kw_only=True):
    """Two devices side by side; figures of several batteries in one device are added up where they can be."""

    now: str
    before: str
    rows: tuple[BatteryRow, ...]


def compare_batteries(now: Record, before: Record) -> BatteryComparison:
    """Set the batteries of two records side by side.

    >>> from midframe import demo
    >>> found = compare_batteries(demo.load("tern-3"), demo.load("tern-2"))
    >>> [(row.name, row.now, row.before) for row in found.rows][1]
    ('rated capacity', 4880.0, 4500.0)
    """
    names = (now.device.name, before.device.name)
    rows = tuple(row(one.name, one.unit, one.values, names) for one in battery_figures((now, before)))
    return BatteryComparison(now=names[0], before=names[1], rows=rows)


def battery_figures(records: Sequence[Record]) -> tuple[BatteryFigure, ...]:
    """The same figures for any number of records, in their order.

    >>> from midframe import demo
    >>> battery_figures([demo.load("tern-3"), demo.load("avocet-fold"), demo.load("heron-tab")])[1].values
    (4880.0, 3610.0, 7530.0)
    """
    sides = [labels_of(record) for record in records]
    return tuple(
        BatteryFigure(name=name, unit=unit, values=tuple(figure(side) for side in sides))
        for name, unit, figure in FIGURES
    )


def row(name: str, unit: str, values: Sequence[float | None], names: tuple[str, str]) -> BatteryRow:
    """One row with its change and what is missing."""
    now, before = values
    change = None if now is None or not before else 100 * (now / before - 1)
    lacking = tuple(device for device, value in zip(names, values, strict=True) if value is None)
    return BatteryRow(name=name, unit=unit, now=now, before=before, change_percent=change, missing=lacking)


def added(labels: Sequence[Label], figure: Callable[[Label], float | None]) -> float | None:
    """The sum over the batteries of a device, none where one of them does not say it."""
    values = [figure(label) for label in labels]
    return None if not values or None in values else sum(value for value in values if value is not None)


def charge(kind: Kind) -> Callable[[Sequence[Label]], float | None]:
    """Charges of a kind, added up."""

    def one(label: Label) -> float | None:
        found = label.figure("charge", kind)
        return None if found is None else found.value

    return lambda labels: added(labels, one)


def voltage(kind: Kind) -> Callable[[Sequence[Label]], float | None]:
    """The voltage, where all batteries of a device have the same."""

    def same(labels: Sequence[Label]) -> float | None:
        found = {None if (one := label.figure("voltage", kind)) is None else one.value for label in labels}
        return found.pop() if len(found) == 1 else None

    return same


def energy(labels: Sequence[Label]) -> float | None:
    """Rated energy, added up."""
    return added(labels, lambda label: label.energy_wh)


def per(size: Callable[[Label], float | None]) -> Callable[[Sequence[Label]], float | None]:
    """Energy over a size, both added up, a thousandfold: Wh/l of cm³, Wh/kg of g."""

    def density(labels: Sequence[Label]) -> float | None:
        whole, room = energy(labels), added(labels, size)
        return None if whole is None or not room else 1000 * whole / room

    return density


def disagreements(labels: Sequence[Label]) -> float | None:
    """How many checks of the labels differ."""
    if not labels:
        return None
    return float(sum(found.outcome == "differs" for label in labels for found in check_label(label).findings))


def largest_cell(labels: Sequence[Label]) -> float | None:
    """Energy of the largest cell, which decides the shipping class with that of the battery."""
    cells = [handling_of(label).cell_wh for label in labels]
    known = [one for one in cells if one is not None]
    return max(known) if known and len(known) == len(cells) else None


FIGURES: tuple[tuple[str, str, Callable[[Sequence[Label]], float | None]], ...] = (
    ("batteries", "", lambda labels: float(len(labels)) or None),
    ("rated capacity", "mAh", charge("rated")),
    ("typical capacity", "mAh", charge("typical")),
    ("nominal voltage", "V", voltage("nominal")),
    ("charge limit", "V", voltage("limit")),
    ("rated energy", "Wh", energy),
    ("largest cell", "Wh", largest_cell),
    ("mass", "g", lambda labels: added(labels, lambda label: label.mass_g)),
    ("volume", "cm³", lambda labels: added(labels, lambda label: label.volume_cm3)),
    ("energy by volume", "Wh/l", per(lambda label: label.volume_cm3)),
    ("energy by mass", "Wh/kg", per(lambda label: label.mass_g)),
    ("label checks that differ", "", disagreements),
)
"""What is compared: name, unit, how it is had from the labels of one device."""
