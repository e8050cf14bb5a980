"""Who sits on whom: seats and what rides on a part, derived from the joints."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.record.model import Joint, Record


def rigid_joints(record: Record) -> tuple[Joint, ...]:
    """Joints that hold their parts firmly together: all but the tethers."""
    return tuple(joint for joint in record.joints if not joint.tether)


def rigid_neighbours(record: Record) -> dict[str, tuple[str, ...]]:
    """For each part the parts it is rigidly joined to, in the order of the record."""
    found: dict[str, dict[str, None]] = {part.id: {} for part in record.parts}
    for joint in rigid_joints(record):
        for part in joint.holds:
            if part in found:
                found[part].update(dict.fromkeys(other for other in joint.holds if other != part))
    return {part: tuple(others) for part, others in found.items()}


def default_seat(part: str, body: str, neighbours: tuple[str, ...]) -> str | None:
    """The seat where the record says none: the body if rigidly joined to it, else the one neighbour.

    `None` where it is the body itself, or where it must be said.
    """
    if part == body:
        return None
    if body in neighbours:
        return body
    return neighbours[0] if len(neighbours) == 1 else None


def seats(record: Record) -> dict[str, str | None]:
    """The seat of every part; `None` for the body and where the record must say it."""
    neighbours = rigid_neighbours(record)
    body = record.device.body
    return {
        part.id: part.seat
        if part.seat is not None and part.id != body
        else default_seat(part.id, body, neighbours[part.id])
        for part in record.parts
    }


def seat_chain(part: str, seat_of: Mapping[str, str | None]) -> tuple[str, ...]:
    """The part, its seat, the seat of that, and so on; stops before a ring closes."""
    chain: dict[str, None] = {}
    at: str | None = part
    while at is not None and at not in chain:
        chain[at] = None
        at = seat_of.get(at)
    return tuple(chain)


def riders(record: Record) -> dict[str, frozenset[str]]:
    """For each part itself and all that sits on it, directly or on its riders."""
    seat_of = seats(record)
    found: dict[str, set[str]] = {part.id: set() for part in record.parts}
    for part in record.parts:
        for carrier in seat_chain(part.id, seat_of):
            found.setdefault(carrier, set()).add(part.id)
    return {part: frozenset(all_on_it) for part, all_on_it in found.items()}
