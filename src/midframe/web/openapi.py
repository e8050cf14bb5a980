"""The description of the JSON routes, OpenAPI 3.1, made from what each handler takes and gives."""

from __future__ import annotations

import json
import re
from collections.abc import Awaitable, Callable, Iterable
from functools import wraps
from typing import Any

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute, Route

from midframe import __version__
from midframe.faults import BadSetting
from midframe.record import schema

REFERENCE = "#/components/schemas/{name}"


class Refusal(msgspec.Struct, frozen=True):
    """What a refusal says: what was found, where, and what would be right."""

    fault: str


class Working(msgspec.Struct, frozen=True):
    """An answer that is still computed: what of, for how long, how many wait before it, how far it is.

    `number` of `of` single results are there; `again` is the address to ask again.
    """

    words: str
    seconds: float
    ahead: int
    number: int
    of: int
    again: str


class Said(msgspec.Struct, frozen=True, kw_only=True):
    """What is said of one operation: summary, struct taken, struct given, kinds of raw bodies, query.

    `works` where the answer may still be computed, which is told with 202.
    """

    summary: str
    takes: type[msgspec.Struct] | None = None
    gives: type[msgspec.Struct] | None = None
    takes_raw: tuple[str, ...] = ()
    gives_raw: tuple[str, ...] = ()
    status: int = 200
    query: tuple[str, ...] = ()
    works: bool = False


Handler = Callable[[Request, Any], Any]


def operation(said: Said) -> Callable[[Handler], Callable[[Request], Awaitable[Response]]]:
    """A JSON route: its body is read and checked first, its handler runs in the thread pool."""

    def described(handler: Handler) -> Callable[[Request], Awaitable[Response]]:
        @wraps(handler)
        async def read_then_handle(request: Request) -> Response:
            body = await request.body()
            given = await run_in_threadpool(lambda: handler(request, taken(request, body, said)))
            if isinstance(given, Response):
                return given
            return Response(msgspec.json.encode(given), said.status, media_type="application/json")

        read_then_handle.said = said  # type: ignore[attr-defined]
        return read_then_handle

    return described


def taken(request: Request, body: bytes, said: Said) -> Any:
    """The body as the operation takes it; raises `BadSetting` with the path of what does not fit."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if said.takes is None or kind in said.takes_raw:
        return body
    if kind != "application/json":
        right = " or ".join(("application/json", *said.takes_raw))
        raise BadSetting(f"the body: found {kind or 'no content type'}; right: {right}")
    try:
        return msgspec.json.decode(body, type=said.takes)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise BadSetting(f"the body: found {error}; right: what /api/openapi.json says") from None


def description(routes: Iterable[BaseRoute]) -> dict[str, Any]:
    """The OpenAPI document of those routes that say what they are."""
    found = [(route, said) for route in routes if isinstance(route, Route) and (said := said_of(route))]
    structs = {one for _, said in found for one in (said.takes, said.gives) if one} | {Refusal, Working}
    _, schemas = msgspec.json.schema_components(
        sorted(structs, key=lambda one: one.__name__), ref_template=REFERENCE
    )
    schemas = json.loads(json.dumps(schemas)) | record_schemas()
    for one in schemas.values():
        if "record" in one.get("properties", {}):
            one["properties"]["record"] = {"$ref": REFERENCE.format(name="Record")}
    paths: dict[str, Any] = {}
    for route, said in found:
        method = next(iter(sorted((route.methods or set()) - {"HEAD"}))).lower()
        paths.setdefault(route.path, {})[method] = described_operation(route, said)
    info = {"title": "midframe", "version": __version__}
    return {"openapi": "3.1.0", "info": info, "paths": paths, "components": {"schemas": schemas}}


def said_of(route: Route) -> Said | None:
    """What a route says of itself, if anything."""
    said = getattr(route.endpoint, "said", None)
    return said if isinstance(said, Said) else None


def described_operation(route: Route, said: Said) -> dict[str, Any]:
    """One operation: parameters, body, answers."""
    names = re.findall(r"{(\w+)", route.path)
    parameters: list[dict[str, Any]] = [
        {"name": name, "in": "path", "required": True, "schema": {"type": "string"}} for name in names
    ]
    parameters += [{"name": name, "in": "query", "schema": {"type": "string"}} for name in said.query]
    refused = {"content": content(Refusal, ())}
    responses = {str(said.status): {"description": "Done", "content": content(said.gives, said.gives_raw)}}
    if said.works:
        responses["202"] = {"description": "Being computed", "content": content(Working, ())}
    responses |= {
        status: {"description": words, **refused}
        for status, words in (
            ("400", "Not this address"),
            ("403", "Not allowed"),
            ("404", "Not here"),
            ("413", "Too large"),
            ("422", "Does not fit"),
            ("507", "The data cannot be written"),
        )
    }
    whole: dict[str, Any] = {"summary": said.summary, "parameters": parameters, "responses": responses}
    if said.takes or said.takes_raw:
        whole["requestBody"] = {"required": True, "content": content(said.takes, said.takes_raw)}
    return whole


def content(struct: type[msgspec.Struct] | None, raw: tuple[str, ...]) -> dict[str, Any]:
    """The kinds of a body: JSON of a struct, and raw ones."""
    kinds: dict[str, Any] = {kind: {"schema": {"type": "string", "format": "binary"}} for kind in raw}
    if struct is not None:
        kinds["application/json"] = {"schema": {"$ref": REFERENCE.format(name=struct.__name__)}}
    return kinds


def record_schemas() -> dict[str, Any]:
    """The schema of a record, its tables as components."""
    whole = json.loads(json.dumps(schema()).replace("#/$defs/", "#/components/schemas/"))
    tables: dict[str, Any] = whole.pop("$defs")
    del whole["$schema"]
    return {**tables, "Record": whole}
