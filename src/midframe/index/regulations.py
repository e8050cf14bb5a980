"""The regulations known here, and how others join them.

A regulation is anything with one method, `judge`. Our own three are found the
same way as those of other packages: as entry points of the group
`midframe.regulations`, named by their source key.
"""

from __future__ import annotations

from collections.abc import Iterable
from importlib.metadata import EntryPoint, entry_points
from typing import Protocol, runtime_checkable

from midframe.faults import BadSetting
from midframe.index.evidence import DeviceEvidence
from midframe.index.results import Judgement

GROUP = "midframe.regulations"

OWN = (
    ("lbl-2023-1669", "midframe.index.score:EnergyLabel"),
    ("eco-2023-1670", "midframe.index.eco_2023_1670:Ecodesign"),
    ("bat-2023-1542", "midframe.index.bat_2023_1542:BatteryRemovability"),
)
"""Key and place of our own, as in the entry points; used where the package is not installed."""


@runtime_checkable
class Regulation(Protocol):
    """One method: does it apply to the device, and what does it say of it."""

    def judge(self, device: DeviceEvidence) -> Judgement:
        """Judge one device; `applies` false means that nothing else in the judgement is filled."""
        ...


def loaded(points: Iterable[EntryPoint]) -> dict[str, Regulation]:
    """The regulations behind entry points, by key, in the order given.

    Raises
    ------
    BadSetting
        Where two places claim one key, or a place holds nothing with `judge`.
    """
    places: dict[str, str] = {}
    found: dict[str, Regulation] = {}
    for point in points:
        if places.setdefault(point.name, point.value) != point.value:
            raise BadSetting(
                f"regulation {point.name!r} is claimed by {places[point.name]} and {point.value};"
                " one key, one regulation"
            )
        if point.name not in found:
            found[point.name] = _made(point)
    return found


def _made(point: EntryPoint) -> Regulation:
    made = point.load()()
    if not isinstance(made, Regulation):
        raise BadSetting(f"regulation {point.name!r}: {point.value} has no method judge(device)")
    return made


def regulations() -> dict[str, Regulation]:
    """Every regulation by its key: our own first, then those of installed packages.

    >>> list(regulations())[:3]
    ['lbl-2023-1669', 'eco-2023-1670', 'bat-2023-1542']
    """
    own = [EntryPoint(name=name, value=value, group=GROUP) for name, value in OWN]
    return loaded([*own, *entry_points(group=GROUP)])


def judge_all(device: DeviceEvidence, known: Iterable[Regulation] | None = None) -> tuple[Judgement, ...]:
    """What every regulation (or every one of `known`) says of one device."""
    chosen = regulations().values() if known is None else known
    return tuple(regulation.judge(device) for regulation in chosen)
