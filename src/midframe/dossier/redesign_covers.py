"""Redesigns of what lies over what: a part reachable with a cover in place, two covers made one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import msgspec

from midframe.dossier.merging import merged
from midframe.dossier.redesign import (
    Edit,
    Subject,
    adapted,
    touching_joints,
    touching_parts,
    without_part,
)
from midframe.dossier.sequence import is_priority
from midframe.record.model import Condition, Joint, Part, Record
from midframe.record.structure import rigid_neighbours, seats
from midframe.ways.wording import in_sentence

BOARDS = ("main_board", "sub_board")
"""Roles that are worth reaching besides the priority parts: common practice, no source."""


def cover_edits(record: Record) -> Iterator[Edit]:
    """A part reachable with one cover in place, for every pair; and every pair of covers made one."""
    for part in record.parts:
        if part.id != record.device.body and (is_priority(part) or part.role in BOARDS):
            for cover in covers_of(record, part):
                yield _reachable(record, part, cover)
    for one, other in cover_pairs(record):
        yield _merged(record, one, other)


def named(condition: Condition) -> Iterator[str]:
    """Every part that a condition names."""
    return (part for alternative in condition for part in alternative)


def covers_of(record: Record, part: Part) -> tuple[str, ...]:
    """The parts in the way of lifting a part or of opening a joint that holds it."""
    found = dict.fromkeys(named(part.under))
    for joint in record.joints:
        if part.id in joint.holds:
            found.update(dict.fromkeys(named(joint.behind)))
    return tuple(one for one in found if one != part.id)


def _reachable(record: Record, part: Part, cover: str) -> Edit:
    names = {one.id: one.name for one in record.parts}
    joints = [j.id for j in record.joints if part.id in j.holds and cover in named(j.behind)]
    touches: frozenset[Subject] = touching_joints(joints)
    if cover in named(part.under):
        touches |= touching_parts((part.id,))

    def apply(whole: Record) -> Record:
        return adapted(
            whole,
            msgspec.structs.replace(
                whole,
                parts=tuple(_part_clear(one, cover) if one.id == part.id else one for one in whole.parts),
                joints=tuple(_joint_clear(one, cover) if one.id in joints else one for one in whole.joints),
                log=(),
            ),
        )

    return Edit(
        id=f"reachable:{part.id}:{cover}",
        kind="cover not in the way",
        label=f"{part.name}: reachable with the {in_sentence(names[cover])} in place",
        subjects=(part.id, cover),
        touches=touches,
        apply=apply,
    )


def _part_clear(part: Part, cover: str) -> Part:
    return msgspec.structs.replace(part, under=without_part(part.under, cover))


def _joint_clear(joint: Joint, cover: str) -> Joint:
    return msgspec.structs.replace(joint, behind=without_part(joint.behind, cover))


def cover_pairs(record: Record) -> tuple[tuple[Part, Part], ...]:
    """Pairs of plain covers on the body named in one alternative, neither in the other's way."""
    seat_of, neighbours = seats(record), rigid_neighbours(record)
    parts = {part.id: part for part in record.parts}
    conditions = [part.under for part in record.parts] + [joint.behind for joint in record.joints]
    pairs: dict[tuple[str, str], None] = {}
    for condition in conditions:
        for alternative in condition:
            plain = [
                one
                for one in alternative
                if parts[one].role == "other" and seat_of[one] == record.device.body
            ]
            pairs.update(((a, b), None) for at, a in enumerate(plain) for b in plain[at + 1 :])
    return tuple(
        (parts[a], parts[b])
        for a, b in pairs
        if (b, a) not in pairs or a < b
        if b not in neighbours[a]
        and b not in covers_of(record, parts[a])
        and a not in covers_of(record, parts[b])
    )


def _merged(record: Record, kept: Part, gone: Part) -> Edit:
    joints = [one.id for one in record.joints if _mentions(one.holds, one.behind, gone.id, kept.id)]
    parts = [one.id for one in record.parts if _mentions((one.id,), one.under, gone.id, kept.id)]
    return Edit(
        id=f"one-cover:{kept.id}:{gone.id}",
        kind="two covers made one",
        label=f"{kept.name} and {in_sentence(gone.name)} made one part",
        subjects=(kept.id, gone.id),
        touches=touching_joints(joints) | touching_parts(parts),
        apply=lambda whole: merged(whole, kept.id, gone.id),
        becomes={gone.id: kept.id},
    )


def _mentions(ids: Iterable[str], condition: Condition, *wanted: str) -> bool:
    return not {*ids, *named(condition)}.isdisjoint(wanted)
