"""Answers as JSON: ways, index, upkeep from the workers, with a place to ask again; thermal layers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec
from starlette.requests import Request
from starlette.responses import Response

from midframe.dossier.index import DeviceIndex
from midframe.dossier.summary import WayRow, way_row
from midframe.dossier.upkeep import DeviceUpkeep
from midframe.faults import BadSetting
from midframe.publish.names import title_of
from midframe.record import Record
from midframe.record.model import Face, Part
from midframe.store import Kept
from midframe.thermal import Path, Stack, heat_paths, thermal_stack
from midframe.thermal.units import number_of
from midframe.ways.way import whys
from midframe.web.answers import Answer
from midframe.web.choices import LEAST, one_of, readings_of
from midframe.web.context import store_of
from midframe.web.openapi import Said, Working, operation
from midframe.web.pages.ways import part_of, way_options
from midframe.web.waiting import again_at, answers_of

USUAL_WAIT, MOST_WAIT = 10.0, 20.0
"""Seconds that a request waits for an answer: by default and at the most; house choice."""


class WaysGiven(msgspec.Struct, frozen=True):
    """The best way in to every part of a record at a revision."""

    id: str
    revision: int
    ways: tuple[WayRow, ...]


class MoveLine(msgspec.Struct, frozen=True, kw_only=True):
    """One move of a way: the joint opened (by its alternative `by`) or the parts lifted.

    `names` are those of the joint or the parts, `aside` the parts that leave their seat, `steps` the kinds of
    step that are counted in it, `needed_by` the numbers of later moves that need it (0: the part being out).
    """

    number: int
    names: tuple[str, ...]
    open: str
    by: int
    lift: tuple[str, ...]
    face: Face | None
    aside: tuple[str, ...]
    seconds: float
    steps: tuple[str, ...]
    needed_by: tuple[int, ...]


class WayGiven(msgspec.Struct, frozen=True):
    """The best way in to one part, move by move, with the battery unplugged first as asked."""

    id: str
    revision: int
    way: WayRow
    power: str
    moves: tuple[MoveLine, ...]


class IndexGiven(msgspec.Struct, frozen=True):
    """The repairability index and what every regulation finds; not legal advice."""

    id: str
    revision: int
    found: DeviceIndex


class UpkeepGiven(msgspec.Struct, frozen=True):
    """Mean time to repair over the mix of failures."""

    id: str
    revision: int
    found: DeviceUpkeep


class LayersGiven(msgspec.Struct, frozen=True):
    """Thermal layers at a power, and the ways of the heat from the warm part."""

    id: str
    revision: int
    stack: Stack
    paths: tuple[Path, ...]


@operation(
    Said(summary="Ways in", gives=WaysGiven, query=("by", "reading", "wait"), works=True),
)
def ways(request: Request, _body: bytes) -> WaysGiven | Response:
    """The best way in to every part; `by` says what is least, `reading` switches a reading of the steps."""
    kept, query = kept_of(request), request.query_params
    options = {"by": one_of(query, "by", LEAST), "readings": msgspec.to_builtins(readings_of(query))}
    answer = waited(request, "ways", kept.record, options)
    return working(request, answer) or WaysGiven(kept.id, kept.revision, answer.value)


@operation(
    Said(summary="One way in", gives=WayGiven, query=("by", "power", "reading", "wait"), works=True),
)
def way(request: Request, _body: bytes) -> WayGiven | Response:
    """The best way in to one part, move by move; `power` says whether the battery is unplugged first."""
    kept = kept_of(request)
    part = part_of(kept, request.path_params["part"])
    answer = waited(request, "way", kept.record, way_options(request, part))
    return working(request, answer) or way_given(kept, part, answer.value[1])


@operation(Said(summary="The index", gives=IndexGiven, query=("reading", "wait"), works=True))
def index(request: Request, _body: bytes) -> IndexGiven | Response:
    """The EU repairability index with every number's clause, and the findings of the other regulations."""
    kept = kept_of(request)
    answer = waited(request, "index", kept.record, readings_in_query(request))
    return working(request, answer) or IndexGiven(kept.id, kept.revision, answer.value)


@operation(Said(summary="Upkeep", gives=UpkeepGiven, query=("reading", "wait"), works=True))
def upkeep(request: Request, _body: bytes) -> UpkeepGiven | Response:
    """Mean time to repair with its interval, part by part."""
    kept = kept_of(request)
    answer = waited(request, "upkeep", kept.record, readings_in_query(request))
    return working(request, answer) or UpkeepGiven(kept.id, kept.revision, answer.value)


@operation(Said(summary="Thermal layers", gives=LayersGiven, query=("power", "from")))
def layers(request: Request, _body: bytes) -> LayersGiven:
    """Resistance and drop of the thermal layers at `power` (W), and the ways of the heat."""
    kept, query = kept_of(request), request.query_params
    said = query.get("power", "")
    stack = thermal_stack(kept.record, number_of(said, "power") if said else None)
    return LayersGiven(kept.id, kept.revision, stack, heat_paths(kept.record, stack, query.get("from", "")))


def kept_of(request: Request) -> Kept:
    """The record of an address."""
    return store_of(request).get(request.path_params["id"])


def readings_in_query(request: Request) -> dict[str, Any]:
    """Options of a question that depends on the readings alone."""
    return {"readings": msgspec.to_builtins(readings_of(request.query_params))}


def waited(request: Request, question: str, record: Record, options: Mapping[str, Any]) -> Answer:
    """The answer, waited for as long as `wait` says; asked anew where somebody had stopped it.

    Raises `BadSetting` with the message of an answer that failed.
    """
    answers, seconds = answers_of(request), wait_of(request)
    found = answers.ask(question, record, options, wait=seconds)
    if found.status == "stopped":
        answers.forget(found.key)
        found = answers.ask(question, record, options, wait=seconds)
    if found.status == "failed":
        raise BadSetting(found.message)
    return found


def wait_of(request: Request) -> float:
    """Seconds to wait, as the query says; raises `BadSetting`."""
    said = request.query_params.get("wait", "")
    seconds = number_of(said, "wait") if said else USUAL_WAIT
    if not 0 <= seconds <= MOST_WAIT:
        raise BadSetting(f"wait: found {seconds:g} s; right: 0 to {MOST_WAIT:g}")
    return seconds


def working(request: Request, answer: Answer) -> Response | None:
    """202 with how far it is and where to ask again, unless the answer is there."""
    if answer.status == "done":
        return None
    told = Working(
        words=answer.words,
        seconds=answer.seconds,
        ahead=answer.ahead,
        number=answer.number,
        of=answer.of,
        again=again_at(request),
    )
    headers = {"Location": told.again, "Retry-After": "1"}
    return Response(msgspec.json.encode(told), 202, headers, "application/json")


def way_given(kept: Kept, part: Part, beside: Any) -> WayGiven:
    """One way as JSON gives it, from what the page of the way shows."""
    record, powered = kept.record, beside.powered
    needed = whys(record, powered.moves, part.id)
    names = {joint.id: title_of(joint) for joint in record.joints}
    names |= {one.id: one.name for one in record.parts}
    lines = tuple(
        MoveLine(
            number=number,
            names=tuple(names[thing] for thing in ((one.move.open,) if one.move.open else one.move.lift)),
            open=one.move.open,
            by=one.move.by,
            lift=one.move.lift,
            face=one.face,
            aside=one.aside,
            seconds=round(one.seconds, 3),
            steps=one.steps,
            needed_by=later,
        )
        for number, (one, later) in enumerate(zip(powered.count.moves, needed, strict=True), start=1)
    )
    return WayGiven(kept.id, kept.revision, way_row(record, part.id, beside.way), powered.text, lines)
