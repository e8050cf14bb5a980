"""Questions of heat: the plan of a bond, one source looked at closely, a fitted source, what comes next.

Options are plain data, as a worker is sent them; answers carry no curves but as drawings.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeAlias

import msgspec

from midframe.heat import (
    NO_CURVES,
    Attempt,
    Calibration,
    Confidence,
    Cooling,
    Curves,
    Model,
    Next,
    Plan,
    PlanSettings,
    Reading,
    Setting,
    calibrate,
    cell_state,
    goal_of,
    heat_model,
    make_plan,
    study,
    watch,
)
from midframe.heat.limits import face_region
from midframe.publish.heat_charts import chart_of
from midframe.publish.heat_section import section_of
from midframe.record.model import Record

Options: TypeAlias = Mapping[str, Any]

POINTS = 120
"""Points of a drawn curve at most: house choice."""


class Look(msgspec.Struct, frozen=True, kw_only=True):
    """One source at one setting, with its pictures."""

    shown: Attempt
    sure: Confidence | None
    after: Cooling | None
    chart: str
    section: str


class Ahead(msgspec.Struct, frozen=True, kw_only=True):
    """What comes next at the bench, with the curve as it is known now."""

    known: Next
    chart: str
    soft_c: float
    metal: bool


def asked_in(record: Record, options: Options) -> PlanSettings:
    """The settings of a plan in the options of a question."""
    own = msgspec.convert(options.get("own", []), list[Calibration], strict=False)
    return PlanSettings(
        cell=cell_state(record, options.get("cell", "not said")),
        limits_c=options.get("limits_c", {}),
        soft_c=options.get("soft_c"),
        sources=tuple(options.get("sources", ())),
        own=tuple(one.setting() for one in own),
    )


def setting_in(options: Options) -> Setting:
    """The setting in the options of a question."""
    return msgspec.convert(options["setting"], Setting, strict=False)


def light(tried: Attempt) -> Attempt:
    """An attempt without its curves."""
    cycles = tried.cycles and msgspec.structs.replace(tried.cycles, curves=NO_CURVES)
    return msgspec.structs.replace(tried, curves=NO_CURVES, cycles=cycles)


def bond_model(records: Sequence[Record], options: Options) -> Model:
    """The model of the bond that is asked about."""
    return heat_model(records[0], options["joint"])


def plan(records: Sequence[Record], options: Options) -> Plan:
    """The plan of a bond with every source at hand."""
    found = make_plan(bond_model(records, options), asked_in(records[0], options))
    best = found.best and light(found.best)
    stop = found.hard_stop
    return msgspec.structs.replace(
        found, attempts=tuple(light(one) for one in found.attempts), best=best, hard_stop=stop
    )


def look(records: Sequence[Record], options: Options) -> Look:
    """One source at one setting: how sure, what comes after, pictures."""
    model = bond_model(records, options)
    found = study(
        model,
        setting_in(options),
        asked_in(records[0], options),
        cycles=bool(options.get("cycles")),
        draws=options.get("draws", 2000),
    )
    shown, after = found.shown, found.after
    drawn = thinned(shown)
    return Look(
        shown=light(shown),
        sure=found.sure,
        after=after and msgspec.structs.replace(after, curves=NO_CURVES),
        chart=chart_of(found.plan, drawn, after),
        section=section_of(model, found.plan, shown, names={one.id: one.name for one in records[0].parts}),
    )


def thinned(tried: Attempt) -> Attempt:
    """An attempt whose curves have few enough points for a page; in cycles the curve of the cycles."""
    curves = tried.cycles.curves if tried.cycles is not None and tried.cycles.works else tried.curves
    count = len(curves.seconds)
    places = sorted({*range(0, count, max(1, count // POINTS)), count - 1})
    kept = {
        name: tuple(values[place] for place in places) if (values := getattr(curves, name)) else ()
        for name in Curves.__struct_fields__
    }
    return msgspec.structs.replace(tried, curves=Curves(**kept))


def fit(records: Sequence[Record], options: Options) -> Calibration:
    """A source fitted to readings over a bond."""
    return calibrate(
        bond_model(records, options),
        setting_in(options),
        readings_in(options),
        taped=bool(options.get("taped")),
        thermometer_emissivity=options["thermometer_emissivity"],
    )


def readings_in(options: Options) -> list[Reading]:
    """The readings in the options of a question."""
    return [Reading(float(seconds), float(shown_c)) for seconds, shown_c in options["readings"]]


def ahead(records: Sequence[Record], options: Options) -> Ahead:
    """What comes next after some readings, fitted again."""
    model, asked = bond_model(records, options), asked_in(records[0], options)
    found = study(model, setting_in(options), asked, cycles=bool(options.get("cycles")), draws=0)
    goal, readings = goal_of(model, asked), readings_in(options)
    metal, taped = face_region(model.found, hot=True)[1], bool(options.get("taped"))
    followed = [] if metal and not taped else readings  # the emissivity of bare metal rules its reading
    if found.shown.cycles is not None:
        followed = []  # the fit is of a source that stays on
    known = watch(model, found.shown, goal, followed, taped=taped)
    drawn = chart_of(found.plan, thinned(known.tried), readings=readings)
    tried = msgspec.structs.replace(light(known.tried), reheat=known.tried.reheat or found.shown.reheat)
    return Ahead(
        known=msgspec.structs.replace(known, tried=tried), chart=drawn, soft_c=goal.soft_c, metal=metal
    )
