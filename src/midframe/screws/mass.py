"""Mass of a screw from its geometry, and what a scale can see of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from midframe.record.model import Record
from midframe.screws.kinds import Kind, groups
from midframe.screws.wording import short

STEEL_G_PER_MM3 = 7.85e-3
"""Density of carbon steel, g/mm³ (textbook value)."""

PAN_HEAD_MM: Mapping[float, tuple[float, float]] = MappingProxyType(
    {1.2: (1.8, 0.45), 1.4: (2.0, 0.5), 1.6: (2.4, 0.55), 2.0: (3.0, 0.6)}
)
"""Diameter and height of a small pan head, type 1, in millimetres [jis-b-1012, M1.2 to M2]."""

HEAD_IN_DIAMETERS = (1.5, 0.38)
"""Diameter and height of a head of a size that is not in the table, in thread diameters: the ratio of its
smallest entry (own construction)."""


def head_mm(kind: Kind) -> tuple[float, float] | None:
    """Diameter and height of the head, of the pan form whatever the record says; None without a thread.

    >>> head_mm(Kind("hexalobular 4", "M1.4", "pan", 4.0))
    (2.0, 0.5)
    """
    thread = kind.metric
    if thread is None:
        return None
    wide, high = HEAD_IN_DIAMETERS
    return PAN_HEAD_MM.get(thread.size_mm, (wide * thread.size_mm, high * thread.size_mm))


def mass_g(kind: Kind) -> float | None:
    """Mass of a steel screw in grams; None where thread or length are unknown.

    m = ρ · (As · l + head), the head a cylinder of the pan form, a cone for a countersunk one, whose
    length counts overall [iso-225, length]. The recess is not taken off, so the estimate is on the heavy
    side by some 5 to 15 % (own construction): what a scale cannot see by it, it cannot see at all.

    >>> round(mass_g(Kind("hexalobular 4", "M1.4", "pan", 4.0)), 4)
    0.0432
    >>> round(mass_g(Kind("hexalobular 3", "M1.2", "flat", 1.4)), 4)
    0.017
    """
    thread, head = kind.metric, head_mm(kind)
    if thread is None or head is None or kind.length_mm is None:
        return None
    wide, high = head
    if "countersunk" in kind.head:
        cone = math.pi / 12 * high * (wide**2 + wide * thread.size_mm + thread.size_mm**2)
        volume = thread.stress_area_mm2 * max(0.0, kind.length_mm - high) + cone
    else:
        volume = thread.stress_area_mm2 * kind.length_mm + math.pi / 4 * wide**2 * high
    return STEEL_G_PER_MM3 * volume


def masses(record: Record, joints: Iterable[str] | None = None) -> tuple[tuple[str, float], ...]:
    """The kinds of screws of a record in words with the mass of one in grams, where it can be told.

    `joints` names the screw joints that count; None takes all.

    >>> from midframe import demo
    >>> [(kind, round(mass, 3)) for kind, mass in masses(demo.load("tern-3"))][:1]
    [('A (M1.4×4 pan)', 0.043)]
    """
    wanted = None if joints is None else set(joints)
    found = {
        short(one.letter, one.kind): mass
        for one in groups(record)
        if (wanted is None or one.joint in wanted) and (mass := mass_g(one.kind)) is not None
    }
    return tuple(found.items())
