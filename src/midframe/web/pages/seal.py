"""Seal: a pressure or vacuum decay test typed or given as CSV, its leak rate beside criteria, kept."""

from __future__ import annotations

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, UnknownPart
from midframe.publish.seal_chart import seal_chart
from midframe.record.model import Record, SealTest
from midframe.seal import SealCheck, from_pa_m3_s, kept_in, readings_kept, result_of
from midframe.sources import cited
from midframe.store import Kept
from midframe.web.context import now, store_of
from midframe.web.forms import posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import page_or_fragment
from midframe.web.seal_form import CHOICES, Read, Typed, more_rows, read, typed_like, typed_of

OTHER_UNITS = ("mbar·L/s", "atm·cc/min", "sccm")
"""Units that a leak rate is told in besides Pa·m³/s."""


class Shown(msgspec.Struct, frozen=True):
    """One test as the page shows it: the kept table, its result, its chart."""

    test: SealTest
    found: SealCheck | None
    chart: str
    others: tuple[str, ...]
    fault: str = ""


def seal(request: Request) -> Response:
    """The form, and the kept tests with the newest in front."""
    kept = store_of(request).get(request.path_params["id"])
    tests = kept.record.seal_tests
    return told(request, kept, typed_like(tests[-1]) if tests else Typed())


def told(
    request: Request, kept: Kept, typed: Typed, *, said: Read | None = None, tried: Shown | None = None
) -> Response:
    """The page with what was typed, what is wrong with it, and a result that is not kept yet."""
    wrong = (*said.by_field.values(), *said.by_row) if said else ()
    shown = [shown_of(test) for test in reversed(kept.record.seal_tests)]
    keys = {
        one.criterion.source: None
        for each in (*shown, *([tried] if tried else []))
        for one in (each.found.compared if each.found else ())
        if one.criterion.source
    }
    return page_or_fragment(
        request,
        "seal.html",
        "kept" if request.query_params.get("block") == "kept" else "seal",
        422 if wrong else 200,
        kept=kept,
        sheet="checks",
        sheet_title="Seal",
        typed=typed,
        choices=CHOICES,
        wrong=wrong,
        by_field=said.by_field if said else {},
        cells=said.cells if said else frozenset(),
        tried=tried,
        tests=shown,
        harmed=[part.name for part in kept.record.parts if part.condition in ("damaged", "swollen")],
        seals=seal_words(kept.record),
        sources=cited([*keys, "jcgm-100"]) if keys else (),
    )


def seal_words(record: Record) -> list[str]:
    """The seals of the record, in words."""
    names = {part.id: part.name for part in record.parts} | {
        joint.id: joint.name or joint.id for joint in record.joints
    }
    return [
        f"{one.kind.capitalize()} at {', '.join(names.get(at, at) for at in one.at)}" for one in record.seals
    ]


def shown_of(test: SealTest) -> Shown:
    """A test with its result; one whose figures cannot be says so."""
    try:
        found = result_of(test)
    except BadSetting as fault:
        return Shown(test, None, "", (), str(fault))
    chart = seal_chart(readings_kept(test), found, ambient_pa=test.ambient_pa)
    others = tuple(f"{from_pa_m3_s(found.rate_pa_m3_s, unit):.2g} {unit}" for unit in OTHER_UNITS)
    return Shown(test, found, chart, others)


@posted
def take(request: Request, form: FormData) -> Response:
    """Compute a test, or keep it with the record, or give more rows to type in."""
    store, name = store_of(request), request.path_params["id"]
    kept, typed = store.get(name, whole(form, "base")), typed_of(form)
    if text(form, "do") == "more":
        return told(request, kept, more_rows(typed))
    said = read(typed)
    if not said.sound or said.setup is None:
        return told(request, kept, typed, said=said)
    record = kept_in(kept.record, said.readings, said.setup, at=now(), note=typed.note)
    shown = shown_of(record.seal_tests[-1])
    if shown.found is None:
        return told(request, kept, typed, said=Read(by_row=(shown.fault,)))
    if text(form, "do") != "keep":
        return told(request, kept, typed, tried=shown)
    summary = f"Seal test kept: {shown.found.rate_pa_m3_s:.2e} Pa·m³/s"
    return stored(request, form, kept, record, summary)


@posted
def remove(request: Request, form: FormData) -> Response:
    """Take one kept test out of the record; undo brings it back."""
    kept = store_of(request).get(request.path_params["id"], whole(form, "base"))
    left = tuple(one for one in kept.record.seal_tests if one.id != request.path_params["test"])
    if len(left) == len(kept.record.seal_tests):
        raise UnknownPart(f"no seal test '{request.path_params['test']}' in the record; perhaps taken out")
    record = msgspec.structs.replace(kept.record, seal_tests=left)
    return stored(request, form, kept, record, f"Seal test {request.path_params['test']} taken out")


def stored(request: Request, form: FormData, kept: Kept, record: Record, summary: str) -> Response:
    """Keep the record as a revision and show the page anew."""
    return onward(keep(request, form, kept, record, summary), f"/r/{kept.id}/seal")


routes = (
    Route("/r/{id}/seal", seal, methods=["GET"]),
    Route("/r/{id}/seal", take, methods=["POST"]),
    Route("/r/{id}/seal/{test}/remove", remove, methods=["POST"]),
)
