"""Screws counted back hole by hole: what is still out, left over or missing, and where it belongs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import Record
from midframe.screws.hazards import WrongHole, wrong_holes
from midframe.screws.kinds import Group, groups


class Driven(msgspec.Struct, frozen=True):
    """One screw driven in: the hole by joint and number (from 1), and the letter of the screw's kind."""

    joint: str
    hole: int
    letter: str


class CountBack(msgspec.Struct, frozen=True):
    """Where the counting stands: the groups that are out in this job, and the screws driven in so far."""

    groups: tuple[Group, ...]
    driven: tuple[Driven, ...] = ()


class EmptyHole(msgspec.Struct, frozen=True):
    """A hole without its screw: its joint and number, the kind that belongs in it, its place if known."""

    joint: str
    cover: str
    hole: int
    letter: str
    place_mm: tuple[float, float] | None


class KindCount(msgspec.Struct, frozen=True):
    """One kind: how many came out, how many are driven in, how many should lie in the tray, and do.

    `lying` is None where nobody counted the tray. `left_over`: more lie there than should, `missing`: fewer.
    """

    letter: str
    out: int
    driven: int
    expected: int
    lying: int | None

    @property
    def left_over(self) -> int:
        """How many lie there too many."""
        return 0 if self.lying is None else max(0, self.lying - self.expected)

    @property
    def missing(self) -> int:
        """How many lie there too few."""
        return 0 if self.lying is None else max(0, self.expected - self.lying)


class Found(msgspec.Struct, frozen=True):
    """What the counting says.

    `wrong` are screws ticked into holes of another kind, with the hazard where one is known. `suspects`
    are ticked holes of a kind of which screws are left over, that may hold a screw of a kind that is
    missing, the most harmful first. `done`: every hole has its own screw and nothing lies in the tray
    that should not.
    """

    kinds: tuple[KindCount, ...]
    empty: tuple[EmptyHole, ...]
    wrong: tuple[tuple[Driven, WrongHole | None], ...]
    suspects: tuple[WrongHole, ...]
    sentences: tuple[str, ...]
    done: bool


def start(record: Record, joints: Iterable[str] | None = None) -> CountBack:
    """Begin the counting for the screw joints that are open; None takes all of the record.

    Raises `UnknownPart` for a joint that is no screw joint of the record.
    """
    found = {group.joint: group for group in groups(record)}
    if joints is None:
        return CountBack(tuple(found.values()))
    wanted = list(joints)
    unknown = [joint for joint in wanted if joint not in found]
    if unknown:
        raise UnknownPart(f"no screw joint '{unknown[0]}' in the record; there are {', '.join(found)}")
    return CountBack(tuple(group for joint, group in found.items() if joint in wanted))


def drive(state: CountBack, joint: str, hole: int, letter: str = "") -> CountBack:
    """Tick a hole: a screw is in. Without a letter it is one of the hole's own kind.

    Raises `UnknownPart` for a joint that is not out and `BadSetting` for a hole that it does not have,
    that is ticked already, or for a kind that is not out.
    """
    group = group_of(state, joint)
    if not 1 <= hole <= group.count:
        raise BadSetting(f"{joint}: found hole {hole}; right: 1 to {group.count}")
    if any((one.joint, one.hole) == (joint, hole) for one in state.driven):
        raise BadSetting(f"{joint}: hole {hole} is ticked already; take the tick back first")
    kinds = sorted({one.letter for one in state.groups})
    if letter and letter not in kinds:
        raise BadSetting(f"{joint}: found a screw of kind '{letter}'; out are {', '.join(kinds)}")
    return CountBack(state.groups, (*state.driven, Driven(joint, hole, letter or group.letter)))


def take_out(state: CountBack, joint: str, hole: int) -> CountBack:
    """Take the tick of a hole back; raises as `drive`, and `BadSetting` where it is not ticked."""
    group_of(state, joint)
    kept = tuple(one for one in state.driven if (one.joint, one.hole) != (joint, hole))
    if len(kept) == len(state.driven):
        raise BadSetting(f"{joint}: hole {hole} is not ticked")
    return CountBack(state.groups, kept)


def drive_all(state: CountBack, joint: str) -> CountBack:
    """Tick every hole of a joint that is not ticked yet, each with its own kind."""
    done = {one.hole for one in state.driven if one.joint == joint}
    for hole in range(1, group_of(state, joint).count + 1):
        if hole not in done:
            state = drive(state, joint, hole)
    return state


def group_of(state: CountBack, joint: str) -> Group:
    """The group of a joint that is out."""
    for group in state.groups:
        if group.joint == joint:
            return group
    out = ", ".join(group.joint for group in state.groups) or "none"
    raise UnknownPart(f"'{joint}' is no screw joint that is out; out are {out}")


def found(record: Record, state: CountBack, lying: Mapping[str, int] | None = None) -> Found:
    """What is wrong, as far as ticks and the count of the tray tell.

    Parameters
    ----------
    lying
        Screws that lie in the tray now, by letter; kinds that are not named were not counted. None:
        nobody looked.

    Raises
    ------
    BadSetting
        Where `lying` names a kind that is not out, or a negative number.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> state = start(record, ["upper-cover-screws-long", "upper-cover-screws-short"])
    >>> state = drive_all(drive_all(state, "upper-cover-screws-long"), "upper-cover-screws-short")
    >>> told = found(record, state, {"A": 0, "B": 1})
    >>> told.done, told.sentences[0]
    (False, '1 of B (M1.4×2.5 pan) left over: it belongs in Upper mid cover')
    """
    counts = kind_counts(state, lying or {})
    hazards = {(one.screw, one.joint): one for one in wrong_holes(record)}
    own = {group.joint: group.letter for group in state.groups}
    wrong = tuple(
        (one, hazards.get((one.letter, one.joint))) for one in state.driven if one.letter != own[one.joint]
    )
    empty = tuple(empty_holes(state))
    suspects = suspected(state, counts, hazards)
    told = tuple(sentences(record, state, counts, wrong, suspects))
    clean = not wrong and not any(one.left_over or one.missing for one in counts)
    return Found(counts, empty, wrong, suspects, told, clean and not empty)


def kind_counts(state: CountBack, lying: Mapping[str, int]) -> tuple[KindCount, ...]:
    """The count of every kind that is out."""
    letters = list(dict.fromkeys(group.letter for group in state.groups))
    for letter, number in lying.items():
        if letter not in letters:
            raise BadSetting(f"tray: found kind '{letter}'; out are {', '.join(letters) or 'none'}")
        if number < 0:
            raise BadSetting(f"tray: found {number} of kind {letter}; right: 0 or more")
    counts = []
    for letter in letters:
        out = sum(group.count for group in state.groups if group.letter == letter)
        driven = sum(one.letter == letter for one in state.driven)
        counts.append(KindCount(letter, out, driven, out - driven, lying.get(letter)))
    return tuple(counts)


def empty_holes(state: CountBack) -> Iterable[EmptyHole]:
    """Holes that are not ticked, in the order of the groups."""
    ticked = {(one.joint, one.hole) for one in state.driven}
    for group in state.groups:
        for hole in range(1, group.count + 1):
            if (group.joint, hole) not in ticked:
                place = group.spots_mm[hole - 1] if hole <= len(group.spots_mm) else None
                yield EmptyHole(group.joint, group.cover, hole, group.letter, place)


def suspected(
    state: CountBack, counts: Iterable[KindCount], hazards: Mapping[tuple[str, str], WrongHole]
) -> tuple[WrongHole, ...]:
    """Ticked holes that may hold another kind than was said: left over here, no hole for it there."""
    counts = tuple(counts)
    over = {one.letter for one in counts if one.left_over or one.expected < 0}
    gone = {one.letter for one in counts if one.missing or one.expected < 0 or homeless(state, one) > 0}
    ticked = {one.joint for one in state.driven if one.letter in over}
    return tuple(
        hazard
        for (screw, joint), hazard in hazards.items()
        if screw in gone and hazard.own in over and joint in ticked
    )


def homeless(state: CountBack, count: KindCount) -> int:
    """How many of a kind should lie in the tray without an empty hole of their own."""
    return count.expected - sum(hole.letter == count.letter for hole in empty_holes(state))


def left_in(record: Record, state: CountBack, told: Found, joint: str) -> Iterable[str]:
    """What is wrong with the screws of one joint, in words: wrong kinds in its holes, what may be in them."""
    from midframe.screws.wording import short

    group = group_of(state, joint)
    name = next((part.name for part in record.parts if part.id == group.cover), group.cover)
    kinds = {one.letter: short(one.letter, one.kind) for one in state.groups}
    for one, hazard in told.wrong:
        if one.joint == joint:
            yield in_wrong_hole(kinds, name, one, hazard)
    for hazard in told.suspects:
        if hazard.joint == joint:
            yield in_doubt(kinds, name, hazard)


def in_wrong_hole(kinds: Mapping[str, str], cover: str, one: Driven, hazard: WrongHole | None) -> str:
    """A screw in a hole that is not its own, with the harm where one is known."""
    from midframe.screws.wording import harm

    told = f": {harm(hazard)}" if hazard else ""
    return f"{kinds[one.letter]} is in hole {one.hole} of {cover}, which is not its own{told}"


def in_doubt(kinds: Mapping[str, str], cover: str, hazard: WrongHole) -> str:
    """A hole that may hold another kind than was said."""
    from midframe.screws.wording import harm

    return f"Look at {cover}: {kinds[hazard.screw]} may be in a hole of {kinds[hazard.own]}: {harm(hazard)}"


def sentences(
    record: Record,
    state: CountBack,
    counts: Iterable[KindCount],
    wrong: Iterable[tuple[Driven, WrongHole | None]],
    suspects: Iterable[WrongHole],
) -> Iterable[str]:
    """What is wrong, in words, the most harmful first."""
    from midframe.screws.wording import short

    names = {part.id: part.name for part in record.parts}
    cover = {group.joint: names.get(group.cover, group.cover) for group in state.groups}
    kinds = {group.letter: short(group.letter, group.kind) for group in state.groups}
    for one, hazard in wrong:
        yield in_wrong_hole(kinds, cover[one.joint], one, hazard)
    for count in counts:
        homes = list(dict.fromkeys(cover[g.joint] for g in state.groups if g.letter == count.letter))
        belongs = " or ".join(homes)
        if count.left_over:
            them = "it belongs" if count.left_over == 1 else "they belong"
            yield f"{count.left_over} of {kinds[count.letter]} left over: {them} in {belongs}"
        if count.missing:
            yield f"{count.missing} of {kinds[count.letter]} missing from the tray: for {belongs}"
        if count.expected < 0:
            yield f"{-count.expected} more of {kinds[count.letter]} driven in than came out"
    for hazard in suspects:
        yield in_doubt(kinds, cover[hazard.joint], hazard)
