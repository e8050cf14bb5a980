"""Small words and checks that the findings of several regulations share."""

from __future__ import annotations

import re
from collections.abc import Iterable

from midframe.index.evidence import PartEvidence

_PAIR = re.compile(r"(?:IP|/)\s*([0-6X])([0-9X])", re.IGNORECASE)


def named(names: Iterable[str]) -> str:
    """Names in a row, each once.

    >>> named(["glue", "screws", "glue"])
    'glue, screws'
    """
    return ", ".join(dict.fromkeys(names))


def way_gaps(part: PartEvidence) -> tuple[str, ...]:
    """What is not known of the whole way to a part; empty where all of it is."""
    if part.steps is None or part.way_tools is None or part.way_fasteners is None:
        reason = f" ({part.unreachable_reason})" if part.unreachable_reason else ""
        return (f"the whole way to {part.name}{reason}",)
    return ()


def opening_gaps(part: PartEvidence) -> tuple[str, ...]:
    """The joints on the whole way whose opening the record does not tell, so that tools are not known."""
    return tuple(f"how {joint.name} is opened" for joint in part.way_fasteners or () if joint.assumed)


def ingress_meets(rating: str, *, solids: int, water: int) -> bool | None:
    """Whether an ingress rating covers a protection level; None where it does not say.

    Water 7 is covered by 7 and 8; water 1 to 4 by every number from there to 8
    (from memory of IEC 60529; a 9 alone says nothing of the lower numbers).

    Parameters
    ----------
    rating
        "IP68", "IP65/IP67", "IPX8".
    solids, water
        The level asked for, as in IP67: 6 and 7.

    Examples
    --------
    >>> ingress_meets("IP68", solids=6, water=7), ingress_meets("IP65", solids=6, water=7)
    (True, False)
    >>> ingress_meets("IPX8", solids=4, water=2) is None
    True

    References
    ----------
    from memory; the levels that are asked for stand with the duty that asks.
    """
    pairs = _PAIR.findall(rating)
    if not pairs:
        return None
    dust = [_covers(first.upper(), set(range(solids, 7))) for first, _ in pairs]
    wet = [_covers(second.upper(), set(range(water, 9))) for _, second in pairs]
    return _both(_any(dust), _any(wet))


def _covers(digit: str, good: set[int]) -> bool | None:
    if digit in ("X", "9"):
        return None
    return int(digit) in good


def _any(found: list[bool | None]) -> bool | None:
    if True in found:
        return True
    return None if None in found else False


def _both(first: bool | None, second: bool | None) -> bool | None:
    if first is False or second is False:
        return False
    return None if first is None or second is None else True
