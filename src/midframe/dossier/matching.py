"""Which parts and joints of several records are the same: by id, else by role and name or by what is held."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

from midframe.record.model import Record

Groups = tuple[dict[str, int], ...]
"""For each record the number of the group that each of its ids is in."""

Likeness = Mapping[str, Hashable]
"""What each id of a record is recognised by; None where it is not to be recognised."""


def match_parts(records: Sequence[Record]) -> Groups:
    """Groups of the same part: equal ids, else equal role and name, else the only part left of a role.

    >>> from midframe.demo import load
    >>> groups = match_parts([load("tern-2"), load("heron-tab")])
    >>> groups[0]["battery"] == groups[1]["battery"]
    True
    """
    matching = Matching()
    for record in records:
        ids = {part.id: part.id for part in record.parts}
        names = {part.id: (part.role, part.name.casefold()) for part in record.parts}
        roles = {part.id: None if part.role == "other" else part.role for part in record.parts}
        matching.add((ids, names), only=roles)
    return tuple(matching.found)


def match_joints(records: Sequence[Record], parts: Groups) -> Groups:
    """Groups of the same joint: equal ids, else the same kind between the same parts."""
    matching = Matching()
    for record, groups in zip(records, parts, strict=True):
        ids = {joint.id: joint.id for joint in record.joints}
        held = {
            joint.id: (joint.kind, frozenset(groups[part] for part in joint.holds)) for joint in record.joints
        }
        matching.add((ids, held))
    return tuple(matching.found)


class Matching:
    """Groups that grow record by record; in each record an id joins a group, or begins one."""

    def __init__(self) -> None:
        self.found: list[dict[str, int]] = []
        self.known: list[list[set[Hashable]]] = []

    def add(self, likeness: Sequence[Likeness], only: Likeness | None = None) -> None:
        """One record more: recognised by each likeness in turn, at last by `only` where that is left once."""
        groups: dict[str, int] = {}
        for level, like in enumerate(likeness):
            for one, key in like.items():
                if one not in groups:
                    self._join(groups, one, self._free(groups, level, key)[:1])
        for one, key in (only or {}).items():
            alike = [other for other, its in (only or {}).items() if its == key and other not in groups]
            free = self._free(groups, len(likeness), key)
            if key is not None and alike == [one] and len(free) == 1:
                self._join(groups, one, free)
        levels = (*likeness, *([only] if only is not None else []))
        for one in likeness[0]:
            if one not in groups:
                groups[one] = len(self.known)
                self.known.append([set() for _ in levels])
            for keys, like in zip(self.known[groups[one]], levels, strict=True):
                keys.add(like[one])
        self.found.append(groups)

    def _free(self, groups: Mapping[str, int], level: int, key: Hashable) -> list[int]:
        """Groups with a key that no id of this record is in yet."""
        taken = set(groups.values())
        return [at for at, keys in enumerate(self.known) if key in keys[level] and at not in taken]

    def _join(self, groups: dict[str, int], one: str, free: list[int]) -> None:
        if free:
            groups[one] = free[0]
