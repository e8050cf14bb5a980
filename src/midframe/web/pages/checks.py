"""Checks: the way to function checks, seal and what else is checked on the bench, and how each stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.battery import stands
from midframe.faults import BadSetting
from midframe.record.model import Record
from midframe.seal import result_of
from midframe.trials import answers, difference, worse
from midframe.web.context import store_of
from midframe.web.pages.layers import layers_stand
from midframe.web.render import page


def trials_stand(record: Record) -> str:
    """How many function checks are answered, and how many are worse than before."""
    before, after = answers(record)
    if not before and not after:
        return ""
    bad = len(worse(difference(record, before, after))) if after else 0
    told = f"{len(before)} answered before, {len(after)} after the job"
    return f"{bad} worse than before; {told}." if bad else f"{told[:1].upper()}{told[1:]}."


def seal_stands(record: Record) -> str:
    """The newest seal test beside the limit for the bench."""
    if not record.seal_tests:
        return ""
    test = record.seal_tests[-1]
    try:
        found = result_of(test)
    except BadSetting:
        return "The newest test has figures that cannot be."
    first = found.compared[0]
    beside = "not decided beside" if first.verdict == "not decided" else first.verdict
    return (
        f"{found.rate_pa_m3_s:.1e} Pa·m³/s on {test.at[:10]}: {beside} the limit for the bench; "
        "no rating is restored."
    )


STANDS: Mapping[str, Callable[[Record], str]] = MappingProxyType(
    {"trials": trials_stand, "seal": seal_stands, "battery": stands, "layers": layers_stand}
)
"""Key of a page in `checks_nav.html` → how that check stands, in a few words; empty where nothing is done."""


def checks(request: Request) -> Response:
    """The pages under Checks, each with what it is for and how it stands."""
    kept = store_of(request).get(request.path_params["id"])
    told = {key: told_of(kept.record) for key, told_of in STANDS.items()}
    return page(request, "checks.html", kept=kept, sheet="checks", sheet_title="Checks", told=told)


routes = (Route("/r/{id}/checks", checks),)
