"""Every place of a record that names a part, joint or photo, and whether it leads somewhere."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

import msgspec

from midframe.record.describe import proposal
from midframe.record.findings import Finding, fault, note
from midframe.record.model import Condition, LogEntry, Move, Operation, Record


class Use(msgspec.Struct, frozen=True):
    """One id named somewhere: where, by whom, and the kinds of thing it may be."""

    path: str
    subject: str
    id: str
    kinds: tuple[str, ...] = ("part",)


def uses(record: Record) -> Iterator[Use]:
    """Every id that a record names, in the order of the file."""
    yield Use("device.body", "", record.device.body)
    yield from part_uses(record)
    yield from joint_uses(record)
    for number, order in enumerate(record.orders):
        at = f"orders[{number}]"
        yield Use(f"{at}.target", "", order.target)
        for place, move in enumerate(order.moves):
            yield from move_uses(f"{at}.moves[{place}]", move)
    yield from other_uses(record)
    for number, entry in enumerate(record.log):
        yield from move_uses(f"log[{number}]", entry)
        if entry.on:
            yield Use(f"log[{number}].on", "", entry.on, ("part", "joint"))
        if entry.photo:
            yield Use(f"log[{number}].photo", "", entry.photo, ("photo",))


def part_uses(record: Record) -> Iterator[Use]:
    """The ids that parts name."""
    for number, part in enumerate(record.parts):
        at = f"parts[{number}]"
        yield from listed(f"{at}.bundle", part.id, part.bundle)
        if part.seat is not None:
            yield Use(f"{at}.seat", part.id, part.seat)
        if part.lift is not None:
            yield from listed(f"{at}.lift.harms", part.id, part.lift.harms)
        yield from condition_uses(f"{at}.under", part.id, part.under)
        yield from listed(f"{at}.photos", part.id, part.photos, ("photo",))


def joint_uses(record: Record) -> Iterator[Use]:
    """The ids that joints and the work on them name."""
    for number, joint in enumerate(record.joints):
        at = f"joints[{number}]"
        yield from listed(f"{at}.holds", joint.id, joint.holds)
        yield from condition_uses(f"{at}.behind", joint.id, joint.behind)
        for path, operation in operations(f"{at}.work", joint.work):
            yield from listed(f"{path}.harms", joint.id, operation.harms)
            yield from listed(f"{path}.ruins", joint.id, operation.ruins)
        yield from listed(f"{at}.ruins", joint.id, joint.ruins)
        yield from listed(f"{at}.photos", joint.id, joint.photos, ("photo",))


def other_uses(record: Record) -> Iterator[Use]:
    """The ids that layers, seals, checks, measurements and photos name."""
    for number, layer in enumerate(record.layers):
        yield from listed(f"layers[{number}].between", layer.id, layer.between)
    for number, seal in enumerate(record.seals):
        yield from listed(f"seals[{number}].at", seal.id, seal.at, ("part", "joint"))
    for number, check in enumerate(record.checks):
        yield from listed(f"checks[{number}].parts", check.id, check.parts)
    for number, one in enumerate(record.measurements):
        yield Use(f"measurements[{number}].on", one.id, one.on, ("part", "joint"))
    for number, photo in enumerate(record.photos):
        yield from listed(f"photos[{number}].parts", "", photo.parts)


def move_uses(at: str, move: Move | LogEntry) -> Iterator[Use]:
    """The ids that a move names."""
    if move.open:
        yield Use(f"{at}.open", "", move.open, ("joint",))
    yield from listed(f"{at}.lift", "", move.lift)


def listed(path: str, subject: str, ids: Iterable[str], kinds: tuple[str, ...] = ("part",)) -> Iterator[Use]:
    """A plain list of ids."""
    return (Use(f"{path}[{number}]", subject, one, kinds) for number, one in enumerate(ids))


def condition_uses(path: str, subject: str, condition: Condition) -> Iterator[Use]:
    """A condition; the path is that of the file, where one alternative is flat."""
    for number, alternative in enumerate(condition):
        at = path if len(condition) == 1 else f"{path}[{number}]"
        yield from listed(at, subject, alternative)


def operations(path: str, work: tuple[tuple[Operation, ...], ...]) -> Iterator[tuple[str, Operation]]:
    """Every operation of a joint with its path in the file."""
    for number, alternative in enumerate(work):
        at = path if len(work) == 1 else f"{path}[{number}]"
        yield from ((f"{at}[{place}]", operation) for place, operation in enumerate(alternative))


def unknown_ids(record: Record) -> Iterator[Finding]:
    """Ids that lead nowhere; a photo that is not listed is only a note."""
    known = {
        "part": {part.id for part in record.parts},
        "joint": {joint.id for joint in record.joints},
        "photo": {photo.hash for photo in record.photos},
    }
    for use in uses(record):
        allowed = set[str]().union(*(known[kind] for kind in use.kinds))
        kind = " or ".join(use.kinds)
        if use.id in allowed:
            continue
        if kind == "photo":
            right = "an entry in [[photos]] with that hash"
            yield note(use.path, use.subject, f'photo "{use.id}", which is not listed', right)
        else:
            yield fault(
                use.path, use.subject, f'the unknown {kind} "{use.id}"', proposal(use.id, allowed, kind)
            )


def double_ids(record: Record) -> Iterator[Finding]:
    """Ids given twice within one list, and ids that a part shares with a joint."""
    lists = {
        "parts": [part.id for part in record.parts],
        "joints": [joint.id for joint in record.joints],
        "layers": [layer.id for layer in record.layers],
        "seals": [seal.id for seal in record.seals],
        "checks": [check.id for check in record.checks],
        "tried": [one.check for one in record.tried],
        "seal_tests": [one.id for one in record.seal_tests],
        "measurements": [one.id for one in record.measurements],
        "tools": [tool.name for tool in record.tools],
        "photos": [photo.hash for photo in record.photos],
    }
    for name, ids in lists.items():
        counted: Counter[str] = Counter()
        key = {"tools": "name", "photos": "hash", "tried": "check"}.get(name, "id")
        for number, one in enumerate(ids):
            if counted[one]:
                first = f"{name}[{ids.index(one)}]"
                right = f"another {key}: {first} has this one"
                yield fault(f"{name}[{number}].{key}", one, f'the {key} "{one}" a second time', right)
            counted[one] += 1
    for number, one in enumerate(lists["joints"]):
        if one in lists["parts"]:
            yield note(
                f"joints[{number}].id",
                one,
                f'"{one}" as part and as joint',
                "different ids, so that a move can be read without doubt",
            )
