"""Drives: which bit turns which screw."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

HEXALOBULAR_MM: Mapping[int, tuple[float, float]] = MappingProxyType(
    {
        3: (1.2, 0.85),
        4: (1.35, 1.0),
        5: (1.5, 1.1),
        6: (1.75, 1.27),
        8: (2.4, 1.75),
        10: (2.8, 2.05),
        15: (3.35, 2.4),
        20: (3.95, 2.85),
    }
)
"""Nominal size across the lobes (A) and between them (B) in millimetres [iso-10664, table]."""

CROSS_ORDER = ("000", "00", "0", "1", "2")
"""Cross recesses from small to large; the sizes below 0 are common practice, no source."""


def family_and_size(drive: str) -> tuple[str, str]:
    """The family and size of a drive as it stands in a record.

    >>> family_and_size("hexalobular 4"), family_and_size("cross recess 00"), family_and_size("slot")
    (('hexalobular', '4'), ('cross recess', '00'), ('slot', ''))
    """
    text = " ".join(drive.casefold().split())
    found = re.fullmatch(r"(.*?)\s*(\d+(?:[.,]\d+)?)?", text)
    return (found[1], (found[2] or "").replace(",", ".")) if found else (text, "")


def bit_in(bit: str, screw: str) -> str:
    """How the bit of one drive sits in the recess of another: "fits", "loose", "no" or "unknown".

    Loose: it goes in and turns, with play that rounds the recess. A hexalobular bit does so where its
    size across the lobes lies between the recess's two sizes [iso-10664, table]; a cross-recess bit in
    the next larger recess, and the other way round (common practice, no source).

    >>> bit_in("hexalobular 3", "hexalobular 4"), bit_in("hexalobular 3", "hexalobular 6")
    ('loose', 'no')
    >>> bit_in("cross recess 00", "cross recess 000"), bit_in("", "hexalobular 4")
    ('loose', 'unknown')
    """
    if not bit.strip() or not screw.strip():
        return "unknown"
    (family, size), (other, wanted) = family_and_size(bit), family_and_size(screw)
    if (family, size) == (other, wanted):
        return "fits"
    if family != other:
        return "no"
    if family == "hexalobular":
        return lobes(size, wanted)
    if family == "cross recess":
        near = size in CROSS_ORDER and wanted in CROSS_ORDER
        return "loose" if near and abs(CROSS_ORDER.index(size) - CROSS_ORDER.index(wanted)) == 1 else "no"
    return "unknown"


def lobes(size: str, wanted: str) -> str:
    """How a hexalobular bit sits in a recess of another size."""
    if not (size.isdigit() and wanted.isdigit()):
        return "unknown"
    bit, recess = HEXALOBULAR_MM.get(int(size)), HEXALOBULAR_MM.get(int(wanted))
    if bit is None or recess is None:
        return "unknown"
    return "loose" if recess[1] < bit[0] <= recess[0] else "no"


def turned_alike(one: str, other: str) -> str:
    """Whether one bit turns both screws: "fits", "loose", "no" or "unknown".

    >>> turned_alike("hexalobular 4", "hexalobular 3")
    'loose'
    """
    found = {bit_in(one, other), bit_in(other, one)}
    return next(state for state in ("fits", "loose", "unknown", "no") if state in found)
