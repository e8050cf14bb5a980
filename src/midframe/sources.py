"""The published sources behind every figure: a key, its title, edition, way of citing, address and licence.

A figure in code or data is followed by `[key, clause]`; whoever prints a result
can list the sources it used, and only those.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal, TypeAlias

import msgspec

from midframe.faults import BadSetting


class Source(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One published text, data set or standard.

    Attributes
    ----------
    key
        Short name used in citations, for example `lbl-2023-1669`.
    title
        Title as published, with author or issuer.
    edition
        Edition, consolidation or date that was read.
    clauses
        How places in it are named: "article, annex, point", "table", "page", …
    read
        How far it was read: "text", "abstract", "second-hand" or "cited only".
    address
        Where it is published: a persistent address or a DOI; empty for a text in print only.
    licence
        Licence of the content, where one is stated.
    """

    key: str
    title: str
    edition: str
    clauses: str
    read: str
    address: str = ""
    licence: str = ""

    def __str__(self) -> str:
        """Give the source as one line of a reference list."""
        parts = [self.title, self.edition, self.address]
        return f"[{self.key}] " + ". ".join(part for part in parts if part) + "."


BasisKind: TypeAlias = Literal["measured", "label", "record", "given", "calculated", "default", "assumed"]
"""Where a figure comes from; `given` is typed in for this call, `default` a figure of this program."""


class Basis(msgspec.Struct, frozen=True):
    """What one figure of a result rests on.

    `figure` names it, `kind` says where it comes from, `text` gives its value in words and, where no
    published source is behind it, the mark "common practice, no source", "from memory" or "own
    construction". `sources` are keys of `record/sources.toml`.
    """

    figure: str
    kind: BasisKind
    text: str
    sources: tuple[str, ...] = ()


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its key, in the order of `record/sources.toml`.

    >>> sources()["lbl-2023-1669"].clauses
    'article, annex, point'
    """
    text = files("midframe.record").joinpath("sources.toml").read_text(encoding="utf-8")
    tables = tomllib.loads(text)
    return MappingProxyType(
        {key: msgspec.convert({"key": key, **table}, Source) for key, table in tables.items()}
    )


def cited(keys: Iterable[str]) -> tuple[Source, ...]:
    """Give the sources of these keys, once each, in the order of the list of sources.

    Raises
    ------
    BadSetting
        When a key is not in `record/sources.toml`.

    >>> [source.key for source in cited(["mil-hdbk-472", "lbl-2023-1669", "mil-hdbk-472"])]
    ['lbl-2023-1669', 'mil-hdbk-472']
    """
    wanted = set(keys)
    unknown = sorted(wanted - sources().keys())
    if unknown:
        raise BadSetting(
            f"no source has the key {', '.join(unknown)}; keys are listed in midframe/record/sources.toml"
        )
    return tuple(source for key, source in sources().items() if key in wanted)
