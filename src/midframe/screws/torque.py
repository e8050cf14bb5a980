"""Tightening torque of small metric screws: from the record, else from the published table."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from midframe.record.model import Joint, Record
from midframe.screws.threads import Thread, thread_of

SERIES_NM: Mapping[str, Mapping[float, float]] = MappingProxyType(
    {
        "T": MappingProxyType(
            {
                1.0: 0.0195,
                1.1: 0.027,
                1.2: 0.037,
                1.4: 0.058,
                1.6: 0.086,
                1.8: 0.128,
                2.0: 0.176,
                2.5: 0.36,
                3.0: 0.63,
            }
        ),
        "0.5T": MappingProxyType(
            {
                1.0: 0.0098,
                1.1: 0.0135,
                1.2: 0.0185,
                1.4: 0.029,
                1.6: 0.043,
                1.8: 0.064,
                2.0: 0.088,
                2.5: 0.18,
                3.0: 0.315,
            }
        ),
        "1.8T": MappingProxyType(
            {
                1.0: 0.035,
                1.1: 0.049,
                1.2: 0.066,
                1.4: 0.104,
                1.6: 0.156,
                1.8: 0.23,
                2.0: 0.315,
                2.5: 0.65,
                3.0: 1.14,
            }
        ),
    }
)
"""Torque in N·m by series and nominal diameter in millimetres [torque-chart-t, series T, 0.5T, 1.8T]."""

STRESS_MPA: Mapping[str, float] = MappingProxyType({"T": 210.0, "0.5T": 105.0, "1.8T": 380.0})
"""Axial tension that each series means, in MPa [torque-chart-t, table of applicable screws]."""

TORSION_MINIMUM_NM: Mapping[float, float] = MappingProxyType(
    {1.0: 0.033, 1.2: 0.075, 1.4: 0.12, 1.6: 0.16, 2.0: 0.37}
)
"""Least torque at which a screw of class 8.8 may break; values from memory of [iso-898-7, table 2].

Only the formula of the standard was read, M = τ · W with the polar moment W of the root; no published
copy of the table was found. The tests hold the values to what that formula allows.
"""

NUT_FACTOR = 0.2
"""Torque coefficient K in T = K · d · F (common practice; with it the T series is met within 2 %)."""

SOFT = ("alumin", "magnesium", "brass", "copper", "plastic", "polycarbonate", "polyamide", "zinc", "bronze")
"""Words of materials that take the 0.5T series [torque-chart-t, material column: brass, copper, aluminium,
plastic]; magnesium and zinc are common practice."""

HARD = ("steel",)
"""Words of materials that take the T series [torque-chart-t, material column]."""


class Torque(msgspec.Struct, frozen=True):
    """How tight, and on what the figure rests.

    `rests_on` is "record" or "table"; `series` and `material` say which column of the table and why;
    `source` is the key of the source, empty for the record's own figure. `breaks_nm` is the least torque
    at which a class 8.8 screw of this size may break, where known (from memory). `doubt` says in words
    what is uncertain.
    """

    torque_nm: float
    rests_on: str
    series: str
    material: str
    source: str
    breaks_nm: float | None
    doubt: str


def torque_nm(thread: Thread, stress_mpa: float, nut_factor: float = NUT_FACTOR) -> float:
    """Tightening torque in N·m for an axial tension.

    T = K · d · As · σ

    Parameters
    ----------
    thread
        The thread; its stress area is taken.
    stress_mpa
        Axial tension in the stress area, MPa.
    nut_factor
        Torque coefficient K, no unit.

    References
    ----------
    Reproduces [torque-chart-t, series T at 210 MPa] within 2 % for M1 to M2; K common practice.

    >>> round(torque_nm(Thread(1.4, 0.3), 210.0), 4)
    0.0578
    """
    return nut_factor * thread.size_mm / 1000 * thread.stress_area_mm2 * stress_mpa


def series_for(material: str) -> tuple[str, str]:
    """The series for the material of the thread in the part, and what is uncertain about it.

    >>> series_for("aluminium alloy"), series_for("stainless steel")[0], series_for("")[0]
    (('0.5T', ''), 'T', '0.5T')
    """
    said = material.casefold()
    if any(word in said for word in SOFT):
        return "0.5T", ""
    if any(word in said for word in HARD):
        return "T", ""
    told = f"material '{material}' is not in the table" if said else "material of the thread not known"
    return "0.5T", f"{told}: the softer series is taken"


def torque(record: Record, joint: Joint) -> Torque | None:
    """The torque of a screw joint; None where neither record nor table know one.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> found = torque(record, next(j for j in record.joints if j.id == "upper-cover-screws-long"))
    >>> found.torque_nm, found.rests_on, found.doubt
    (0.029, 'record', '')
    """
    thread = thread_of(joint.thread)
    material = threaded_material(record, joint)
    series, doubt = series_for(material)
    table = SERIES_NM[series].get(thread.size_mm) if thread and thread.coarse else None
    breaks = TORSION_MINIMUM_NM.get(thread.size_mm) if thread and thread.coarse else None
    if joint.torque_nm is not None:
        told = ""
        if breaks is not None and joint.torque_nm > breaks:
            told = f"above the {breaks:g} N·m at which a class 8.8 screw may break"
        elif table is not None and joint.torque_nm > 1.5 * table:
            told = f"well above the {table:g} N·m of series {series}"
        return Torque(joint.torque_nm, "record", "", material, "", breaks, told)
    if table is None:
        return None
    return Torque(table, "table", series, material, "torque-chart-t", breaks, doubt)


def threaded_material(record: Record, joint: Joint) -> str:
    """Material of the part that carries the thread: the body, else the seat among the held parts."""
    from midframe.screws.kinds import cover_of

    cover = cover_of(record, joint)
    others = [part for part in record.parts if part.id in joint.holds and part.id != cover]
    others.sort(key=lambda part: part.id != record.device.body)
    return others[0].material if others else ""
