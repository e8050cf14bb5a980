"""What must be new on the way back: bonds, ruined parts, seals and thermal layers that the way parts."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.publish.contents import Renewed
from midframe.publish.names import title_of
from midframe.record.model import Record, Renewal
from midframe.ways.count import CountedMove
from midframe.ways.way import Way


def renewals(record: Record, way: Way) -> tuple[Renewed, ...]:
    """Everything to be renewed, each item once; the target itself is not among them.

    What several joints need adds up; the same item at a part or seal is the one of its joint.
    """
    found: dict[str, Renewed] = {}
    for line in of_joints(record, way):
        key = line.item.casefold()
        found[key] = summed(found[key], line) if key in found else line
    for line in (*of_parts(record, way), *of_seals_and_layers(record, way)):
        found.setdefault(line.item.casefold(), line)
    return tuple(found.values())


def summed(one: Renewed, other: Renewed) -> Renewed:
    """The same item for two joints; an amount or price that only one of them knows stays unknown."""
    amount = one.amount + other.amount if one.amount and other.amount and one.unit == other.unit else None
    price = one.price + other.price if one.price is not None and other.price is not None else None
    return Renewed(one.item, f"{one.needed_for}, {other.needed_for}", amount, one.unit, price)


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
    names |= {joint.id: title_of(joint) for joint in record.joints}
    for renew, together in films(record):
        if any(parted(move, together) for move in way.count.moves):
            yield renewed(renew, " and ".join(names[one] for one in together))


def films(record: Record) -> Iterator[tuple[Renewal, tuple[str, ...]]]:
    """Seals and thermal layers that must be renewed, with the parts or joints where they lie."""
    places = [(seal.renew, seal.at) for seal in record.seals]
    places += [(layer.renew, layer.between) for layer in record.layers]
    for renew, together in places:
        if renew is not None:
            yield renew, together


def renewed(renew: Renewal, needed_for: str) -> Renewed:
    """A renewal of the record as a line of the list."""
    return Renewed(renew.item, needed_for, renew.amount, renew.unit, renew.price)


def parted(move: CountedMove, together: tuple[str, ...]) -> bool:
    """Whether a move opens one of these joints, or takes one of these parts and leaves another behind."""
    if move.move.open:
        return move.move.open in together
    return bool(set(move.aside) & set(together)) and not set(together) <= set(move.group)
