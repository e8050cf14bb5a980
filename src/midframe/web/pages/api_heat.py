"""Heat as JSON under /api: the bonds of a record, and the plan of one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.publish.names import title_of
from midframe.web.api_answers import kept_of, waited, working
from midframe.web.context import store_of
from midframe.web.heat_form import asked_of
from midframe.web.openapi import Said, operation
from midframe.web.own_sources import usable
from midframe.web.pages.heat import bonds, joint_of

if TYPE_CHECKING:
    from midframe.heat import Attempt, Plan
    from midframe.store import Kept

QUERY = (
    "cell",
    "soft",
    "with",
    "wait",
    *(f"limit-{key}" for key in ("cell", "display", "over", "cover", "held")),
)


class BondLine(msgspec.Struct, frozen=True):
    """A bond: joint, name, parts it holds, recorded softening temperature (°C; null: by its class)."""

    joint: str
    name: str
    holds: tuple[str, ...]
    soft_c: float | None


class BondsGiven(msgspec.Struct, frozen=True):
    """The bonds of a record, those of covers, displays and batteries first."""

    id: str
    revision: int
    bonds: tuple[BondLine, ...]


class LimitLine(msgspec.Struct, frozen=True, kw_only=True):
    """A limit: what for, in °C, the margin kept free below (K), its mark, what it rests on."""

    key: str
    what: str
    limit_c: float
    margin_k: float
    mark: Literal["standard", "datasheet class", "common practice", "own"]
    rests_on: str


class SourceLine(msgspec.Struct, frozen=True, kw_only=True):
    """One source at its gentlest setting that works, else the one that comes nearest.

    Times in s since it went on, null where there is none; `hot` names the first limit that is reached.
    `bond_c` is the most the coldest point of the bond reaches before that, `hottest_c` the most that
    surface and bond reach until the bond is soft, else until a limit.
    """

    told: str
    measured: bool
    works: bool
    cycles: bool
    soft_seconds: float | None
    stop_seconds: float | None
    hot_seconds: float | None
    hot: str
    window_seconds: float
    bond_c: float
    hottest_c: float
    advice: str


class HeatGiven(msgspec.Struct, frozen=True, kw_only=True):
    """The plan of one bond; `best` is the place of the gentlest source among `sources`, null for none.

    `refused` is filled, and `sources` empty, where the cell gets no heat at all.
    """

    id: str
    revision: int
    joint: str
    soft_c: float
    dwell_seconds: float
    refused: str
    advice: str
    best: int | None
    sources: tuple[SourceLine, ...]
    limits: tuple[LimitLine, ...]
    rests_on: tuple[str, ...]


@operation(Said(summary="Bonds that heat can soften", gives=BondsGiven))
def listed(request: Request, _body: bytes) -> BondsGiven:
    """Every bond of the record."""
    kept = kept_of(request)
    lines = tuple(BondLine(one.id, title_of(one), one.holds, one.soft_c) for one in bonds(kept.record))
    return BondsGiven(kept.id, kept.revision, lines)


@operation(Said(summary="How long and how hot", gives=HeatGiven, query=QUERY, works=True))
def planned(request: Request, _body: bytes) -> HeatGiven | Response:
    """The plan of one bond with every source at hand (`with`, repeated), state of the cell, own limits."""
    kept = kept_of(request)
    joint = joint_of(kept, request.path_params["joint"])
    form = asked_of(request.query_params, usable(store_of(request)))
    if form.faults:
        raise BadSetting("; ".join(f"{name}: {fault}" for name, fault in form.faults.items()))
    answer = waited(request, "heat", kept.record, {"joint": joint.id, **form.options})
    return working(request, answer) or given(kept, answer.value)


def given(kept: Kept, plan: Plan) -> HeatGiven:
    """A plan as JSON gives it."""
    best = next((n for n, one in enumerate(plan.attempts) if one == plan.best), None)
    return HeatGiven(
        id=kept.id,
        revision=kept.revision,
        joint=plan.joint,
        soft_c=plan.soft_c,
        dwell_seconds=plan.dwell_seconds,
        refused=plan.refused,
        advice=plan.advice,
        best=best,
        sources=tuple(source_line(one) for one in plan.attempts),
        limits=tuple(msgspec.convert(msgspec.to_builtins(one), LimitLine) for one in plan.limits),
        rests_on=plan.rests_on,
    )


def source_line(one: Attempt) -> SourceLine:
    """One attempt as JSON gives it, in seconds and °C with one decimal."""
    window = one.window
    return SourceLine(
        told=one.setting.told,
        measured=one.setting.measured,
        works=one.works,
        cycles=one.cycles is not None and one.cycles.works,
        soft_seconds=rounded(window.soft_seconds),
        stop_seconds=rounded(one.stop_seconds),
        hot_seconds=rounded(window.hot_seconds),
        hot=window.hot_key,
        window_seconds=round(window.seconds, 1),
        bond_c=round(window.reached_c, 1),
        hottest_c=round(one.peak_c, 1),
        advice=one.advice,
    )


def rounded(value: Any) -> float | None:
    """A time with one decimal, or none."""
    return None if value is None else round(float(value), 1)


routes = (
    Route("/api/records/{id}/heat", listed),
    Route("/api/records/{id}/heat/{joint}", planned),
)
