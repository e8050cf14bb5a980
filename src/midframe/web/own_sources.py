"""Own sources of heat: readings as they were typed, the source fitted to them, kept for every record."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import msgspec

from midframe.faults import UnknownRecord

if TYPE_CHECKING:
    from midframe.store import BenchNote, Store

THREAD = "heat-sources"


class Typed(msgspec.Struct, frozen=True, kw_only=True):
    """What was typed: a name, the setting that the source is nearest to, readings (s, °C) over which bond."""

    name: str
    setting: dict[str, Any]
    readings: tuple[tuple[float, float], ...]
    taped: bool
    thermometer_emissivity: float
    record_id: str
    device: str
    joint: str
    joint_name: str


class OwnSource(msgspec.Struct, frozen=True, kw_only=True):
    """One own source: what was typed, who and when; the calibration as plain data once it is fitted."""

    id: int
    typed: Typed
    author: str
    at: str
    calibration: Mapping[str, Any] | None = None
    removed: bool = False

    @property
    def key(self) -> str:
        """How an address names it."""
        return f"own-{self.id}"


class About(msgspec.Struct, frozen=True):
    """A later note on a source: which, and its calibration where it was fitted."""

    of: int
    calibration: dict[str, Any] | None = None


def own_sources(store: Store) -> tuple[OwnSource, ...]:
    """Every own source that was ever typed, the oldest first; removed ones say so."""
    found: dict[int, OwnSource] = {}
    for note in store.notes(THREAD):
        if note.kind == "typed":
            typed = msgspec.json.decode(note.content, type=Typed)
            found[note.id] = OwnSource(id=note.id, typed=typed, author=note.author, at=note.at)
            continue
        about = msgspec.json.decode(note.content, type=About)
        if about.of in found:
            found[about.of] = changed(found[about.of], note, about)
    return tuple(found.values())


def changed(source: OwnSource, note: BenchNote, about: About) -> OwnSource:
    """A source after a later note."""
    if note.kind == "fitted":
        return msgspec.structs.replace(source, calibration=about.calibration)
    return msgspec.structs.replace(source, removed=note.kind == "removed")


def usable(store: Store) -> tuple[OwnSource, ...]:
    """Own sources that a plan may use: fitted and not removed."""
    return tuple(one for one in own_sources(store) if one.calibration is not None and not one.removed)


def own_source(store: Store, number: int) -> OwnSource:
    """One own source; raises `UnknownRecord`."""
    found = next((one for one in own_sources(store) if one.id == number), None)
    if found is None:
        raise UnknownRecord(f"own source {number}: found none; right: one of the list of own sources")
    return found


def type_source(store: Store, typed: Typed, *, at: str, author: str = "", key: str = "") -> int:
    """Keep what was typed; its number."""
    content = msgspec.json.encode(typed).decode()
    return store.add_note(THREAD, "typed", content, at=at, author=author, key=key).id


def say(store: Store, kind: str, about: About, *, at: str, author: str = "", key: str = "") -> None:
    """Add a later note on a source: `fitted`, `removed` or `brought back`."""
    store.add_note(THREAD, kind, msgspec.json.encode(about).decode(), at=at, author=author, key=key)


def fit_options(source: OwnSource) -> dict[str, Any]:
    """The options of the question that fits a source; its name and number go with it."""
    typed = source.typed
    return {
        "joint": typed.joint,
        "setting": {**typed.setting, "name": typed.name, "source": source.key},
        "readings": [list(one) for one in typed.readings],
        "taped": typed.taped,
        "thermometer_emissivity": typed.thermometer_emissivity,
    }
