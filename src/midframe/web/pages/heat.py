"""Heat: every bond that can be softened with its answer in a line, and the plan of one bond."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import msgspec
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import UnknownPart
from midframe.publish.names import title_of
from midframe.record.model import PRIORITY_ROLES, Joint, Record
from midframe.store import Kept
from midframe.ways.electrical import cells
from midframe.web.answers import Answer
from midframe.web.context import store_of
from midframe.web.forms import posted
from midframe.web.heat_form import CELLS, LIMITS, SOURCES, Asked, asked_of, known_state
from midframe.web.own_sources import OwnSource, usable
from midframe.web.render import page, page_or_fragment, see_other
from midframe.web.waiting import STATUS, again_at, answers_of, asked
from midframe.web.words import duration

if TYPE_CHECKING:
    from midframe.heat import Attempt, Plan
    from midframe.web.answers import Answers

MOST_BONDS = 80
"""Bonds that are answered on the list by themselves; the others when they are opened (house choice)."""


class Row(msgspec.Struct, frozen=True, kw_only=True):
    """One bond of the list: its joint, what it holds in words, what is known of its answer."""

    joint: Joint
    holds: tuple[str, ...]
    answer: Answer | None


def bonds(record: Record) -> tuple[Joint, ...]:
    """The joints that heat can soften, those of covers, displays and batteries first."""
    first = {part.id for part in record.parts if {part.role, *part.also} & set(PRIORITY_ROLES)}
    found = [joint for joint in record.joints if joint.kind == "adhesive"]
    return tuple(sorted(found, key=lambda joint: not (set(joint.holds) & first)))


def heat(request: Request) -> Response:
    """The bonds of a device, each with its answer as soon as it is there."""
    kept = store_of(request).get(request.path_params["id"])
    rows = rows_of(answers_of(request), kept.record, usable(store_of(request)))
    working = [row for row in rows if row.answer is not None and row.answer.status == "working"]
    return page_or_fragment(
        request,
        "heat.html",
        "answer",
        202 if working else 200,
        kept=kept,
        sheet="heat",
        sheet_title="Heat",
        rows=rows,
        working=len(working),
        there=sum(row.answer is not None and row.answer.status != "working" for row in rows),
        stopped=any(row.answer is not None and row.answer.status == "stopped" for row in rows),
        line=line,
        again=again_at(request),
        known=known_state(kept.record),
    )


def rows_of(answers: Answers, record: Record, own: Sequence[OwnSource]) -> list[Row]:
    """The bonds with what is known of each; what is new is begun behind everything else."""
    names = {part.id: part.name for part in record.parts}
    options = asked_of({}, own).options
    found = []
    for number, joint in enumerate(bonds(record)):
        answer = None
        if number < MOST_BONDS:
            question = {"joint": joint.id, **options}
            answer = answers.ask("heat", record, question, wait=0.0, background=True)
        holds = tuple(names.get(one, one) for one in joint.holds)
        found.append(Row(joint=joint, holds=holds, answer=answer))
    return found


def line(plan: Plan) -> str:
    """A plan in one line."""
    if plan.refused:
        return plan.refused
    best = plan.best
    if best is not None:
        window = "no limit in the time looked at"
        if not best.window.open_ended:
            window = f"window {duration(best.window.seconds)}"
        return f"{best.setting.told}: soft after {duration(best.window.soft_seconds)}, {window}"
    turned = next((one for one in plan.attempts if one.cycles is not None and one.cycles.works), None)
    if turned is not None:
        return f"Only in on and off cycles: {turned.setting.told}"
    nearest = nearest_of(plan)
    return "Not feasible within the limits" + (f": {nearest.advice}" if nearest is not None else "")


def nearest_of(plan: Plan) -> Attempt | None:
    """The attempt that comes nearest."""
    return max(plan.attempts, key=lambda one: one.window.reached_c, default=None)


@posted
def stop(request: Request, form: FormData) -> Response:  # noqa: ARG001 (a handler is given its request)
    """End what is still computed for the list."""
    for row in listed(request):
        if row.answer is not None:
            answers_of(request).stop(row.answer.key)
    return see_other(f"/r/{request.path_params['id']}/heat")


@posted
def again(request: Request, form: FormData) -> Response:  # noqa: ARG001
    """Compute what was stopped."""
    for row in listed(request):
        if row.answer is not None and row.answer.status == "stopped":
            answers_of(request).forget(row.answer.key)
    return see_other(f"/r/{request.path_params['id']}/heat")


def listed(request: Request) -> list[Row]:
    """The rows of the record of an address."""
    store = store_of(request)
    return rows_of(answers_of(request), store.get(request.path_params["id"]).record, usable(store))


def joint_of(kept: Kept, name: str) -> Joint:
    """The joint of an address; raises `UnknownPart`."""
    found = next((joint for joint in kept.record.joints if joint.id == name), None)
    if found is None or found.kind != "adhesive":
        what = "no joint" if found is None else f"a {found.kind}, which heat does not soften,"
        raise UnknownPart(f"found {what} '{name[:60]}' in {kept.name}; right: a bond of the sheet Heat")
    return found


def bond(request: Request) -> Response:
    """The plan of one bond."""
    store = store_of(request)
    kept = store.get(request.path_params["id"])
    joint, own = joint_of(kept, request.path_params["joint"]), usable(store)
    form = asked_of(request.query_params, own)
    context = bond_context(request, kept, joint, form, own)
    if form.faults:
        return page(request, "heat_bond.html", 422, answer=None, look=None, number=0, **context)
    answer = asked(request, "heat", kept.record, {"joint": joint.id, **form.options})
    number, look = looked_at(request, kept.record, joint, form, answer)
    waits = look is not None and look.status == "working"
    return page_or_fragment(
        request,
        "heat_bond.html",
        "answer",
        202 if waits else STATUS[answer.status],
        answer=answer,
        look=look,
        number=number,
        **context,
    )


def looked_at(
    request: Request, record: Record, joint: Joint, form: Asked, answer: Answer
) -> tuple[int, Answer | None]:
    """The attempt that is shown closely (by `show`, else the best, else the nearest), and its answer."""
    if answer.status != "done" or not answer.value.attempts:
        return 0, None
    plan: Plan = answer.value
    wanted = request.query_params.get("show", "")
    number = int(wanted) if wanted.isascii() and wanted.isdigit() and len(wanted) < 4 else -1
    if not 0 <= number < len(plan.attempts):
        shown = plan.best or nearest_of(plan)
        number = next(n for n, one in enumerate(plan.attempts) if shown and one.setting == shown.setting)
    return number, asked(request, "heat-look", record, look_options(joint, form, plan.attempts[number]))


def look_options(joint: Joint, form: Asked, tried: Attempt) -> dict[str, Any]:
    """The options of the question that looks at one attempt closely."""
    return {
        "joint": joint.id,
        **{key: value for key, value in form.options.items() if key not in ("own", "sources")},
        "setting": msgspec.to_builtins(tried.setting),
        "cycles": tried.cycles is not None,
    }


def bond_context(
    request: Request, kept: Kept, joint: Joint, form: Asked, own: Sequence[OwnSource]
) -> dict[str, Any]:
    """What the template of a plan is given beside its answers."""
    parts = {part.id: part for part in kept.record.parts}
    there = [parts[one] for one in cells(kept.record)]
    return {
        "kept": kept,
        "sheet": "heat",
        "sheet_title": f"Heat: {title_of(joint)}",
        "joint": joint,
        "holds": [parts[one].name for one in joint.holds if one in parts],
        "form": form,
        "own": own,
        "cells": CELLS,
        "limits": LIMITS,
        "table": SOURCES,
        "others": there or [parts[one] for one in joint.holds if one in parts],
        "known": known_state(kept.record),
        "again": again_at(request),
        "show_at": lambda number: str(request.url.include_query_params(show=number).query),
        "begin_of": lambda tried: msgspec.json.encode(begun(joint, form, tried)).decode(),
    }


def begun(joint: Joint, form: Asked, tried: Attempt) -> dict[str, Any]:
    """What the timer is begun with: the options of the plan and the setting."""
    return look_options(joint, form, tried)


routes = (
    Route("/r/{id}/heat", heat),
    Route("/r/{id}/heat/stop", stop, methods=["POST"]),
    Route("/r/{id}/heat/again", again, methods=["POST"]),
    Route("/r/{id}/heat/{joint}", bond),
)
