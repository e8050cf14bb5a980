"""What must be new on the way back: bonds, ruined parts, seals and thermal layers that the way parts."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.publish.contents import Renewed
from midframe.publish.names import title_of
from midframe.record.model import Record, Renewal
from midframe.ways.way import Way


def renewals(record: Record, way: Way) -> tuple[Renewed, ...]:
    """Everything to be renewed, each item once, in the order of the way; the target itself is not among them."""
    found: dict[str, Renewed] = {}
    for renewed in gathered(record, way):
        found.setdefault(renewed.item.casefold(), renewed)
    return tuple(found.values())


def gathered(record: Record, way: Way) -> Iterator[Renewed]:
    """Renewals from joints, ruined parts, moved parts, seals and layers; an item may come more than once."""
    joints = {joint.id: joint for joint in record.joints}
    parts = {part.id: part for part in record.parts}
    for name in way.count.renewed_joints:
        renew = joints[name].renew
        if renew is not None:
            yield renewed(renew, title_of(joints[name]))
    moved = {part for move in way.count.moves for part in move.aside}
    for part in record.parts:
        if part.renew is not None and (part.id in moved or part.id in way.count.ruined):
            yield renewed(part.renew, part.name)
    for name in way.count.ruined:
        if parts[name].renew is None and name not in way.bundle:
            yield Renewed(parts[name].name, "spoilt on the way in", 1.0, "piece", parts[name].price)
    for seal in record.seals:
        if seal.renew is not None and parted(way, seal.at):
            yield renewed(seal.renew, " and ".join(parts[part].name for part in seal.at))
    for layer in record.layers:
        if layer.renew is not None and parted(way, layer.between):
            yield renewed(layer.renew, " and ".join(parts[part].name for part in layer.between))


def renewed(renew: Renewal, needed_for: str) -> Renewed:
    """A renewal of the record as a line of the list."""
    return Renewed(renew.item, needed_for, renew.amount, renew.unit, renew.price)


def parted(way: Way, together: tuple[str, ...]) -> bool:
    """Whether some move takes one of these parts off its seat and leaves another of them behind."""
    return any(
        set(move.aside) & set(together) and not set(together) <= set(move.group) for move in way.count.moves
    )
