"""Metric threads of small screws: pitch, diameters, stress area, turns."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

import msgspec

COARSE_PITCH_MM: Mapping[float, float] = MappingProxyType(
    {
        1.0: 0.25,
        1.1: 0.25,
        1.2: 0.25,
        1.4: 0.3,
        1.6: 0.35,
        1.8: 0.35,
        2.0: 0.4,
        2.5: 0.45,
        3.0: 0.5,
    }
)
"""Coarse pitch by nominal diameter [iso-965-2, selection series]; M1.1 [thread-sizes-chart, row 1.10]."""

DESIGNATION = re.compile(
    r"\s*M\s*(?P<size>\d+(?:[.,]\d+)?)(?:\s*[x×]\s*(?P<pitch>0?[.,]\d+|\d+[.,]\d+))?\s*", re.I
)


class Thread(msgspec.Struct, frozen=True):
    """A metric thread: nominal diameter and pitch in millimetres, and whether the pitch is the coarse one."""

    size_mm: float
    pitch_mm: float
    coarse: bool = True

    @property
    def minor_mm(self) -> float:
        """Basic minor diameter of the nut thread in millimetres.

        D1 = D − 2 · (5/8) · (√3/2) · P

        References
        ----------
        Basic profile of [iso-965-2, table]; checked there against the pitch diameters D − 0.6495 P.

        >>> round(Thread(1.4, 0.3).minor_mm, 3)
        1.075
        """
        return self.size_mm - 1.25 * math.sqrt(3) / 2 * self.pitch_mm

    @property
    def pitch_diameter_mm(self) -> float:
        """Basic pitch diameter in millimetres, d − (3/8)·√3·P.

        >>> round(Thread(1.4, 0.3).pitch_diameter_mm, 3)
        1.205
        """
        return self.size_mm - 0.375 * math.sqrt(3) * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """Stress area in square millimetres.

        As = π/4 · (d − 0.9382 P)²

        References
        ----------
        The formula is from memory; it gives the nominal areas of [iso-898-1, table] for M3 to M5 and the T
        series of [torque-chart-t, series T], which the tests compute from it.

        >>> round(Thread(1.4, 0.3).stress_area_mm2, 3)
        0.983
        """
        return math.pi / 4 * (self.size_mm - 0.9382 * self.pitch_mm) ** 2

    def __str__(self) -> str:
        """Give the designation; the pitch only where it is not the coarse one."""
        return f"M{self.size_mm:g}" + ("" if self.coarse else f"×{self.pitch_mm:g}")


def thread_of(text: str) -> Thread | None:
    """The thread that a designation says; None where it says none or the pitch is not known.

    >>> str(thread_of("M1.4")), str(thread_of("m1,4 x 0.2")), thread_of("plastite 1.4")
    ('M1.4', 'M1.4×0.2', None)
    """
    found = DESIGNATION.fullmatch(text)
    if found is None:
        return None
    size = float(found["size"].replace(",", "."))
    coarse = COARSE_PITCH_MM.get(size)
    if found["pitch"] is None:
        return None if coarse is None else Thread(size, coarse)
    pitch = float(found["pitch"].replace(",", "."))
    return Thread(size, pitch, pitch == coarse)


def turns(length_mm: float, thread: Thread) -> float:
    """How many turns of a thread lie in a length.

    >>> turns(1.5, Thread(1.4, 0.3))
    5.0
    """
    return round(length_mm / thread.pitch_mm, 6)


def starts_in(screw: Thread, hole: Thread) -> str:
    """What a screw does in a hole of another thread: "fits", "askew", "drops" or "refused".

    Askew: its crests are wider than the nut's minor diameter and narrower than its major one, so that it
    bites on a few flanks, holds little and spoils the thread. Drops: it touches nothing.

    >>> starts_in(Thread(1.2, 0.25), Thread(1.4, 0.3)), starts_in(Thread(1.4, 0.3), Thread(1.2, 0.25))
    ('askew', 'refused')
    """
    if screw.size_mm == hole.size_mm:
        return "fits" if screw.pitch_mm == hole.pitch_mm else "askew"
    if screw.size_mm > hole.size_mm:
        return "refused"
    return "askew" if screw.size_mm > hole.minor_mm else "drops"
