"""Redesigns of joints: other fasteners, no heat, plugs for solder, one screw drive.

How many screws replace a bond, and which ways of joining exist: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

import msgspec

from midframe.dossier.redesign import (
    Edit,
    change_joints,
    each_operation,
    touching_joints,
    touching_parts,
)
from midframe.index.basic_tools import tool_group
from midframe.record.model import Joint, Operation, Part, Record, Role
from midframe.record.structure import default_seat, rigid_neighbours
from midframe.ways.bench import is_cleaning, is_heating, lift_face
from midframe.ways.wording import joint_words

SCREWS_FOR_A_BOND = 4
"""Screws that replace a bond: common practice, no source; the label says it."""

USUAL_DRIVE = "cross recess 00"
"""Drive of the screws that replace a bond where the device has none a basic tool fits."""

PULL = Operation(do="pull tabs", seconds=40.0)
"""Drawing stretch-release strips by hand: common practice, no source."""


def joint_edits(record: Record) -> Iterator[Edit]:
    """Every redesign of a single joint that makes sense for what it holds, and of the screw drives."""
    drive, holds = common_drive(record), Held(record)
    for joint in record.joints:
        if joint.kind == "adhesive":
            yield from _bond(joint, drive, holds)
        if joint.kind == "solder":
            if holds.module(joint):
                yield _edit("plug for solder", joint, f"{_name(joint)}: a plug instead of solder", _as_plug)
        elif any(is_heating(step) for work in joint.work for step in work):
            yield _edit("no heat", joint, f"{_name(joint)}: opens without heat", _without_heat)
        if any(is_cleaning(step) for work in joint.work for step in work):
            yield _edit("no residue", joint, f"{_name(joint)}: leaves no residue to clean", _without_cleaning)
        if joint.kind == "connector" and not joint.tether and holds.module(joint):
            yield _longer_flex(record, joint)
    yield from _drives(record, drive)


class Held:
    """What a joint holds, as far as it decides which redesigns make sense: common practice, no source."""

    def __init__(self, record: Record) -> None:
        self.body = record.device.body
        self.parts = {part.id: part for part in record.parts}
        conditions = [part.under for part in record.parts] + [joint.behind for joint in record.joints]
        self.covers = {part for condition in conditions for alternative in condition for part in alternative}

    def others(self, joint: Joint) -> tuple[Part, ...]:
        """The parts it holds, the body left out."""
        return tuple(self.parts[one] for one in joint.holds if one != self.body)

    def module(self, joint: Joint) -> bool:
        """Whether it holds a part with a role other than a board: a module that is exchanged by itself."""
        boards = ("other", "main_board", "sub_board")
        return any(role not in boards for part in self.others(joint) for role in (part.role, *part.also))

    def structural(self, joint: Joint) -> bool:
        """Whether screws could hold what it holds: a module, or a part that lies over others."""
        return self.module(joint) or any(part.id in self.covers for part in self.others(joint))

    def role(self, joint: Joint, role: Role) -> bool:
        """Whether it joins a part of a role to the body."""
        return self.body in joint.holds and any(role in (p.role, *p.also) for p in self.others(joint))


def common_drive(record: Record) -> str:
    """The drive of most screws among those that a basic tool fits."""
    counts: dict[str, int] = {}
    for joint in record.joints:
        if joint.kind == "screw" and joint.drive and tool_group(f"{joint.drive} driver") == "basic":
            counts[joint.drive] = counts.get(joint.drive, 0) + (joint.count or 1)
    return max(counts, key=lambda drive: counts[drive], default=USUAL_DRIVE)


def _name(joint: Joint) -> str:
    words = joint_words(joint)
    return words[:1].upper() + words[1:]


def _edit(
    kind: str, joint: Joint, label: str, change: Callable[[Joint], Joint], *, ways: bool = True
) -> Edit:
    return Edit(
        id=f"{kind.replace(' ', '-')}:{joint.id}",
        kind=kind,
        label=label,
        subjects=(joint.id,),
        touches=touching_joints((joint.id,)),
        apply=lambda record: change_joints(record, (joint.id,), change),
        ways=ways,
    )


def _bond(joint: Joint, drive: str, holds: Held) -> Iterator[Edit]:
    if not joint.tether and holds.structural(joint):
        label = f"{_name(joint)}: {SCREWS_FOR_A_BOND} screws ({drive}) instead of adhesive"
        yield _edit("screws for a bond", joint, label, lambda one: _as_screws(one, drive))
    if holds.role(joint, "back_cover"):
        yield _edit("clips for a bond", joint, f"{_name(joint)}: clips instead of adhesive", _as_clips)
    if holds.role(joint, "battery") and not any(_by_hand(work) for work in joint.work):
        label = f"{_name(joint)}: stretch-release strips, drawn by hand, supplied with the spare"
        yield _edit("stretch-release strips", joint, label, _as_strips)
    if joint.fastener in (None, "removable", "none"):
        label = f"{_name(joint)}: enough adhesive supplied with the spare"
        yield _edit("adhesive supplied", joint, label, _resupplied, ways=False)


def _by_hand(work: Iterable[Operation]) -> bool:
    return not any(step.tools for step in work)


def _plain(joint: Joint, kind: str, **more: object) -> Joint:
    """The joint of another kind, with what belonged to the old kind left out."""
    kept = {
        key: getattr(joint, key)
        for key in ("id", "holds", "name", "face", "behind", "assumed", "depth_mm", "tether")
    }
    return msgspec.convert({"kind": kind, "fastener": "reusable", **kept, **more}, Joint)


def _as_screws(joint: Joint, drive: str) -> Joint:
    return _plain(joint, "screw", count=SCREWS_FOR_A_BOND, drive=drive)


def _as_clips(joint: Joint) -> Joint:
    return _plain(joint, "clip")


def _as_plug(joint: Joint) -> Joint:
    return _plain(joint, "connector")


def _as_strips(joint: Joint) -> Joint:
    return msgspec.structs.replace(joint, work=((PULL,),), fastener="resupplied", ruins=())


def _resupplied(joint: Joint) -> Joint:
    return msgspec.structs.replace(joint, fastener="resupplied")


def _without_heat(joint: Joint) -> Joint:
    return each_operation(joint, lambda step: None if is_heating(step) else step)


def _without_cleaning(joint: Joint) -> Joint:
    return each_operation(joint, lambda step: None if is_cleaning(step) else step)


def _longer_flex(record: Record, joint: Joint) -> Edit:
    """The plug made a tether: its part can be folded aside while still plugged; seats and lift faces stay."""

    def apply(whole: Record) -> Record:
        changed = change_joints(whole, (joint.id,), lambda one: msgspec.structs.replace(one, tether=True))
        return _with_seats_and_faces_of(whole, changed)

    after = apply(record).joints
    turned = [
        p.id
        for p in record.parts
        if p.id in joint.holds and lift_face(p, after) != lift_face(p, record.joints)
    ]
    return Edit(
        id=f"longer-flex:{joint.id}",
        kind="longer flex",
        label=f"{_name(joint)}: flex long enough to fold the part aside while plugged in",
        subjects=(joint.id,),
        touches=touching_joints((joint.id,)) | touching_parts(turned),
        apply=apply,
    )


def _with_seats_and_faces_of(before: Record, after: Record) -> Record:
    """The edited record with the seats and lift faces said outright that its joints would no longer give."""
    old, new, body = rigid_neighbours(before), rigid_neighbours(after), before.device.body
    parts = []
    for part in after.parts:
        seat, face = default_seat(part.id, body, old[part.id]), lift_face(part, before.joints)
        lost = part.seat is None and seat is not None and default_seat(part.id, body, new[part.id]) != seat
        turned = lift_face(part, after.joints) != face
        parts.append(
            msgspec.structs.replace(
                part, seat=seat if lost else part.seat, face=face if turned else part.face
            )
        )
    return msgspec.structs.replace(after, parts=tuple(parts))


def _drives(record: Record, drive: str) -> Iterator[Edit]:
    """All screws with one drive, and each other drive by itself."""
    others = tuple(
        dict.fromkeys(
            joint.drive for joint in record.joints if joint.kind == "screw" and joint.drive not in ("", drive)
        )
    )
    if len(others) > 1:
        yield _one_drive(record, "all", set(others), drive, f"All screws {drive}")
    for other in others:
        yield _one_drive(record, other, {other}, drive, f"Screws {other} made {drive}")


def _one_drive(record: Record, name: str, others: set[str], drive: str, label: str) -> Edit:
    ids = tuple(joint.id for joint in record.joints if joint.kind == "screw" and joint.drive in others)
    return Edit(
        id=f"one-drive:{name.replace(' ', '-')}",
        kind="one screw drive",
        label=label,
        subjects=ids,
        touches=touching_joints(ids),
        apply=lambda whole: change_joints(whole, ids, lambda joint: _with_drive(joint, drive)),
    )


def _with_drive(joint: Joint, drive: str) -> Joint:
    old, new = f"{joint.drive} driver", f"{drive} driver"

    def swapped(step: Operation) -> Operation:
        return msgspec.structs.replace(step, tools=tuple(new if tool == old else tool for tool in step.tools))

    return msgspec.structs.replace(each_operation(joint, swapped), drive=drive)
