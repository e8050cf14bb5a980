"""Thermal layers: the stack as sections, substitute pads, the predecessor beside it, a bar test."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TypeVar
from urllib.parse import urlencode

from msgspec.structs import replace
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault
from midframe.publish.heat_path import path_drawing
from midframe.record import Record
from midframe.sources import cited
from midframe.thermal import (
    Pad,
    PadFit,
    Stack,
    Substitutes,
    common_pads,
    compare_layers,
    conductivity,
    heat_paths,
    layer_result,
    pads_from,
    samples_from_csv,
    substitutes,
    thermal_stack,
    with_pad,
    with_tested,
)
from midframe.thermal.substitutes import MEASURE, REPLACED
from midframe.thermal.units import number_of
from midframe.thermal.wording import figure, per_area, ranged, signed
from midframe.web.before import before_of
from midframe.web.context import store_of
from midframe.web.forms import posted, text
from midframe.web.pages.editing import opened, stored
from midframe.web.render import page

FIELDS: Mapping[str, int] = MappingProxyType(
    {
        **dict.fromkeys(("power", "thickness", "conductivity", "gap", "limit"), 30),
        **dict.fromkeys(("from", "replace"), 200),
        "pads": 6000,
        "tested": 6000,
    }
)
"""What may be typed, and how many letters of it are taken."""

LISTED = 6
"""Pads that stand open in the ranking; house choice."""

Made = TypeVar("Made")


def layers(request: Request) -> Response:
    """Everything about the thermal layers of one record, with what was asked in the address."""
    kept = store_of(request).get(request.path_params["id"])
    typed = {name: request.query_params.get(name, "").strip()[:most] for name, most in FIELDS.items()}
    faults = dict.fromkeys(("power", "from", "replace", "tested"), "")
    record, broken = sound_layers(kept.record)
    stack = tried(faults, "power", lambda: thermal_stack(record, number(typed, "power"))) or thermal_stack(
        record
    )
    paths = tried(faults, "from", lambda: heat_paths(record, stack, typed["from"])) or heat_paths(
        record, stack
    )
    found = tried(faults, "replace", lambda: replaced(stack, typed))
    fit = tried(faults, "tested", lambda: tested(typed))
    names = {part.id: part.name for part in record.parts}
    others, other = before_of(request, kept)
    beside = None if other is None else compare_layers(record, sound_layers(other.record)[0], stack.power_w)
    return page(
        request,
        "layers.html",
        422 if any(faults.values()) else 200,
        kept=kept,
        sheet="checks",
        sheet_title="Thermal layers",
        typed=typed,
        faults=faults,
        broken=broken,
        names=names,
        stack=stack,
        paths=paths,
        drawings=[(way, path_drawing(record, stack, way)) for way in paths if way.ends],
        touched=[(part, names[part]) for part in touched(stack)],
        replaceable=[
            ("", "choose a layer"),
            *((one.id, one.id) for one in stack.layers if one.kind in REPLACED),
        ],
        testable=[one.id for one in stack.layers if one.kind in ("pad", "putty", "paste")],
        found=found,
        measure=MEASURE,
        listed=LISTED,
        fit=fit,
        others=others,
        other=other,
        beside=beside,
        back=f"{request.url.path}?{urlencode(list(request.query_params.multi_items()))}",
        sources=cited({*stack.sources, "astm-d5470", "yovanovich-marotta"}),
        show=SHOW,
    )


SHOW: Mapping[str, Callable[..., str]] = MappingProxyType(
    {"figure": figure, "ranged": ranged, "per_area": per_area, "signed": signed}
)
"""How the page writes figures."""


def sound_layers(record: Record) -> tuple[Record, tuple[tuple[str, str], ...]]:
    """The record with those layers that can be reckoned, and of the others id and what is wrong."""
    good, broken = [], []
    for layer in record.layers:
        try:
            layer_result(layer, 1.0)
            good.append(layer)
        except BadSetting as fault:
            broken.append((layer.id, str(fault)))
    return replace(record, layers=tuple(good)), tuple(broken)


def tried(faults: dict[str, str], name: str, ask: Callable[[], Made]) -> Made | None:
    """The answer to one part of the form; what is wrong with it is noted under the part's name."""
    try:
        return ask()
    except Fault as fault:
        faults[name] = str(fault)
        return None


def touched(stack: Stack) -> tuple[str, ...]:
    """The parts that layers touch, each once."""
    return tuple(dict.fromkeys(part for pair in stack.pairs for part in pair.between))


def number(typed: Mapping[str, str], name: str) -> float | None:
    """The figure of a field; None where it is empty. Raises `BadSetting`."""
    return number_of(typed[name], name) if typed[name] else None


def replaced(stack: Stack, typed: Mapping[str, str]) -> Substitutes | None:
    """Substitutes for the chosen layer: of the pad or the list that was typed, else of the common ones."""
    if not typed["replace"]:
        return None
    pads = list(pads_from(typed["pads"], "pads")) if typed["pads"] else []
    thickness, k = number(typed, "thickness"), number(typed, "conductivity")
    if (thickness is None) != (k is None):
        raise BadSetting("pad: found one figure; right: thickness and conductivity, or neither")
    if thickness is not None and k is not None:
        pads.insert(0, Pad(thickness_mm=thickness, conductivity_w_mk=k))
    limit = number(typed, "limit")
    return substitutes(
        stack,
        typed["replace"],
        pads or common_pads(),
        limit_k=1.0 if limit is None else limit,
        gap_mm=number(typed, "gap"),
    )


def tested(typed: Mapping[str, str]) -> PadFit | None:
    """The line through the samples that were typed."""
    return conductivity(*samples_from_csv(typed["tested"], "samples")) if typed["tested"] else None


@posted
def fit_pad(request: Request, form: FormData) -> Response:
    """Put a pad into a layer of the record, as a revision."""
    kept, layer = opened(request, form), text(form, "layer", 200)
    figures = {name: text(form, name, 30) for name in ("thickness", "conductivity", "gap")}
    thickness, k = number(figures, "thickness"), number(figures, "conductivity")
    if thickness is None or k is None:
        raise BadSetting("pad: found no thickness or conductivity; right: both")
    pad = Pad(
        thickness_mm=thickness,
        conductivity_w_mk=k,
        name=text(form, "name", 80),
        kind="putty" if text(form, "kind", 10) == "putty" else "pad",
    )
    record = with_pad(kept.record, layer, pad, gap_mm=number(figures, "gap"))
    return stored(request, form, kept, record, f"thermal layer {layer}: {pad.words} put in")


@posted
def keep_tested(request: Request, form: FormData) -> Response:
    """Put the conductivity of a bar test into a layer of the record, as a revision."""
    kept, layer = opened(request, form), text(form, "layer", 200)
    fit = tested({"tested": text(form, "tested", FIELDS["tested"])})
    if fit is None:
        raise BadSetting("samples: found none; right: thicknesses and impedances as CSV")
    record = with_tested(kept.record, layer, fit)
    words = f"thermal layer {layer}: {fit.conductivity_w_mk:.3g} W/(m·K) by a bar test"
    return stored(request, form, kept, record, words)


def layers_stand(record: Record) -> str:
    """How many layers the record has, and how many of them lack thickness or area."""
    bare = sum(one.thickness_mm is None or one.area_mm2 is None for one in record.layers)
    told = f", {bare} without thickness or area" if bare else ""
    return f"{len(record.layers)} in the record{told}." if record.layers else ""


routes = (
    Route("/r/{id}/layers", layers),
    Route("/r/{id}/layers/fit", fit_pad, methods=["POST"]),
    Route("/r/{id}/layers/tested", keep_tested, methods=["POST"]),
)
