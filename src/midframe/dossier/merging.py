"""Two parts of a record made one: whatever named the one then names the other."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from midframe.dossier.redesign import adapted, without_part
from midframe.record.model import Condition, Joint, Move, Part, Record


def merged(record: Record, kept: str, gone: str) -> Record:
    """The record with one part become another, whatever named it; the bench log is left out."""
    merge = Merge(record, kept, gone)
    return adapted(
        record,
        replace(
            record,
            parts=tuple(merge.part(one) for one in record.parts if one.id != gone),
            joints=tuple(merge.joint(one) for one in record.joints),
            orders=tuple(
                replace(one, target=merge.id(one.target), moves=merge.moves(one.moves))
                for one in record.orders
            ),
            layers=tuple(
                replace(one, between=(merge.id(one.between[0]), merge.id(one.between[1])))
                for one in record.layers
            ),
            seals=tuple(replace(one, at=merge.ids(one.at)) for one in record.seals),
            checks=tuple(replace(one, parts=merge.ids(one.parts)) for one in record.checks),
            photos=tuple(replace(one, parts=merge.ids(one.parts)) for one in record.photos),
            log=(),
        ),
    )


class Merge:
    """One part become another, in each table of a record."""

    def __init__(self, record: Record, kept: str, gone: str) -> None:
        self.kept, self.gone = kept, gone
        parts = {part.id: part for part in record.parts}
        self.both = parts[kept], parts[gone]
        self.fixing = [
            joint.id
            for joint in record.joints
            if not joint.tether and record.device.body in joint.holds and {kept, gone} & set(joint.holds)
        ]

    def id(self, name: str) -> str:
        """The id a name has afterwards."""
        return self.kept if name == self.gone else name

    def ids(self, names: Iterable[str]) -> tuple[str, ...]:
        """Ids afterwards, each once."""
        return tuple(dict.fromkeys(map(self.id, names)))

    def condition(self, old: Condition, *, own: bool) -> Condition:
        """A condition afterwards; the part's own does not ask for itself."""
        new = tuple(self.ids(alternative) for alternative in old)
        return without_part(new, self.kept) if own else new

    def joint(self, old: Joint) -> Joint:
        """A joint afterwards."""
        holds = self.ids(old.holds)
        work = tuple(
            tuple(replace(step, harms=self.ids(step.harms), ruins=self.ids(step.ruins)) for step in way)
            for way in old.work
        )
        behind = self.condition(old.behind, own=self.kept in holds)
        return replace(old, holds=holds, behind=behind, ruins=self.ids(old.ruins), work=work)

    def part(self, old: Part) -> Part:
        """A part afterwards; sizes of the kept one that no longer hold are left out."""
        own = old.id == self.kept
        if own:
            under = both_conditions(self.both[0].under, self.both[1].under)
            old = replace(old, under=under, depth_mm=None, outline_mm=(), mass_g=None)
        return replace(
            old,
            under=self.condition(old.under, own=own),
            lift=replace(old.lift, harms=self.ids(old.lift.harms)) if old.lift else None,
            seat=None if old.seat is None else self.id(old.seat),
            bundle=tuple(name for name in self.ids(old.bundle) if name != old.id),
        )

    def moves(self, old: tuple[Move, ...]) -> tuple[Move, ...]:
        """An order afterwards: the merged part is lifted once, with the joints of both open."""
        new = [replace(move, lift=self.ids(move.lift)) for move in old]
        lifts = [move for move in new if self.kept in move.lift]
        if not lifts:
            return tuple(new)
        opened = {move.open for move in new}
        missing = [Move(open=joint) for joint in self.fixing if joint not in opened]
        at = max(number for number, move in enumerate(new) if self.kept in move.lift)
        before = [move for move in new[:at] if self.kept not in move.lift]
        return (*before, *missing, *new[at:])


def both_conditions(one: Condition, other: Condition) -> Condition:
    """The condition that two conditions hold at once.

    >>> both_conditions((("a",), ("b",)), (("c",),))
    (('a', 'c'), ('b', 'c'))
    >>> both_conditions((), (("c",),))
    (('c',),)
    """
    if not one or not other:
        return one or other
    return tuple(tuple(dict.fromkeys((*left, *right))) for left in one for right in other)
