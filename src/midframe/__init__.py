"""midframe: one record of how a phone or tablet comes apart; everything else is computed from it.

The names below are loaded when first used, so that `import midframe` stays light.

>>> import midframe
>>> midframe.__version__
'0.1.0'
"""

from __future__ import annotations

import importlib
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from midframe import index, record, upkeep, ways
    from midframe.faults import BadSetting, Fault, IllegalMove, NoWay, RecordFault, UnknownPart

__version__ = "0.1.0"

_HOMES = MappingProxyType(
    dict.fromkeys(
        ("BadSetting", "Fault", "IllegalMove", "NoWay", "RecordFault", "UnknownPart"), "midframe.faults"
    )
    | {package: f"midframe.{package}" for package in ("index", "record", "upkeep", "ways")}
)

__all__ = [
    "BadSetting",
    "Fault",
    "IllegalMove",
    "NoWay",
    "RecordFault",
    "UnknownPart",
    "__version__",
    "index",
    "record",
    "upkeep",
    "ways",
]


def __getattr__(name: str) -> Any:
    """Load a public name from its home on first use."""
    if name not in _HOMES:
        raise AttributeError(f"module 'midframe' has no attribute {name!r}")
    home = importlib.import_module(_HOMES[name])
    return home if _HOMES[name] == f"midframe.{name}" else getattr(home, name)


def __dir__() -> list[str]:
    """Name what can be loaded as well as what is."""
    return sorted(__all__)
