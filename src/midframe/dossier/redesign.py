"""A redesign: one single edit of a record, with a plain-word label and what it touches.

Documented orders follow: moves that the edit makes unnecessary are left out, those that were unnecessary
before stay, so that a redesign gets no credit for a manual's precautions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

import msgspec

from midframe.record.model import Condition, Joint, Move, Operation, Order, Part, Record
from midframe.ways.orders import gets_out, unneeded_moves
from midframe.ways.rules import Rules, State

Subject = tuple[str, str]
"""Kind ("part", "joint", "tool") and name of what a way may depend on."""


class Edit(msgspec.Struct, frozen=True, kw_only=True):
    """One redesign: `apply` gives the edited record.

    `touches` is what it changes that a way or its evidence may depend on; `ways` says whether a way itself
    can change (else points only). `becomes` tells for parts that are merged away which part they are now.
    """

    id: str
    kind: str
    label: str
    apply: Callable[[Record], Record]
    subjects: tuple[str, ...] = ()
    touches: frozenset[Subject] = frozenset()
    ways: bool = True
    becomes: Mapping[str, str] = msgspec.field(default_factory=dict)


def change_joints(record: Record, ids: Iterable[str], change: Callable[[Joint], Joint]) -> Record:
    """The record with some joints changed, its documented orders adapted, its bench log left out."""
    chosen = set(ids)
    joints = tuple(change(joint) if joint.id in chosen else joint for joint in record.joints)
    return adapted(record, msgspec.structs.replace(record, joints=joints, log=()))


def change_parts(record: Record, ids: Iterable[str], change: Callable[[Part], Part]) -> Record:
    """The record with some parts changed; its orders stay, so not for conditions."""
    chosen = set(ids)
    return msgspec.structs.replace(
        record, parts=tuple(change(part) if part.id in chosen else part for part in record.parts)
    )


def touching_joints(ids: Iterable[str]) -> frozenset[Subject]:
    """The subjects of an edit that changes joints."""
    return frozenset(("joint", one) for one in ids)


def touching_parts(ids: Iterable[str]) -> frozenset[Subject]:
    """The subjects of an edit that changes parts."""
    return frozenset(("part", one) for one in ids)


def without_part(condition: Condition, part: str) -> Condition:
    """A condition that no longer asks for one part; met always if an alternative has nothing left.

    >>> without_part((("a", "b"), ("c",)), "b")
    (('a',), ('c',))
    >>> without_part((("a", "b"), ("c",)), "c")
    ()
    """
    left = tuple(tuple(one for one in alternative if one != part) for alternative in condition)
    return () if () in left else tuple(dict.fromkeys(left))


def each_operation(joint: Joint, change: Callable[[Operation], Operation | None]) -> Joint:
    """The joint with every operation changed or (None) left out; an alternative left empty goes too."""
    work = tuple(
        tuple(done for step in alternative if (done := change(step)) is not None)
        for alternative in joint.work
    )
    return msgspec.structs.replace(joint, work=tuple(alternative for alternative in work if alternative))


def adapted(before: Record, after: Record) -> Record:
    """The edited record with its documented orders in a legal order and cut to what is still needed."""
    if not before.orders:
        return after
    old, new = Rules(before), Rules(after)
    same = shape(before) == shape(after)
    orders = tuple(
        _adapted_order(old, new, *pair, same=same) for pair in zip(before.orders, after.orders, strict=True)
    )
    return msgspec.structs.replace(after, orders=orders)


def shape(record: Record) -> tuple[object, ...]:
    """What decides which moves are allowed: holds, tethers, conditions, seats and bundles."""
    joints = tuple((joint.id, joint.holds, joint.tether, joint.behind) for joint in record.joints)
    return joints, tuple((part.id, part.under, part.seat, part.bundle) for part in record.parts)


def _adapted_order(old: Rules, new: Rules, was: Order, order: Order, *, same: bool) -> Order:
    moves = tuple(_present_alternative(old, new, move) for move in order.moves)
    if same or not gets_out(old, was.moves, was.target):
        return msgspec.structs.replace(order, moves=moves)
    moves = in_legal_order(new, moves)
    if gets_out(new, moves, order.target) and len(moves) == len(was.moves):
        moves = _still_needed(old, new, was, moves)
    return msgspec.structs.replace(order, moves=moves)


def _still_needed(old: Rules, new: Rules, was: Order, moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """The moves without those needed before and no more, tried from the last to the first."""
    precautions = {was.moves[number - 1] for number in unneeded_moves(old, was.moves, was.target)}
    for move in reversed(moves):
        shorter = tuple(one for one in moves if one is not move)
        if move not in precautions and gets_out(new, shorter, was.target):
            moves = shorter
    return moves


def in_legal_order(rules: Rules, moves: tuple[Move, ...]) -> tuple[Move, ...]:
    """The moves with each put off until it is allowed; unchanged where that does not place them all."""
    state, left = State(), list(moves)
    done: list[Move] = []
    while left:
        at = next((at for at, move in enumerate(left) if allowed(rules, state, move)), None)
        if at is None:
            return moves
        state = rules.apply(state, left[at])
        done.append(left.pop(at))
    return tuple(done)


def allowed(rules: Rules, state: State, move: Move) -> bool:
    """Whether a move may be made in a state."""
    if move.open:
        return rules.may_open(state, move.open) is None
    return rules.may_lift(state, move.lift[0]) is None


def _present_alternative(old: Rules, new: Rules, move: Move) -> Move:
    """The move with the first way of opening where the edit changed how many there are."""
    if not move.open or move.open not in new.joints or move.open not in old.joints:
        return move
    same = len(old.joints[move.open].work) == len(new.joints[move.open].work)
    return move if same else Move(open=move.open)
