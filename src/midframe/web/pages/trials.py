"""Function checks: each answered before and after the job, what is worse than before on top."""

from __future__ import annotations

import math
from typing import Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import Outcome, Record, Spec
from midframe.store import Kept
from midframe.trials import (
    CHANGES,
    OUTCOMES,
    Trial,
    When,
    anew,
    answered,
    answers,
    difference,
    left_over,
    trials,
    worse,
)
from midframe.web.context import store_of
from midframe.web.forms import posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import fragment, page_or_fragment

LONGEST_NOTE = 4_000


class Line(msgspec.Struct, frozen=True):
    """One check of a pass: its number in the list, what was said, what was said before the job."""

    number: int
    trial: Trial
    said: Outcome | None
    then: Outcome | None
    figures: tuple[Spec, ...]


def show(request: Request) -> Response:
    """A pass through the checks, or the difference; one line alone where the page asks for it."""
    kept = store_of(request).get(request.path_params["id"])
    view, one = wanted(request, kept.record), request.query_params.get("one", "")
    if one and "swap" in request.headers and view != "difference":
        found = [line for line in lines(kept.record, view) if line.trial.id == one]
        if found:
            return fragment(request, "trial_line.html", "line", kept=kept, line=found[0], show=view)
    return told(request, kept, view)


def wanted(request: Request, record: Record) -> Any:
    """The view that the address names, else what is to be done next: before, after, difference."""
    said = request.query_params.get("show", "")
    if said in ("before", "after", "difference"):
        return said
    before, after = answers(record)
    if not before and not after:
        return "before"
    return "difference" if len(after) >= len(trials(record, "after")) else "after"


def lines(record: Record, when: When) -> list[Line]:
    """The checks of one pass with their answers."""
    before, after = answers(record)
    side = before if when == "before" else after
    return [
        Line(number, trial, said, before.get(trial.id) if when == "after" else None, figures(trial, said))
        for number, trial in enumerate(trials(record, when), start=1)
        for said in [side.get(trial.id)]
    ]


def figures(trial: Trial, said: Outcome | None) -> tuple[Spec, ...]:
    """The figures to type beside a check: those it asks for, then others that were read."""
    held = {(one.label, one.unit): one for one in (said.figures if said else ())}
    asked = [(one.label, one.unit) for one in trial.figures]
    return tuple(
        held.get(key, Spec(label=key[0], unit=key[1], value="")) for key in dict.fromkeys([*asked, *held])
    )


def told(request: Request, kept: Kept, view: Any, *, fault: str = "", typed: Line | None = None) -> Response:
    """The page of one view."""
    record = kept.record
    before, after = answers(record)
    found = difference(record, before, after)
    listed = [] if view == "difference" else lines(record, view)
    if typed is not None:
        listed = [typed if line.trial.id == typed.trial.id else line for line in listed]
    return page_or_fragment(
        request,
        "trials.html",
        "trials",
        422 if fault else 200,
        kept=kept,
        sheet="checks",
        sheet_title="Function checks",
        show=view,
        lines=listed,
        said=sum(line.said is not None for line in listed),
        by_change=[(change, [one for one in found if one.change == change]) for change in CHANGES],
        worse=worse(found) if after else (),
        any_said=bool(before or after),
        left=left_over(record),
        names={part.id: part.name for part in record.parts},
        fault=fault,
    )


def outcome_of(form: FormData, held: Outcome | None) -> Outcome:
    """The answer in a form; without a word of its own it keeps the one that was given."""
    said: Any = text(form, "outcome") or (held.outcome if held else "not tried")
    if said not in OUTCOMES:
        raise BadSetting(f"the answer: found '{said}'; right: one of {', '.join(OUTCOMES)}")
    return Outcome(outcome=said, note=text(form, "note", LONGEST_NOTE), figures=read_figures(form))


def read_figures(form: FormData) -> tuple[Spec, ...]:
    """The figures that were typed, each with its name and unit; empty ones are left out."""
    columns = [[one if isinstance(one, str) else "" for one in form.getlist(name)] for name in COLUMNS]
    found = []
    for label, unit, value in zip(*columns, strict=False):
        if value.strip():
            found.append(Spec(label=label.strip() or "figure", unit=unit.strip(), value=number(value)))
    return tuple(found)


COLUMNS = ("label", "unit", "value")
"""Fields of a form that stand once for each figure."""


def number(typed: str) -> float | str:
    """What was typed as a number where it is one, with point or comma.

    >>> number("3,85"), number("good"), number("inf")
    (3.85, 'good', 'inf')
    """
    try:
        value = float(typed.strip().replace(",", "."))
    except ValueError:
        return typed.strip()[:200]
    return value if math.isfinite(value) else typed.strip()


@posted
def answer(request: Request, form: FormData) -> Response:
    """Keep one answer as a revision; the page keeps what was typed where it cannot be."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name, whole(form, "base"))
    check, when = text(form, "check"), text(form, "when")
    if when not in ("before", "after"):
        raise BadSetting(f"when: found '{when}'; right: before or after")
    side: Any = when
    line = next((one for one in lines(kept.record, side) if one.trial.id == check), None)
    if line is None:
        raise UnknownPart(f"no check '{check}' {when} the job; right: one of the list on this page")
    try:
        outcome = outcome_of(form, line.said)
    except BadSetting as fault:
        kept_words = Outcome(outcome="not tried", note=text(form, "note"), figures=read_figures(form))
        typed = msgspec.structs.replace(line, said=kept_words, figures=kept_words.figures)
        return told(request, kept, side, fault=str(fault), typed=typed)
    summary = f"Function check {line.trial.name}, {when} the job: {outcome.outcome}"
    saved = keep(request, form, kept, answered(kept.record, check, side, outcome), summary)
    if request.headers.get("swap", "") == "outbox":
        return Response(status_code=204)
    return onward(saved, f"/r/{name}/trials?show={when}&one={check}#trial-{check}")


@posted
def begin_anew(request: Request, form: FormData) -> Response:
    """Take all answers away for the next job; the history keeps them."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name, whole(form, "base"))
    saved = keep(request, form, kept, anew(kept.record), "Function checks begun anew")
    return onward(saved, f"/r/{name}/trials?show=before")


routes = (
    Route("/r/{id}/trials", show, methods=["GET"]),
    Route("/r/{id}/trials", answer, methods=["POST"]),
    Route("/r/{id}/trials/anew", begin_anew, methods=["POST"]),
)
