"""From a draft to a record and its log, by the same rules as at the bench."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, Literal

import msgspec

from midframe.faults import BadSetting, Fault
from midframe.narration.draft import Draft, Item
from midframe.record import check, faults
from midframe.record import draft as begun
from midframe.record.model import Condition, DeviceKind, Joint, JointKind, LogEntry, Record, Seal, Spec
from midframe.stripdown import Done, apply
from midframe.stripdown.grow import with_new_joint, with_new_part
from midframe.stripdown.naming import joint_names, new_part, part_named
from midframe.stripdown.replay import preset, replay

replace = msgspec.structs.replace

KIND_OF: Mapping[str, JointKind] = MappingProxyType(
    {
        "soldered": "solder",
        "welded": "solder",
        "glued": "adhesive",
        "pull tab": "adhesive",
        "clipped": "clip",
        "press fit": "other",
        "riveted": "other",
    }
)
"""The kind of joint that a fact tells; a weld counts as solder, for it has to be parted like it."""

PULL_TAB = "stretch-release tape"


class Choices(msgspec.Struct, frozen=True, kw_only=True):
    """What the person says who makes the record.

    Parameters
    ----------
    name, kind, invented
        Of the device.
    without
        Numbers of items that are thrown out.
    clock
        Whether the talk ran along with the work, so that the time between two moves is the time of the work.
        Without it only times that were said count.
    """

    name: str
    kind: DeviceKind = "phone"
    invented: bool = False
    without: frozenset[int] = frozenset()
    clock: bool = True


class Traced(msgspec.Struct, frozen=True):
    """A part, joint or seal of the record, and the number of the item whose words made it."""

    what: Literal["part", "joint", "seal"]
    id: str
    item: int


class Drafted(msgspec.Struct, frozen=True):
    """The record, where each thing in it comes from, and items that are only kept as a note, with why."""

    record: Record
    traced: tuple[Traced, ...]
    noted: tuple[tuple[int, str], ...]


def draft_record(draft: Draft, choices: Choices) -> Drafted:
    r"""The record that a draft tells. What had to be aside is guessed from the order, and marked as assumed.

    An item that the record cannot take becomes a note of the log, with its
    words. Raises `BadSetting` where the device has no name.

    >>> from midframe.narration.captions import read_captions
    >>> from midframe.narration.draft import draft_of
    >>> told = draft_of(read_captions("0:05 Back cover off.\n0:09 Undid four mid cover screws."))
    >>> made = draft_record(told, Choices(name="Stint"))
    >>> [part.id for part in made.record.parts], made.record.joints[0].behind, made.record.joints[0].assumed
    (['frame', 'back-cover', 'mid-cover'], (('back-cover',),), True)
    """
    if not choices.name.strip():
        raise BadSetting("the device: found no name; right: what the device is called")
    record = begun.begin(choices.name.strip(), choices.kind)
    record = begun.with_device(record, invented=choices.invented)
    kept = [item for item in draft.items if item.number not in choices.without]
    made = built(kept, Builder(record, clock=choices.clock))
    if faults(check(made.record)):  # rare; then it is found out which item it is
        made = built(kept, Builder(record, clock=choices.clock, careful=True))
    return made


def built(items: list[Item], builder: Builder) -> Drafted:
    """The record grown by the items: first what was done, then what was told besides."""
    zero = min((item.start for item in items), default=0.0)
    for item in items:
        if item.kind == "move":
            builder.take(item, moved, zero)
    for item in items:
        if item.kind != "move":
            builder.take(item, TELLING[item.kind], zero)
    return builder.done()


class Builder:
    """The record as it grows item by item; where it is `careful`, each step is checked."""

    def __init__(self, record: Record, *, clock: bool, careful: bool = False) -> None:
        self.record = record
        self.clock = clock
        self.careful = careful
        self.traced: list[Traced] = []
        self.noted: list[tuple[int, str]] = []

    def take(self, item: Item, grow: Callable[[Record, Item, float], Record], zero: float) -> None:
        """Take one item over, or keep its words as a note where the record cannot hold it."""
        at = max(0.0, item.start - zero)
        try:
            grown = grow(self.record, item, at)
            wrong = faults(check(grown)) if self.careful else ()
        except (BadSetting, Fault) as fault:
            self.note(item, at, str(fault))
            return
        if wrong:
            self.note(item, at, f"found {wrong[0].found}; right: {wrong[0].right}")
            return
        grown = grown if self.clock else timeless(self.record, grown, item)
        self.traced += made_by(self.record, grown, item.number)
        self.record = grown

    def note(self, item: Item, at: float, why: str) -> None:
        """Keep the words of an item in the log."""
        self.noted.append((item.number, why))
        self.record = with_line(self.record, LogEntry(seconds=round(at), note=item.words[:4000]))

    def done(self) -> Drafted:
        """The record with the lines of its log in order of time."""
        return Drafted(self.record, tuple(self.traced), tuple(self.noted))


def with_line(record: Record, entry: LogEntry) -> Record:
    """The record with a line that moves nothing, put into the log by its time."""
    place = next(
        (number for number, line in enumerate(record.log) if line.seconds > entry.seconds), len(record.log)
    )
    return replace(record, log=(*record.log[:place], entry, *record.log[place:]))


def made_by(before: Record, after: Record, item: int) -> list[Traced]:
    """What is new in the record."""
    old = ids_of(before)
    return [
        *(Traced("part", one.id, item) for one in after.parts if one.id not in old),
        *(Traced("joint", one.id, item) for one in after.joints if one.id not in old),
        *(Traced("seal", one.id, item) for one in after.seals if one.id not in old),
    ]


def ids_of(record: Record) -> set[str]:
    """The ids of all parts, joints and seals."""
    return {
        *(part.id for part in record.parts),
        *(joint.id for joint in record.joints),
        *(seal.id for seal in record.seals),
    }


def moved(record: Record, item: Item, at: float) -> Record:
    """The record after a move."""
    note = f"at {item.celsius:g} °C" if item.celsius is not None else ""
    done = Done(
        verb=item.verb,  # type: ignore[arg-type]
        what=item.part,
        to=item.to,
        count=item.count,
        drive=item.drive,
        thread=item.thread,
        length_mm=item.length_mm,
        tools=item.tools or None,
        seconds=item.seconds,
        note=note,
    )
    return apply(record, done, at).record


def timeless(before: Record, after: Record, item: Item) -> Record:
    """The record without times that only the clock gave."""
    known = {joint.id: joint for joint in before.joints}
    parts = {part.id: part for part in before.parts}
    for joint in after.joints:
        if item.seconds is None and joint.work and joint.work != getattr(known.get(joint.id), "work", ()):
            first = (*joint.work[0][:-1], replace(joint.work[0][-1], seconds=None))
            after = begun.with_joint(after, joint.id, work=(first, *joint.work[1:]))
    for part in after.parts:
        new = part.lift is not None and part.lift != getattr(parts.get(part.id), "lift", None)
        if new and item.seconds is None and part.lift is not None:
            lift = replace(part.lift, seconds=None) if part.lift.tools else None
            after = begun.with_part(after, part.id, lift=lift)
    return after


def figured(record: Record, item: Item, at: float) -> Record:  # noqa: ARG001 (one shape for all kinds)
    """The record with a figure of a label on its part, or with the part's mass."""
    record, part = there(record, item.part)
    one = next(one for one in record.parts if one.id == part)
    if item.unit == "g" and item.value:
        if one.mass_g is not None and one.mass_g != item.value:
            raise BadSetting(f"mass: found {item.value:g} g after {one.mass_g:g} g; right: one figure")
        return begun.with_part(record, part, mass_g=item.value)
    label = item.label[:1].upper() + item.label[1:]
    if item.value is None or any(spec.label == label and spec.unit == item.unit for spec in one.specs):
        raise BadSetting(f"{label}: found it a second time; right: one figure")
    return begun.with_part(
        record, part, specs=(*one.specs, Spec(label=label, value=item.value, unit=item.unit))
    )


def there(record: Record, name: str) -> tuple[Record, str]:
    """The record with a part of this name, and its id."""
    known = part_named(record, name)
    if known is not None:
        return record, known.id
    made = new_part(record, name, None)
    return with_new_part(record, made), made.id


def held(record: Record, item: Item, at: float) -> Record:
    """The record with what a fact tells: a seal, a joint still closed, what a known bond is made of; a state
    such as corrosion is a note of the log.
    """
    record, part = there(record, item.part)
    if item.fact == "seal":
        return sealed(record, part)
    if item.fact not in KIND_OF:
        return noted(record, item, at)
    kind = KIND_OF[item.fact]
    material = PULL_TAB if item.fact == "pull tab" else ""
    record, other = there(record, item.to) if item.to else (record, record.device.body)
    if part == other:
        raise BadSetting(f"{item.fact}: found '{item.part}' held to itself; right: two parts")
    alike = [joint for joint in record.joints if joint.kind == kind and part in joint.holds]
    alike = [joint for joint in alike if other in joint.holds] or ([] if item.to else alike)
    if alike:
        return begun.with_joint(record, alike[0].id, material=alike[0].material or material)
    new, name = joint_names(record, kind, part, None)
    if part == record.device.body:
        part, other = other, part
    behind, assumed = met_with(record, (part, other), at)
    joint = Joint(
        id=new,
        name=name,
        kind=kind,
        holds=(part, other),
        behind=behind,
        material=material,
        note=heard_as(item),
        assumed=assumed,
    )
    return with_new_joint(record, joint)


def met_with(record: Record, parts: tuple[str, str], at: float) -> tuple[Condition, bool]:
    """What is probably in the way of a joint that was only told of, and whether that is assumed.

    A joint of a part that had left by then waits for what the part waited for; another one for what had to be
    aside for the work at that moment.
    """
    standing = replay(record, sum(line.seconds <= at for line in record.log))
    known = {part.id: part for part in record.parts}
    gone = next((known[part] for part in parts if part in standing.aside), None)
    if gone is not None:
        return gone.under, bool(gone.under)
    waits = preset(record, standing, parts[0])
    return ((waits,), True) if waits else ((), False)


def heard_as(item: Item) -> str:
    """The fact as a joint that nobody opened keeps it."""
    return item.fact if item.fact in ("welded", "riveted", "press fit") else ""


def sealed(record: Record, part: str) -> Record:
    """The record with a seal at a part."""
    if any(part in seal.at for seal in record.seals):
        return record
    seal = Seal(id=begun.unused(f"{part}-seal", ids_of(record)), kind="gasket", at=(part,))
    return replace(record, seals=(*record.seals, seal))


def reached(record: Record, item: Item, at: float) -> Record:
    """The record in which some parts are not in the way of another; the words stand in the log."""
    target = part_named(record, item.part)
    spared = {part.id for name in item.without if (part := part_named(record, name)) is not None}
    if target is not None and spared:
        record = begun.with_part(record, target.id, **spare(target.under, target.assumed, spared, "under"))
        for joint in record.joints:
            if joint.holds[0] == target.id and not spared & set(joint.holds):
                facts = spare(joint.behind, joint.assumed, spared, "behind")
                record = begun.with_joint(record, joint.id, **facts)
    return with_line(
        record, LogEntry(seconds=round(at), on=target.id if target else "", note=item.words[:4000])
    )


def spare(condition: Any, assumed: bool, spared: set[str], key: str) -> dict[str, Any]:
    """A condition without the parts that need not be aside; nothing assumed is left where it is empty."""
    kept = tuple(tuple(one for one in alternative if one not in spared) for alternative in condition)
    if kept == condition:
        return {}
    whole = all(kept)
    return {key: kept if whole else (), "assumed": assumed and whole}


def noted(record: Record, item: Item, at: float) -> Record:
    """The record with the words as a note of the log."""
    part = part_named(record, item.part) if item.part else None
    entry = LogEntry(seconds=round(at), on=part.id if part is not None else "", note=item.words[:4000])
    return with_line(record, entry)


TELLING: Mapping[str, Callable[[Record, Item, float], Record]] = MappingProxyType(
    {"figure": figured, "fact": held, "reach": reached, "note": noted}
)
