"""The record as a JSON Schema, for editors that complete and check TOML as it is typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from midframe.record.model import Record

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """The schema of `*.device.toml`, JSON Schema draft 2020-12.

    What `read` accepts, it accepts: conditions and `work` flat or as
    alternatives; nothing is null, since TOML has no such value. Ids that lead
    nowhere are beyond it, `check` finds those.

    >>> schema()["required"]
    ['format', 'device', 'parts']
    """
    (root,), tables = msgspec.json.schema_components([Record], ref_template="#/$defs/{name}")
    tables = {name: adapted(table) for name, table in tables.items()}
    top = tables.pop(root["$ref"].rpartition("/")[2])
    return {"$schema": DRAFT, **top, "title": "midframe device record", "$defs": tables}


def adapted(table: Mapping[str, Any]) -> dict[str, Any]:
    """One table's schema as the file has it: no null, no null default, alternatives also flat."""
    properties = {key: flat_or_nested(without_null(one)) for key, one in table.get("properties", {}).items()}
    return {**table, "properties": properties}


def without_null(one: Mapping[str, Any]) -> dict[str, Any]:
    """A key's schema without null as type or default."""
    kept = {key: value for key, value in one.items() if not (key == "default" and value is None)}
    if kept.get("default") == ():
        kept["default"] = []
    choices = [choice for choice in kept.get("anyOf", ()) if choice != {"type": "null"}]
    if len(choices) == 1:
        del kept["anyOf"]
        return {**choices[0], **kept}
    if "enum" in kept:
        kept["enum"] = [value for value in kept["enum"] if value is not None]
    return {**kept, "anyOf": choices} if choices else kept


def flat_or_nested(one: dict[str, Any]) -> dict[str, Any]:
    """A list of lists may also be written as the one flat list; no alternative is empty."""
    inner = one.get("items")
    if not isinstance(inner, dict) or inner.get("type") != "array" or "prefixItems" in inner:
        return one
    nested = {"type": "array", "minItems": 1, "items": {**inner, "minItems": 1}}
    rest = {key: value for key, value in one.items() if key not in ("type", "items")}
    return {**rest, "anyOf": [inner, nested]}
