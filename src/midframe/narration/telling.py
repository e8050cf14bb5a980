"""Figures read off a label, and facts about how a part is held."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from midframe.narration.found import Found
from midframe.narration.frames import UNIT_OF, Frame
from midframe.narration.naming import Names
from midframe.stripdown.words import term_of

USUAL: Mapping[str, str] = {
    "mAh": "rated capacity",
    "V": "nominal voltage",
    "Wh": "rated energy",
    "g": "mass",
}
"""What a figure of a unit is where the label's word for it is not said [common practice]."""

STATES = ("torn", "cracked", "corrosion", "broken pull tab")
"""What is wrong with a part; it is a fact only where the part is named with it."""

AT = ("seal", "corrosion", "water marker", "thermal paste", "thermal pad")
"""What sits on a part, and holds it to nothing."""


def figures_of(frame: Frame, names: Names, found: Sequence[Found]) -> list[Found]:
    """The figures of a label that a clause reads out."""
    units = {unit for _, _, unit in frame.figures}
    last = found[-1] if found else None
    goes_on = last is not None and last.kind == "figure"
    alone = all(span.kind("mAh", "V", "Wh", "g", "sign") for span in frame.spans)
    if not (units & {"mAh", "Wh"} or "label" in frame.marks | frame.after or goes_on or alone):
        return []
    made = []
    for label, value, unit in frame.figures:
        part, why = part_of(frame, names, unit)
        if part:
            word = label if UNIT_OF.get(label) == unit else USUAL[unit]
            one = Found("figure", list(frame.spans), part=part, label=word, value=value, unit=unit)
            one.order = ["figure"]
            one.filled += [why] if why else []
            one.doubts += [*frame.heard, *(names.doubts(part) if why else ())]
            made.append(one)
    return made


def part_of(frame: Frame, names: Names, unit: str) -> tuple[str, str]:
    """The part that a figure is read off: the one said, else the one talked about, else the battery."""
    named = [*frame.main, *frame.near, *frame.beyond, *frame.to]
    cells = [name for name in named if is_battery(name)]
    if cells or (named and unit == "g"):
        return (cells or named)[0], ""
    if unit == "g" or is_battery(names.topic):
        return names.topic, f"the part is the one talked about before: {names.topic.lower()}"
    cell = next((name for name in reversed(names.known) if is_battery(name)), "")
    return cell, "a charge or voltage is that of the battery, which was named before"


def is_battery(name: str) -> bool:
    """Whether a name is that of a battery."""
    term = term_of(name) if name else None
    return term is not None and term.role == "battery"


def usual_part(fact: str, names: Names) -> str:
    """The part that a fact is of where none is named: a pull tab is the battery's (common practice), else
    the one talked about.
    """
    cell = next((name for name in reversed(names.known) if is_battery(name)), "")
    return cell if fact.endswith("pull tab") and cell else names.topic


def bonded(frame: Frame) -> bool:
    """Whether a clause names glue beside the part that it holds, and nothing that was done."""
    beside = bool(frame.main or frame.near)
    return "adhesive" in frame.objects and beside and not (frame.verb or frame.tools or frame.pull)


def leads_on(found: Sequence[Found], frame: Frame) -> bool:
    """Whether a clause only tells what the part of the fact before is held to: "soldered. On the board"."""
    last = found[-1] if found else None
    alone = bool(frame.to) and not (frame.main or frame.verb or frame.objects or frame.facts or frame.unknown)
    if last is None or last.kind != "fact" or last.to or not alone or last.part == frame.to[0]:
        return False
    last.to = frame.to[0]
    last.more(frame.spans)
    frame.used = True
    return True


def facts_of(frame: Frame, names: Names) -> list[Found]:
    """What a clause says of how a part is held."""
    facts = list(dict.fromkeys(frame.facts))
    if {"pull tab", "torn"} <= set(facts):
        facts = ["broken pull tab"]
    if frame.held and "adhesive" in frame.objects and "pull tab" not in facts and not frame.tools:
        facts.append("glued")
    if not frame.verb and not facts and not frame.held and frame.unknown < 2 and "desolder" in frame.objects:
        facts.append("soldered")
    if bonded(frame) and not facts:
        facts.append("glued")
    made = []
    for fact in facts:
        part = next(iter((*frame.main, *frame.near, *frame.beyond)), "") or (
            frame.to[0] if fact in AT and frame.to else ""
        )
        to = next((name for name in frame.to if name != part), "")
        if frame.to and not to and fact not in AT:  # held to itself: two things of one name
            continue
        if fact in STATES and not part and fact != "broken pull tab":
            continue
        one = Found("fact", list(frame.spans), part=part or usual_part(fact, names), fact=fact, to=to)
        one.order = ["to"]
        one.doubts += frame.heard
        if not part:
            one.filled.append(f"the part is taken from the words before: {one.part.lower()}")
            one.doubts += names.doubts(one.part)
        if one.part:
            made.append(one)
    return made
