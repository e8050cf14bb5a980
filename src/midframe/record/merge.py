"""Three-way merge of a record: different edits both hold, of two edits of the same thing neither is lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import msgspec

from midframe.record.alignment import aligned_log, content_of, together
from midframe.record.check import check
from midframe.record.findings import Finding, faults
from midframe.record.model import LogEntry, Record
from midframe.record.places import Path, at, element_type, keyed, plain, subject, with_value
from midframe.record.reader import fields_of, hints
from midframe.record.references import uses

MISSING: Any = object()
"""The base of a field that must be there, of an element that was not."""

ROUNDS = 12
"""How often a merged record is mended before it is given up; house choice."""


class Conflict(msgspec.Struct, frozen=True):
    """One thing edited twice: `theirs` stands in the merged record, `mine` was set aside.

    Both are plain data; `None` stands for absent or deleted.
    """

    path: Path
    mine: Any
    theirs: Any

    @property
    def subject(self) -> str:
        """The place in words."""
        return subject(self.path)


class Merged(msgspec.Struct, frozen=True):
    """The record both edits came to, and what was set aside."""

    record: Record
    conflicts: tuple[Conflict, ...] = ()


def merge(base: Record, mine: Record, theirs: Record) -> Merged:
    """Both edits of one record in one: `theirs` is the record as it stands, `mine` the edit to bring in.

    Elements of lists are matched by id (photos by hash, tools by name, orders
    by target and title, lines of the log by their place, second and move).
    Fields that only one side changed take that change. A field that both
    changed differently keeps theirs, and mine becomes a `Conflict`. A merged
    record has no fault that neither side had: where one deletes what the other
    uses, it comes back and the deletion is set aside.
    """
    if mine in (base, theirs):
        return Merged(theirs)
    if theirs == base:
        return Merged(mine)
    merging = Merging()
    record = merging.table(base, mine, theirs, ())
    return mended(Merged(record, tuple(merging.conflicts)), base, mine, theirs)


class Merging:
    """One pass over three records that gathers conflicts as it goes."""

    def __init__(self) -> None:
        self.conflicts: list[Conflict] = []

    def aside(self, path: Path, mine: Any, theirs: Any) -> Any:
        """Notes a conflict and gives theirs."""
        self.conflicts.append(Conflict(path, plain(mine), plain(theirs)))
        return theirs

    def table(self, base: Any, mine: Any, theirs: Any, path: Path) -> Any:
        """A struct field by field; without a base, defaults stand for it."""
        struct: type[msgspec.Struct] = type(theirs)
        kinds = hints(struct)
        values = {}
        for field in fields_of(struct):
            blank = MISSING if field.required else field.default
            old = blank if base is None else getattr(base, field.name)
            values[field.name] = self.value(
                (old, getattr(mine, field.name), getattr(theirs, field.name)),
                kinds[field.name],
                (*path, field.name),
            )
        return struct(**values)

    def value(self, three: tuple[Any, Any, Any], kind: Any, path: Path) -> Any:
        """One value of base, mine and theirs."""
        base, mine, theirs = three
        if mine == theirs or same(mine, base):
            return theirs
        if same(theirs, base):
            return mine
        listed = element_type(kind)
        if listed is not None:
            return self.listing(three, listed, path)
        if path[-1] == "photos":
            return union(() if base is MISSING else base, mine, theirs)
        if isinstance(mine, msgspec.Struct) and type(mine) is type(theirs):
            return self.table(base if type(base) is type(mine) else None, mine, theirs, path)
        return self.aside(path, mine, theirs)

    def listing(self, three: tuple[Any, Any, Any], kind: type[msgspec.Struct], path: Path) -> tuple[Any, ...]:
        """A list, element by element."""
        if kind is LogEntry:
            base, mine, theirs = aligned_log(*three)
            both = mine | theirs
            order, clash = together(list(base), list(mine), list(theirs), lambda key: log_rank(both[key]))
        else:
            base, mine, theirs = (keyed(one, kind) for one in three)
            order, clash = together(list(base), list(mine), list(theirs), str)
        names = {key: name for name, key in zip(keyed(three[2], kind), theirs, strict=True)}
        names = dict(zip(mine, keyed(three[1], kind), strict=True)) | names
        if clash:
            self.aside(path, [names[key] for key in mine], [names[key] for key in theirs])
        found = (
            self.element(base.get(key), mine.get(key), theirs.get(key), (*path, names.get(key, key)))
            for key in order
        )
        return tuple(one for one in found if one is not None)

    def element(self, base: Any, mine: Any, theirs: Any, path: Path) -> Any:
        """One element, which any side may lack; `None` where it is gone."""
        if mine is None and theirs is None:
            return None
        if mine is None:
            return self.gone(base, theirs, path)
        if theirs is None:
            if base is None:
                return mine
            return None if mine == base else self.aside(path, mine, None)
        if mine in (theirs, base):
            return theirs
        return mine if theirs == base else self.table(base, mine, theirs, path)

    def gone(self, base: Any, theirs: Any, path: Path) -> Any:
        """An element that mine lacks: new in theirs, deleted by mine, or deleted while theirs edited it."""
        if base is None:
            return theirs
        return None if theirs == base else self.aside(path, None, theirs)


def same(value: Any, base: Any) -> bool:
    """Whether a value is that of the base; nothing is where there was no base."""
    return base is not MISSING and bool(value == base)


def union(base: tuple[str, ...], mine: tuple[str, ...], theirs: tuple[str, ...]) -> tuple[str, ...]:
    """A list of hashes: what either side added is in it, what either side took out is not."""
    order, _ = together(tuple(dict.fromkeys(base)), mine, theirs, str)
    out = {one for one in base if one not in mine or one not in theirs}
    return tuple(one for one in order if one not in out)


def log_rank(entry: LogEntry) -> tuple[float, str]:
    """New lines of both sides stand in order of their seconds."""
    return entry.seconds, content_of(entry)


def mended(merged: Merged, base: Record, mine: Record, theirs: Record) -> Merged:
    """The merged record without faults that neither side had; at the worst theirs, mine set aside whole."""
    known = {mark(one) for side in (mine, theirs) for one in faults(check(side))}
    for _ in range(ROUNDS):
        found = [one for one in faults(check(merged.record)) if mark(one) not in known]
        if not found:
            return merged
        better = brought_back(merged, base, mine, theirs) or given_way(merged, theirs, found)
        if better is None:
            break
        merged = better
    return Merged(theirs, (Conflict((), plain(mine), plain(theirs)),))


def mark(finding: Finding) -> tuple[str, str]:
    """What a fault is known by, wherever it stands."""
    return finding.subject, finding.found


def brought_back(merged: Merged, base: Record, mine: Record, theirs: Record) -> Merged | None:
    """Parts and joints that one side deleted and the other uses, back with the joints that held them."""
    record, conflicts = merged.record, list(merged.conflicts)
    for path in dict.fromkeys(dangling(record)):
        for side in (theirs, mine, base):
            for one in (path, *held_by(side, path)):
                value = at(side, one)
                if value is not None and at(record, one) is None:
                    record = with_value(record, one, plain(value))
                    conflicts = [old for old in conflicts if old.path != one]
                    conflicts.append(Conflict(one, None, plain(value)))
    return None if record == merged.record else Merged(record, tuple(conflicts))


def dangling(record: Record) -> Iterator[Path]:
    """Places of parts and joints that are named and not there."""
    known = {
        "part": {part.id for part in record.parts},
        "joint": {joint.id for joint in record.joints},
    }
    for use in uses(record):
        kinds = [kind for kind in use.kinds if kind in known]
        if kinds and not any(use.id in known[kind] for kind in kinds):
            yield from ((f"{kind}s", use.id) for kind in kinds)


def held_by(record: Record, path: Path) -> Iterator[Path]:
    """The joints that hold a part, as places."""
    if path[0] == "parts":
        yield from (("joints", joint.id) for joint in record.joints if path[1] in joint.holds)


def given_way(merged: Merged, theirs: Record, found: list[Finding]) -> Merged | None:
    """The merged record with theirs where a fault stands, else where its subject is named."""
    direct = [place_of(one.path, merged.record) for one in found]
    about = {one.subject for one in found if one.subject}
    naming = [
        place_of(use.path, side) for side in (merged.record, theirs) for use in uses(side) if use.id in about
    ]
    return give_way(merged, theirs, direct) or give_way(merged, theirs, naming)


def give_way(merged: Merged, theirs: Record, paths: list[Path]) -> Merged | None:
    """The merged record with theirs at these places; `None` where that changes nothing."""
    record, conflicts = merged.record, list(merged.conflicts)
    for path in dict.fromkeys(paths):
        here, there = at(record, path), at(theirs, path)
        if path and here != there:
            record = with_value(record, path, plain(there))
            conflicts.append(Conflict(path, plain(here), plain(there)))
    return None if record == merged.record else Merged(record, tuple(conflicts))


def place_of(written: str, record: Record) -> Path:
    """The element or field of the device in a finding's path; empty where it names none."""
    match = re.match(r"(\w+)\[(\d+)\]", written)
    if match is None:
        words = written.split(".")
        return (words[0], words[1]) if len(words) > 1 and words[0] == "device" else ()
    kind = element_type(hints(Record)[match[1]])
    if kind is None:
        return ()
    return match[1], list(keyed(getattr(record, match[1]), kind))[int(match[2])]
