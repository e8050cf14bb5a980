"""Hazards and pairs of kinds in sentences."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.record.model import Record
from midframe.screws.hazards import WrongHole
from midframe.screws.kinds import Kind, KindLine
from midframe.screws.mistaken import Mistaken

BIT: Mapping[str, str] = {
    "fits": "one bit turns both",
    "loose": "the smaller bit turns both, with play",
    "unknown": "not known whether one bit turns both",
    "no": "the drive tells them apart",
}
"""How one bit turns two kinds."""


def short(letter: str, kind: Kind) -> str:
    """A kind by letter, thread and length.

    >>> short("A", Kind("hexalobular 4", "M1.4", "pan", 4.0))
    'A (M1.4×4 pan)'
    """
    return f"{letter} ({str(kind).partition(',')[0]})"


def pair_sentence(pair: Mistaken, kinds: Mapping[str, KindLine]) -> str:
    """Two kinds that are mistaken for each other, in a sentence."""
    one, other = (short(letter, kinds[letter].kind) for letter in (pair.shorter, pair.longer))
    if pair.length_difference_mm is None:
        length = "a length is not known"
    elif pair.length_difference_mm == 0:
        length = "equally long"
    else:
        length = f"{pair.length_difference_mm:g} mm apart in length"
    others = [word for word in pair.told_apart_by if word in ("head", "thread")]
    differ = f", {' and '.join(others)} differ{'' if len(others) > 1 else 's'}" if others else ""
    return f"{one} and {other}: {length}{differ}; {BIT[pair.bit]}"


def harm(hazard: WrongHole) -> str:
    """What happens in the wrong hole, in words without the names of screw and hole."""
    told = {
        "pierces": pierces,
        "may pierce": may_pierce,
        "bottoms": bottoms,
        "longer": longer,
        "short": short_in_turns,
        "askew": askew,
        "goes in": longer,
    }[hazard.effect](hazard)
    return told + ("; the head stands proud" if hazard.head == "proud" else "")


def bottoms(hazard: WrongHole) -> str:
    """Words for a screw that is longer than the hole is deep."""
    return f"{hazard.beyond_mm:g} mm longer than the hole is deep: jams or breaks through"


def longer(hazard: WrongHole) -> str:
    """Words for a screw that is longer than the hole's own."""
    known = ", within the hole's depth" if hazard.effect == "goes in" else "; the hole's depth is not known"
    return f"longer than its own screw by {hazard.longer_mm:g} mm{known}"


def askew(_: WrongHole) -> str:
    """Words for a thread that is not the hole's."""
    return "another thread: bites askew, holds little, spoils the thread"


def pierces(hazard: WrongHole) -> str:
    """Words for a screw that reaches a display, a cell or a board."""
    hit = [part for part in hazard.over if part.vulnerable]
    names = " and ".join(
        f"{part.name}, {part.gap_mm:g} mm below it" if part.gap_mm else f"{part.name}, right below it"
        for part in hit
    )
    return f"{hazard.beyond_mm:g} mm beyond the hole: reaches {names}"


def may_pierce(hazard: WrongHole) -> str:
    """Words for a screw that may reach one: a depth is not known."""
    names = " or ".join(part.name for part in hazard.over if part.vulnerable)
    if hazard.beyond_mm is not None:
        return f"{hazard.beyond_mm:g} mm beyond the hole; {names} lies at this place, at a depth not known"
    return f"longer than its own screw by {hazard.longer_mm:g} mm; {names} lies at this place"


def short_in_turns(hazard: WrongHole) -> str:
    """Words for a screw that is too short, in turns where the thread is known."""
    told = f"shorter than its own screw by {-hazard.longer_mm:g} mm"
    if hazard.turns_lost is None:
        return told
    told += f", {hazard.turns_lost:.1f} turns fewer"
    if hazard.turns is None:
        return told
    weak = ", less than one diameter" if hazard.weak else ""
    return f"{told}: {hazard.turns:.1f} of {hazard.turns + hazard.turns_lost:.1f} hold{weak}"


def hole_name(record: Record, hazard: WrongHole) -> str:
    """The hole of a hazard by its cover and its own kind."""
    from midframe.screws.kinds import cover_of

    joint = next(joint for joint in record.joints if joint.id == hazard.joint)
    cover = cover_of(record, joint)
    return next((part.name for part in record.parts if part.id == cover), cover)
