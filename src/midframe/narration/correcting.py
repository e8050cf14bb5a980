"""What a correction mends: "no, eight", "I mean to the display"."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.narration.found import Found
from midframe.narration.frames import Frame
from midframe.narration.naming import Names

SLOTS: Mapping[str, str] = {
    "mm": "length_mm",
    "seconds": "seconds",
    "celsius": "celsius",
    "figure": "value",
}
NAMES: Mapping[str, str] = {"length_mm": "length", "seconds": "time", "celsius": "temperature"}
NEAR = 2
"""A count after the fact without a name is that of one of so many last moves (house choice)."""

COUNTED = ("unscrew", "unclip", "desolder")


def corrected(found: list[Found], frame: Frame, names: Names) -> bool:
    """Mend the last thing understood by a clause that corrects it; false where it mends nothing."""
    last = found[-1]
    if frame.verb and not frame.weak and frame.verb != last.verb:
        return False
    if frame.main and (frame.weak or frame.screws) and last.verb != "unscrew":
        return False
    mended = [*figures(last, frame), *words(last, frame)]
    if not frame.verb or frame.verb == last.verb:
        mended += parts(last, frame, names)
    if mended:
        last.more(frame.spans)
        told = ", ".join(filter(None, mended))
        if told and last.notes:
            last.notes[-1] += f", {told}"
        elif told:
            last.notes.append(f"corrected in the words: {told}")
        frame.used = True
    return bool(mended)


def figures(last: Found, frame: Frame) -> list[str]:
    """The figures that are put right."""
    mended = []
    for fact in ("length_mm", "seconds", "celsius", "thread"):
        if getattr(frame, fact):
            mended.append(put(last, fact, getattr(frame, fact)))
    for _, value, unit in frame.figures:
        if last.kind == "figure" and last.unit == unit:
            last.value = value
            mended.append("value")
    bare = frame.count if frame.count is not None else next(iter(frame.numbers), None)
    if bare is not None:
        mended += bare_figure(last, frame, float(bare))
    return mended


def put(last: Found, fact: str, value: float | str) -> str:
    """Set a fact; its name, empty where it was not known before and so is no correction."""
    known = getattr(last, fact)
    setattr(last, fact, value)
    return NAMES.get(fact, fact) if known and known != value else ""


def bare_figure(last: Found, frame: Frame, value: float) -> list[str]:
    """A figure without a unit, which mends what was said last: a length, a time, a size, else a count."""
    slot = next((name for name in reversed(last.order) if name in (*SLOTS, "count", "size")), "")
    if slot == "mm" and last.count and last.length_mm and off(value, last.count) < off(value, last.length_mm):
        slot = "count"
    if slot == "seconds" and last.seconds and last.seconds % 60 == 0 and value < 60:
        value *= 60
    if slot in SLOTS and not frame.objects and not frame.drive:
        return [put(last, SLOTS[slot], value)]
    if last.verb in COUNTED and value.is_integer() and value >= 1:
        plural = any(
            span.text.endswith("s") and span.kind("number") and span.text.isalpha() for span in frame.spans
        )
        if plural and last.size and "count" not in frame.marks and frame.spans[-1].text not in ("six",):
            last.size = f"{value:g}"
            return ["size"]
        last.count = int(value)
        return ["count"]
    return []


def off(value: float, known: float) -> float:
    """How far a figure is from one known, as a ratio above one.

    >>> off(8, 9) < off(8, 3)
    True
    """
    return max(value, known) / max(1e-9, min(value, known))


def words(last: Found, frame: Frame) -> list[str]:
    """The words that are put right: drive, size, tools, how a part is held."""
    mended = []
    if frame.drive and last.verb == "unscrew":
        last.drive, last.size = frame.drive, frame.size or last.size
        mended.append("drive")
    elif frame.size and last.verb == "unscrew":
        last.size = frame.size
        mended.append("size")
    if frame.tools:
        mended.append("tools" if last.tools else "")
        last.tools = list(frame.tools)
    if frame.facts and last.kind == "fact":
        last.fact = frame.facts[0]
        mended.append("fact")
    return mended


def parts(last: Found, frame: Frame, names: Names) -> list[str]:
    """The parts that are put right: the one worked on, or the one it leads to."""
    if frame.to and (last.to or last.kind == "fact") and not frame.main:
        last.to = frame.to[0]
        return ["to"]
    if frame.main and frame.main[0] != last.part:
        if last.to and last.part in frame.to:
            return []
        last.part = names.topic = frame.main[0]
        return ["part"]
    return []


def recounted(found: list[Found], frame: Frame) -> bool:
    """Whether a clause counts after the fact: "that was four of them", "it was only three"."""
    marks = frame.marks | frame.after
    if frame.count is None or not {"counted", "total"} & marks or (frame.verb and not frame.weak):
        return False
    named = {*frame.main, *frame.near, *frame.to, *frame.beyond}
    counted_before = (one for one in reversed(found) if one.verb in COUNTED)
    last = next((one for one in counted_before if not named or one.part in named), None)
    moves = [one for one in found if one.kind == "move"][-NEAR:]
    if last is None or (not named and last not in moves):
        return False
    if frame.objects and last.count is not None and "more" not in marks:
        return False
    if last.count not in (None, frame.count):
        last.notes.append("corrected in the words: count")
    last.count = frame.count
    last.drive, last.size = frame.drive or last.drive, frame.size or last.size
    last.length_mm = frame.length_mm or last.length_mm
    last.planned = False
    last.more(frame.spans)
    frame.used = True
    return True
