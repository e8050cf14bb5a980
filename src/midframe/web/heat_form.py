"""What may be chosen for a heat plan, out of the address of its page; what was typed stays as it was."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import msgspec

from midframe.faults import BadSetting
from midframe.ways.electrical import cells
from midframe.web.words import duration

if TYPE_CHECKING:
    from starlette.datastructures import FormData, QueryParams

    from midframe.record.model import Record
    from midframe.web.own_sources import OwnSource

CELLS: Mapping[str, str] = MappingProxyType(
    {
        "not said": "not looked at yet",
        "sound": "ordinary: flat, dry, cool",
        "swollen": "swollen",
        "damaged": "damaged: dented, leaking, hot by itself, smelling",
    }
)
"""How the cell was found: the state, and its words."""

LIMITS: Mapping[str, str] = MappingProxyType(
    {
        "cell": "Cell, hottest point",
        "display": "Display panel",
        "over": "Surface over cell or panel",
        "cover": "Heated surface",
        "held": "Side that is held",
    }
)
"""What has a limit."""

SOURCES: Mapping[str, str] = MappingProxyType(
    {
        "heat-bag": "Heat bag",
        "hairdryer": "Hairdryer",
        "heated-mat": "Heated mat",
        "heated-plate": "Heated plate",
        "heat-gun": "Heat gun",
    }
)
"""Sources of the table, as `midframe.heat.tables` names them."""


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    """What is asked for: options of the question, what was typed, what is wrong with it by field."""

    options: dict[str, Any]
    typed: Mapping[str, str]
    faults: Mapping[str, str]
    chosen: tuple[str, ...]

    @property
    def changed(self) -> bool:
        """Whether anything is not as usual."""
        return bool(self.chosen or any(self.typed.values()) or self.options["cell"] != "not said")


def asked_of(query: QueryParams | FormData | Mapping[str, str], own: Sequence[OwnSource]) -> Asked:
    """The choices of a page; figures that are none are told, a choice that is none is refused."""
    cell = str(query.get("cell") or "not said")
    if cell not in CELLS:
        raise BadSetting(f"cell: found '{cell[:40]}'; it may be {', '.join(CELLS)}")
    names = ("soft", *(f"limit-{key}" for key in LIMITS))
    typed = {name: str(query.get(name) or "").strip()[:40] for name in names}
    figures, faults = {}, {}
    for name, said in typed.items():
        try:
            figures[name] = celsius(said)
        except BadSetting as fault:
            faults[name] = str(fault)
    chosen = sources_in(query, own)
    limits = {key: value for key in LIMITS if (value := figures.get(f"limit-{key}")) is not None}
    options = {
        "cell": cell,
        "soft_c": figures.get("soft"),
        "limits_c": limits,
        "sources": [one for one in chosen if one in SOURCES] or (["own"] if chosen else []),
        "own": [dict(one.calibration or {}) for one in own if not chosen or one.key in chosen],
    }
    return Asked(options=options, typed=typed, faults=faults, chosen=chosen)


def sources_in(query: Any, own: Sequence[OwnSource]) -> tuple[str, ...]:
    """The sources that are ticked; none where all are at hand."""
    ticked = query.getlist("with") if hasattr(query, "getlist") else []
    known = {*SOURCES, *(one.key for one in own)}
    wrong = [one for one in ticked if one not in known]
    if wrong:
        raise BadSetting(f"with: found '{str(wrong[0])[:40]}'; it may be {', '.join(sorted(known))}")
    return tuple(ticked)


def celsius(said: str) -> float | None:
    """A temperature as it is typed, with point or comma; None where nothing is.

    >>> celsius("55,5"), celsius("60 °C"), celsius("")
    (55.5, 60.0, None)
    """
    plain = said.replace(",", ".").removesuffix("C").removesuffix("°").strip()
    if not plain:
        return None
    try:
        value = float(plain)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise BadSetting(f"found '{said[:40]}'; right: a temperature in °C, such as 55")
    return value


def hot_name(key: str) -> str:
    """What has a limit, in words within a sentence.

    >>> hot_name("held")
    'the side that is held'
    """
    from midframe.heat import NAMES

    return NAMES[key]


def after_words(seconds: float | None) -> str:
    """How long after the source is off something may be done.

    >>> after_words(0.0), after_words(95.0), after_words(None)
    ('at once', 'after 1 min 35 s', 'later than an hour')
    """
    if seconds is None:
        return "later than an hour"
    return "at once" if seconds < 1 else f"after {duration(seconds)}"


def known_state(record: Record) -> str:
    """What the record says of its cells, the worst first; empty where it says nothing."""
    there = cells(record)
    said = {part.condition for part in record.parts if part.id in there}
    return next((state for state in ("swollen", "damaged", "sound") if state in said), "")
