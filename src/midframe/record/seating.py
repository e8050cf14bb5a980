"""Faults of the body and the seats: every part must sit, by way of others, on the body."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.record.describe import nearest
from midframe.record.findings import Finding, fault, note
from midframe.record.model import Record
from midframe.record.structure import riders, rigid_neighbours, seats


def body_faults(record: Record) -> Iterator[Finding]:
    """The body is one of the parts, sits on nothing and is never lifted."""
    body = record.device.body
    for number, part in enumerate(record.parts):
        at = f"parts[{number}]"
        if part.id == body and part.seat is not None:
            yield fault(
                f"{at}.seat",
                body,
                f'the body with the seat "{part.seat}"',
                "no seat: the body is what all others sit on",
            )
        if part.id == body and (part.under or part.lift is not None):
            key = "under" if part.under else "lift"
            yield note(f"{at}.{key}", body, f"the body with `{key}`", f"no `{key}`: the body is never lifted")
        if part.id != body and body in part.bundle:
            yield fault(
                f"{at}.bundle",
                part.id,
                f'a bundle with the body "{body}"',
                "a bundle without the body, which never comes out",
            )
        if part.id != body and body in {one for alternative in part.under for one in alternative}:
            yield fault(
                f"{at}.under",
                part.id,
                f'a part under the body "{body}"',
                "parts that can be set aside; the body never is",
            )
    for number, joint in enumerate(record.joints):
        if body in {one for alternative in joint.behind for one in alternative}:
            yield fault(
                f"joints[{number}].behind",
                joint.id,
                f'a joint behind the body "{body}"',
                "parts that can be set aside; the body never is",
            )


def seat_faults(record: Record) -> Iterator[Finding]:
    """Seats that must be said, and rings of seats that never reach the body.

    Says nothing where the body is none of the parts: every seat would follow from that.
    """
    if record.device.body not in {part.id for part in record.parts}:
        return
    seat_of = seats(record)
    rings: set[frozenset[str]] = set()
    for number, part in enumerate(record.parts):
        if part.id == record.device.body:
            continue
        if seat_of[part.id] is None:
            yield unsaid_seat(record, number)
        ring = ring_of(part.id, seat_of)
        if ring and frozenset(ring) not in rings:
            rings.add(frozenset(ring))
            place = next(place for place, other in enumerate(record.parts) if other.id == ring[0])
            found = "seats that go round in a ring: " + " on ".join((*ring, ring[0]))
            right = f'for one of them a seat, or a joint, that leads to the body "{record.device.body}"'
            yield fault(f"parts[{place}].seat", ring[0], found, right)


def unsaid_seat(record: Record, number: int) -> Finding:
    """The fault of a part whose seat does not follow from its joints."""
    part = record.parts[number]
    rigid = rigid_neighbours(record)[part.id]
    hung = tuple(
        dict.fromkeys(
            other
            for joint in record.joints
            if joint.tether and part.id in joint.holds
            for other in joint.holds
            if other != part.id
        )
    )
    if rigid:
        found = f"no seat for a part joined to {_listed(rigid)}"
        right = " or ".join(f'seat = "{one}"' for one in rigid)
    elif hung:
        found = f"no seat for a part held only by tethers, to {_listed(hung)}"
        right = f'the part it lies on as its seat, such as seat = "{record.device.body}"'
    else:
        near = nearest(
            part.id,
            [
                one
                for joint in record.joints
                for one in joint.holds
                if one not in {other.id for other in record.parts}
            ],
        )
        found = "a part that no joint holds and that has no seat"
        right = (
            f'a joint that holds "{part.id}"'
            + (f' (one holds "{near}")' if near else "")
            + ", or the part it lies on as its seat"
        )
    return fault(f"parts[{number}].seat", part.id, found, right)


def ring_of(part: str, seat_of: dict[str, str | None]) -> tuple[str, ...]:
    """The ring of seats that a part's own seats run into, from its first in reading order; empty if none."""
    chain: list[str] = []
    at: str | None = part
    while at is not None and at not in chain:
        chain.append(at)
        at = seat_of.get(at)
    if at is None:
        return ()
    ring = chain[chain.index(at) :]
    first = ring.index(min(ring))
    return tuple(ring[first:] + ring[:first])


def cover_faults(record: Record) -> Iterator[Finding]:
    """Parts under themselves, and pairs that lie under each other though they do not move together."""
    must = {
        part.id: set.intersection(*map(set, part.under)) if part.under else set[str]()
        for part in record.parts
    }
    place = {part.id: number for number, part in reversed(list(enumerate(record.parts)))}
    rigid, carried = rigid_neighbours(record), riders(record)
    for number, part in enumerate(record.parts):
        if any(part.id in alternative for alternative in part.under):
            yield fault(
                f"parts[{number}].under",
                part.id,
                "a part under itself",
                "the parts that lie over it, or no `under`",
            )
        for other in sorted(must[part.id] - {part.id}):
            together = (
                other in rigid[part.id]
                or other in carried[part.id]
                or part.id in carried.get(other, frozenset())
            )
            if part.id in must.get(other, ()) and not together and number < place[other]:
                found = f"{part.id} under {other} and {other} under {part.id}: each would have to go first"
                yield fault(
                    f"parts[{number}].under",
                    part.id,
                    found,
                    "`under` in one of the two only, or a joint of the two if they are lifted together",
                )


def _listed(names: tuple[str, ...]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
