"""Wrong-hole hazards: which hole suffers when a screw of another kind is driven into it, and how."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import msgspec

from midframe.record.model import Joint, Record
from midframe.screws.beneath import Beneath, beneath
from midframe.screws.drives import turned_alike
from midframe.screws.kinds import Group, Kind, groups
from midframe.screws.mistaken import threads_meet
from midframe.screws.threads import starts_in, turns

CLEAR_MM = 0.05
"""Differences in length below this are none (own construction)."""

HOLDING_DIAMETERS = 1.0
"""Engagement below this many diameters is called little (common practice, no source)."""


class WrongHole(msgspec.Struct, frozen=True, kw_only=True):
    """One kind of screw in the holes of one joint that is not its own.

    `effect` is one of

    - "pierces": longer than the hole is deep, and a display, a cell or a board lies within reach
    - "may pierce": too long for the hole, or longer than its own screw where the depth is unknown, with a
      display, cell or board under it that the known figures do not put out of reach
    - "bottoms": longer than the hole is deep: jams before it clamps, or breaks through
    - "longer": longer than the hole's own screw, depth of the hole unknown
    - "short": shorter than its own screw, so fewer turns hold
    - "askew": another thread that bites all the same
    - "goes in": longer than its own screw, but within the depth of the hole

    Millimetres and turns: `beyond_mm` how far it reaches past the bottom of the hole (None: depth
    unknown), `longer_mm` how much longer than the hole's own screw (negative: shorter), `turns` how many
    turns hold (None: the thickness of what is clamped is unknown), `turns_lost` against its own screw.
    `weak` says that less than one diameter holds, where its own screw has one or more; None where
    unknown. `bit` as in `Mistaken`. `head` is how the head sits: "alike", "proud" or "unlike". `over`
    holds what it reaches first.
    """

    screw: str
    joint: str
    own: str
    effect: str
    longer_mm: float
    beyond_mm: float | None
    turns: float | None
    turns_lost: float | None
    weak: bool | None
    bit: str
    head: str
    over: tuple[Beneath, ...]


EFFECTS = ("pierces", "may pierce", "bottoms", "longer", "short", "askew", "goes in")
"""The effects in the order of the ranking: what harms a display, cell or board comes first."""


def wrong_holes(record: Record) -> tuple[WrongHole, ...]:
    """Every kind in every hole of another kind that it enters, ranked.

    First what can harm a display, a cell or a board, by how far it reaches past the hole; inside an
    effect those that one bit turns before those that the drive tells apart.

    >>> from midframe import demo
    >>> first = wrong_holes(demo.load("tern-3"))[0]
    >>> first.effect, first.screw, first.joint, first.beyond_mm, first.over[0].name
    ('pierces', 'A', 'main-board-screws', 1.6, 'Display assembly')
    """
    return tuple(sorted(found_hazards(record), key=rank))


def rank(hazard: WrongHole) -> tuple[int, int, float]:
    """The order of the list: the effect, then whether the bit passes, then by how much."""
    amount = hazard.beyond_mm if hazard.beyond_mm is not None else abs(hazard.longer_mm)
    if hazard.effect == "short":
        amount = hazard.turns_lost or 0.0
    bits = ("fits", "loose", "unknown", "no")
    return EFFECTS.index(hazard.effect), bits.index(hazard.bit), -amount


def found_hazards(record: Record) -> Iterator[WrongHole]:
    """Each kind against each group of holes of another kind."""
    found = groups(record)
    joints = {joint.id: joint for joint in record.joints}
    kinds = {group.letter: group.kind for group in found}
    under = {group.joint: beneath(record, joints[group.joint]) for group in found}
    clamped = {group.joint: clamped_mm(record, joints[group.joint], group) for group in found}
    for (letter, kind), hole in product(kinds.items(), found):
        if letter != hole.letter:
            hazard = hazard_of(letter, kind, hole, under[hole.joint], clamped[hole.joint])
            if hazard is not None:
                yield hazard


def hazard_of(
    letter: str, kind: Kind, hole: Group, under: tuple[Beneath, ...], clamped: float | None
) -> WrongHole | None:
    """What one kind does in one group of holes; None where it does not enter or nothing differs."""
    bit = turned_alike(kind.drive, hole.kind.drive)
    meets = enters(kind, hole.kind)
    length, own = kind.length_mm, hole.kind.length_mm
    if meets == "" or length is None or (meets == "askew" and bit == "no"):
        return None
    if own is None and hole.hole_depth_mm is None:
        return None
    longer = length - (own if own is not None else hole.hole_depth_mm or length)
    beyond = None if hole.hole_depth_mm is None else round(length - hole.hole_depth_mm, 6)
    effect = effect_of(longer, beyond, under, askew=meets == "askew")
    if effect is None:
        return None
    engaged, lost, weak = engagement(kind, length, longer, clamped)
    too_long = effect in ("pierces", "may pierce", "bottoms", "longer")
    return WrongHole(
        screw=letter,
        joint=hole.joint,
        own=hole.letter,
        effect=effect,
        longer_mm=round(longer, 6),
        beyond_mm=beyond,
        turns=engaged,
        turns_lost=lost,
        weak=weak if effect == "short" else None,
        bit=bit,
        head=head_in(kind.head, hole.kind.head),
        over=reached(under, beyond) if too_long else (),
    )


def enters(kind: Kind, own: Kind) -> str:
    """Whether a screw goes into the hole: "fits", "askew" or nothing."""
    meets = threads_meet(kind, own)
    if meets != "near":
        return "fits" if meets else ""
    screw, hole = kind.metric, own.metric
    return "askew" if screw and hole and starts_in(screw, hole) == "askew" else ""


def effect_of(longer: float, beyond: float | None, under: tuple[Beneath, ...], *, askew: bool) -> str | None:
    """The effect by the lengths and by what lies under the hole."""
    over = [part for part in under if part.vulnerable]
    if beyond is not None and beyond > CLEAR_MM:
        if any(part.gap_mm is not None and part.gap_mm < beyond for part in over):
            return "pierces"
        return "may pierce" if any(part.gap_mm is None for part in over) else "bottoms"
    if askew:
        return "askew"
    if longer > CLEAR_MM:
        if beyond is not None:
            return "goes in"
        return "may pierce" if over else "longer"
    return "short" if longer < -CLEAR_MM else None


def reached(under: tuple[Beneath, ...], beyond: float | None) -> tuple[Beneath, ...]:
    """What the point reaches, or may reach where depths are unknown; display, cell and boards first."""
    if beyond is None:
        found = [part for part in under if part.vulnerable]
    else:
        found = [part for part in under if part.gap_mm is None or part.gap_mm < beyond]
    return tuple(sorted(found, key=lambda part: not part.vulnerable))


def engagement(
    kind: Kind, length: float, longer: float, clamped: float | None
) -> tuple[float | None, float | None, bool | None]:
    """Turns that hold, turns lost against the own screw, and whether what holds is little."""
    thread = kind.metric
    if thread is None:
        return None, None, None
    lost = round(max(0.0, turns(-longer, thread)), 2)
    if clamped is None:
        return None, lost, None
    engaged = max(0.0, length - clamped)
    least = HOLDING_DIAMETERS * thread.size_mm - 1e-9
    return round(turns(engaged, thread), 2), lost, engaged < least <= engaged - longer


def clamped_mm(record: Record, joint: Joint, group: Group) -> float | None:
    """Thickness of what lies between head and thread, from the depths of the record.

    From the seat of the head to the far side of the cover; None where a depth is missing or the figures
    leave the own screw nothing to hold.
    """
    part = next((part for part in record.parts if part.id == group.cover), None)
    if part is None or part.depth_mm is None or joint.depth_mm is None or joint.face not in ("front", "back"):
        return None
    near, far = sorted(part.depth_mm)
    thickness = far - joint.depth_mm if joint.face == "front" else joint.depth_mm - near
    own = group.kind.length_mm
    if thickness <= 0 or (own is not None and thickness >= own):
        return None
    return round(thickness, 6)


def head_in(head: str, own: str) -> str:
    """How a head sits in the seat of another.

    A countersunk head on a flat seat stands proud on its edge, another head over a countersink sits on
    the rim (common practice, no source).

    >>> head_in("countersunk", "pan"), head_in("pan", "countersunk"), head_in("pan", "pan")
    ('proud', 'proud', 'alike')
    """
    if not head or not own or head == own:
        return "alike"
    sunk = [word for word in (head, own) if "countersunk" in word or "sunk" in word]
    return "proud" if len(sunk) == 1 else "unlike"
