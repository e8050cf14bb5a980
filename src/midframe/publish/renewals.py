"""What must be new on the way back: bonds, ruined parts, seals and thermal layers that the way parts."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.publish.contents import Renewed
from midframe.publish.names import title_of
from midframe.record.model import Record, Renewal
from midframe.ways.way import Way


def renewals(record: Record, way: Way) -> tuple[Renewed, ...]:
    """Everything to be renewed, each item once; the target itself is not among them."""
    found: dict[str, Renewed] = {}
    for line in (*of_joints(record, way), *of_parts(record, way), *of_seals_and_layers(record, way)):
        found.setdefault(line.item.casefold(), line)
    return tuple(found.values())


def of_joints(record: Record, way: Way) -> Iterator[Renewed]:
    """What opened joints need new, in the order of the way."""
    joints = {joint.id: joint for joint in record.joints}
    for name in way.count.renewed_joints:
        renew = joints[name].renew
        if renew is not None:
            yield renewed(renew, title_of(joints[name]))


def of_parts(record: Record, way: Way) -> Iterator[Renewed]:
    """What moved parts need new, and the parts that the way ruins."""
    moved = {part for move in way.count.moves for part in move.aside}
    ruined = set(way.count.ruined)
    for part in record.parts:
        if part.renew is not None and part.id in moved | ruined:
            yield renewed(part.renew, part.name)
        elif part.id in ruined and part.id not in way.bundle:
            yield Renewed(part.name, "ruined on the way in", 1.0, "piece", part.price)


def of_seals_and_layers(record: Record, way: Way) -> Iterator[Renewed]:
    """Seals and thermal layers whose parts the way takes from each other."""
    names = {part.id: part.name for part in record.parts}
    places = [(seal.renew, seal.at) for seal in record.seals]
    places += [(layer.renew, layer.between) for layer in record.layers]
    for renew, together in places:
        if renew is not None and parted(way, together):
            yield renewed(renew, " and ".join(names[part] for part in together))


def renewed(renew: Renewal, needed_for: str) -> Renewed:
    """A renewal of the record as a line of the list."""
    return Renewed(renew.item, needed_for, renew.amount, renew.unit, renew.price)


def parted(way: Way, together: tuple[str, ...]) -> bool:
    """Whether some move takes one of these parts off its seat and leaves another of them behind."""
    return any(
        set(move.aside) & set(together) and not set(together) <= set(move.group) for move in way.count.moves
    )
