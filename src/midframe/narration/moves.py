"""Which move a clause tells, and to which part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from midframe.narration.found import Found
from midframe.narration.frames import SCREWED, Frame
from midframe.narration.naming import Names
from midframe.narration.telling import is_battery, usual_part
from midframe.narration.vocabulary import Vocabulary
from midframe.stripdown.words import term_of

TERSE = 6
"""A clause of no more spans may leave out what everybody at the bench knows (house choice)."""

OPENING = ("unscrew", "unplug", "unclip", "desolder", "pry", "peel", "heat", "soak")
NEXT = "?"
"""Stands for the part of a bond until that comes off."""

BONDS = ("heat", "soak", "pry", "peel")
CABLES = ("Antenna cable", "Interconnect flex")
"""Parts that come off by their plugs."""


class Moves:
    """Finds the moves; adds them to what was found, or to the one that they tell again."""

    def __init__(self, names: Names, found: list[Found], words: Vocabulary) -> None:
        self.names = names
        self.found = found
        self.words = words
        self.why = ""
        self.tab = False

    def of(self, frame: Frame, later: Sequence[Frame]) -> bool:
        """Take in what a clause tells; false where it tells no move (`why` then says so)."""
        self.why = ""
        verb, open_said = self.verb_of(frame)
        self.tab = "pull tab" in frame.facts or (self.tab and not frame.main)
        if not verb:
            return self.the_same(frame) or self.goes_on(frame)
        if verb == SCREWED and self.one_more(frame):
            return True
        parts, reason = self.parts_of(frame, verb, later)
        if not parts and self.tells_again(frame, verb):
            return True
        if not parts:
            self.why = "it is not said what was done to"
            return False
        if verb == "lift" and frame.weak and cable(parts[0]) and frame.spans[-1].text == "off":
            verb = "unplug"
        if verb in ("lift", "fold aside") and frame.baked:
            self.add(self.move(frame, "heat", parts[0], reason, first=True), open_said=True)
        for number, part in enumerate(parts):
            self.add(self.move(frame, verb, part, reason, first=number == 0), open_said=open_said)
        if verb == SCREWED and frame.verb == "lift" and frame.order[-2:] == ["part", "verb"]:
            self.add(self.move(frame, "lift", parts[0], reason, first=True), open_said=True)
        return True

    def the_same(self, frame: Frame) -> bool:
        """Whether a part is said to have come off as the one before: "front camera the same"."""
        moves = [one for one in self.found if one.kind == "move"]
        about = frame.objects or frame.facts or frame.figures or frame.count is not None or frame.unknown
        if "same" not in frame.marks | frame.after or not frame.main or about or not moves:
            return False
        before = moves[-1].part
        last = next((place for place, one in enumerate(reversed(moves)) if one.part != before), len(moves))
        for known in moves[len(moves) - last :]:
            made = self.move(frame, known.verb, frame.main[0], "done as to the part before", first=True)
            made.count, made.tools = known.count, list(known.tools)
            self.add(made, open_said=True)
        return True

    def one_more(self, frame: Frame) -> bool:
        """Whether a clause finds one more of the screws just counted: "another one under the tape"."""
        last = self.found[-1] if self.found else None
        told = frame.objects or frame.drive or frame.length_mm or frame.thread or frame.main or frame.to
        alike = "more" in frame.marks | frame.after and frame.count == 1
        if last is None or last.verb != SCREWED or last.count is None or told or not alike:
            return False
        last.count += 0 if any("count" in note for note in last.notes) else 1
        last.filled.append("one more was found after the count")
        last.more(frame.spans)
        return True

    def verb_of(self, frame: Frame) -> tuple[str, bool]:
        """The verb of a move, and whether the opening itself is said; empty where there is none."""
        things = [one for one in frame.objects if one in ("unscrew", "unplug", "unclip", "desolder")]
        if plugged(frame, things):
            return "unplug", True
        tab = "tab" in frame.objects or "pull tab" in frame.facts or (self.tab and not frame.main)
        taped = frame.verb == "lift" and frame.early == "adhesive"
        if taped or (frame.pull and tab and frame.verb in ("", "lift")):
            return "peel", True
        if frame.pull and not tab and not frame.verb and frame.main and not frame.unknown:
            return ("unplug" if cable(frame.main[0]) or "unplug" in things else "lift"), True
        if frame.verb == "lift" and things and (frame.early in things or frame.weak or not frame.main):
            return things[0], True
        if frame.verb == "lift" and frame.screws and (frame.weak or not frame.main):
            return SCREWED, True
        if frame.verb == "unclip" and things == ["unplug"]:
            return "unplug", True
        if frame.verb:
            return ("unclip", True) if frame.verb == "lift" and things == ["unclip"] else (frame.verb, True)
        return self.without_verb(frame, things), False

    def without_verb(self, frame: Frame, things: list[str]) -> str:
        """The verb that screws, clips, a plug or a tool alone stand for."""
        if frame.screws or (frame.held and SCREWED in things):
            return SCREWED
        if "unclip" in things and "clipped" not in frame.facts and (frame.count is not None or frame.held):
            return "unclip"
        plugs = bool(frame.main) and frame.count is not None and not frame.held
        if things == ["unplug"] and frame.unknown == 0 and (bare_words(frame) <= 2 or plugs):
            return "unplug"
        last = self.found[-1] if self.found else None
        goes_on = "too" in frame.marks | frame.after or then_only(frame)
        if goes_on and frame.main and last is not None and last.kind == "move":
            return last.verb
        return self.by_tool(frame)

    def by_tool(self, frame: Frame) -> str:
        """The verb that a tool alone stands for, beside a part or a time, or as the whole clause."""
        alone = all(span.kind("tool", "mark", "sign", "idle", "stop") for span in frame.spans)
        says = frame.main or frame.seconds or frame.celsius or alone or len(frame.spans) <= 2
        says = says or "enters" in frame.marks | frame.after or "adhesive" in frame.objects
        if not frame.tools or not says or frame.unknown > 1:
            return ""
        tables = self.words.tables.get("tool_verb", {})
        return next((verb for tool in frame.tools for verb, tools in tables.items() if tool in tools), "")

    def parts_of(self, frame: Frame, verb: str, later: Sequence[Frame]) -> tuple[list[str], str]:
        """The parts that a move is about, and where they were taken from if not from the clause."""
        if frame.main:
            several = verb != SCREWED and (frame.count is None or verb == "unplug")
            return (frame.main if several else frame.main[:1]), ""
        if self.points_back(frame, verb):
            return [], ""
        edge = frame.edge or self.names.edge
        if verb == SCREWED and edge and not (frame.near or frame.to):
            return [edge], "" if frame.edge else f"the place is the one named before: {edge.lower()}"
        beside = (*frame.near, *(frame.beyond if verb in BONDS else ()), *frame.to)
        beside = tuple(name for name in beside if not is_body(name) or not self.names.topic)
        if beside:
            return [beside[0]], ""
        leads = "" if self.pronoun(frame) else leading(later, verb)
        if leads:
            return [leads], "the part is the one that is named next"
        return self.from_before(frame, verb)

    def from_before(self, frame: Frame, verb: str) -> tuple[list[str], str]:
        """The part that a move without one is about, from the words before, and where it was taken from."""
        if verb == "peel" and frame.pull:
            cell = usual_part("pull tab", self.names)
            return [cell] if cell else [], f"the part is taken from the words before: {cell.lower()}"
        held_to = frame.to and is_body(frame.to[0])
        points = held_to or self.pronoun(frame) or self.terse(frame, verb)
        if self.names.topic and points and not self.gone(self.names.topic, verb):
            return [self.names.topic], f"the part is the one talked about before: {self.names.topic.lower()}"
        before = next((one for one in reversed(self.found) if one.verb == SCREWED), None)
        if verb == SCREWED and before is not None and "more" in frame.marks | frame.after:
            return [before.part], "the part is that of the screws before"
        if verb in BONDS and points and not frame.beyond:
            return [NEXT], "the part is the one that comes off next"
        return frame.beyond[:1], "the part is only what they lie under"

    def gone(self, part: str, verb: str) -> bool:
        """Whether a part was lifted already, so that without its name only its plugs are meant."""
        lifted = any(one.part == part and one.verb in ("lift", "fold aside") for one in self.found)
        return lifted and verb not in ("unplug", "desolder", "fold aside")

    def pronoun(self, frame: Frame) -> bool:
        """Whether a word such as "it" stands for the part."""
        return bool({"pronoun", "both"} & (frame.marks | frame.after))

    def terse(self, frame: Frame, verb: str) -> bool:
        """Whether the clause is short enough to leave the part out, or about things that need none."""
        bond = verb in BONDS and ("adhesive" in frame.objects or bool(frame.tools))
        idle = frame.unknown > (3 if bond else 1) or (verb == "lift" and frame.unknown > 0)
        about = frame.screws or bool(frame.objects) or frame.seconds or frame.celsius or bool(frame.tools)
        return not idle and (bool(about) or len(frame.spans) <= TERSE)

    def points_back(self, frame: Frame, verb: str) -> bool:
        """Whether "them" means the screws just counted: "I take those out"."""
        last = self.found[-1] if self.found else None
        if last is None or last.verb not in ("unscrew", "unclip") or frame.main or frame.count is not None:
            return False
        texts = {span.text for span in frame.spans}
        if texts & {"it", "this"}:
            return False
        plural = bool(texts & {"them", "those", "these", "they", "both", "everything"})
        which = "which" in texts and not last.open_said
        return verb in (last.verb, "lift") and (plural or which)

    def tells_again(self, frame: Frame, verb: str) -> bool:
        """Take up a clause that says once more what was counted before."""
        if not self.points_back(frame, verb):
            return False
        last = self.found[-1]
        last.open_said = True
        last.tools += [tool for tool in frame.tools if tool not in last.tools]
        last.more(frame.spans)
        return True

    def move(self, frame: Frame, verb: str, part: str, reason: str, *, first: bool) -> Found:
        """The move of a clause on one of its parts."""
        one = Found("move", list(frame.spans), verb=verb, part=part, order=list(frame.order))
        one.to = next((name for name in frame.to if name != part), "")
        one.planned = "plan" in frame.marks
        one.tools = list(frame.tools)
        one.seconds, one.celsius = frame.seconds, frame.celsius
        if verb in ("unscrew", "unclip", "desolder") and first:
            one.count = frame.count
        if verb == SCREWED:
            one.drive, one.size = frame.drive, frame.size
            one.thread, one.length_mm = frame.thread, frame.length_mm
            self.like_before(frame, one)
            if one.size.startswith("00") and not one.drive:
                one.drive = "cross recess"
                one.filled.append("a size in noughts is that of a cross recess")
        one.filled += [reason] if reason else []
        one.doubts += [*frame.heard, *(self.names.doubts(part) if reason else ())]
        made = [name for name in frame.made if name == part]
        one.doubts += [f"“{name}” is no part name that is known" for name in made]
        return one

    def like_before(self, frame: Frame, one: Found) -> None:
        """Screws that are "the same" as those counted before."""
        before = next((known for known in reversed(self.found) if known.verb == SCREWED), None)
        if before is None or not ({"same", "more"} & (frame.marks | frame.after)) or one.drive:
            return
        if "same" not in frame.marks | frame.after:
            return
        one.drive, one.size = before.drive, before.size
        one.thread = one.thread or before.thread
        one.length_mm = one.length_mm or before.length_mm
        one.filled.append("drive and length are those of the screws before")

    def add(self, one: Found, *, open_said: bool) -> None:
        """Add a move, or put it to the one that it tells again."""
        one.open_said = open_said
        self.name_waiting(one)
        self.fulfil(one)
        again = next(self.told_before(one), None)
        if again is not None:
            again.take_over(one)
        else:
            self.found.append(one)

    def fulfil(self, one: Found) -> None:
        """Let a deed take up what was planned of the same kind on the same part."""
        plans = [known for known in self.found if known.planned and known.part == one.part]
        for plan in plans if not one.planned else ():
            if plan.verb == one.verb:
                one.take_over(plan)
                self.found.remove(plan)

    def name_waiting(self, one: Found) -> None:
        """Give bonds that were worked on just before, without a name, the part that comes off now."""
        if one.part == NEXT or one.verb not in (*BONDS, "lift", "fold aside"):
            return
        for known in reversed(self.found):
            if known.part != NEXT:
                break
            known.part = one.part
            known.doubts += one.doubts

    def told_before(self, one: Found) -> Iterator[Found]:
        """The move that another tells again: a lift of the same part, or the last move once more."""
        moves = [known for known in self.found if known.kind == "move" and known.part == one.part]
        if one.verb in ("lift", "fold aside"):
            yield from (known for known in moves if known.verb == one.verb)
            return
        texts = {mark for span in one.spans for mark in (span.tags.get("mark"),)}
        if {"again", "more"} & texts or not self.found or not moves:
            return
        last = next(known for known in reversed(self.found) if known.kind == "move")
        if last.part != one.part or last.verb != one.verb:
            return
        alike = not one.drive or one.drive_words == last.drive_words or not last.drive
        if one.verb != SCREWED or one.count is None or (last.count in (None, one.count) and alike):
            yield last

    def goes_on(self, frame: Frame) -> bool:
        """A clause without a verb that gives a figure or tool to the move before."""
        last = self.found[-1] if self.found else None
        if last is None or last.kind != "move" or frame.main or frame.unknown > 2:
            return False
        given = False
        waits = "pause" in frame.marks or last.verb in (*BONDS, "desolder")
        for fact, fits in (
            ("seconds", waits),
            ("celsius", last.verb in ("heat", "desolder")),
            ("length_mm", last.verb == SCREWED),
            ("thread", last.verb == SCREWED),
            ("drive", last.verb == SCREWED),
        ):
            if fits and getattr(frame, fact) and not getattr(last, fact):
                setattr(last, fact, getattr(frame, fact))
                given = True
        if frame.size and last.verb == SCREWED and not last.size:
            last.size, given = frame.size, True
        if given:
            last.tools += [tool for tool in frame.tools if tool not in last.tools]
            last.order += frame.order
            last.more(frame.spans)
        return given


def plugged(frame: Frame, things: Sequence[str]) -> bool:
    """Whether "undo" and "unclip" mean a plug: of a cable, of a battery, or one that is named."""
    main = frame.main[0] if frame.main else ""
    if frame.verb == "lift" and (frame.weak or frame.parted):
        return main in CABLES or (cable(main) and not any(span.text == "out" for span in frame.spans))
    loose = frame.verb == "unclip" or (frame.verb == SCREWED and not frame.drive and not frame.thread)
    if not loose or SCREWED in things or "unclip" in things:
        return False
    return "unplug" in things or cable(main) or (frame.verb == "unclip" and is_battery(main))


def cable(name: str) -> bool:
    """Whether a name is that of a cable, which comes off by its plugs."""
    return name in CABLES or name.split()[-1:] in (["flex"], ["cable"], ["lead"], ["ribbon"])


def bare_words(frame: Frame) -> int:
    """How many words of a clause are more than "then", "and" or a sign."""
    return sum(not (span.kind("sign") or span.mark("then", "and", "too")) for span in frame.spans)


def is_body(name: str) -> bool:
    """Whether a name is that of the frame, which nothing is taken off."""
    term = term_of(name)
    return term is not None and term.term == "Frame"


def then_only(frame: Frame) -> bool:
    """Whether a clause is no more than "then the display": done the same as before.

    Only where the part is named right after; more words mean something else.
    """
    first = frame.spans[0].text if frame.spans else ""
    rest = [span for span in frame.spans[1:] if not span.kind("sign", "stop", "object")]
    return first in ("then", "and then") and len(rest) == 1 and rest[0].kind("part")


def leading(later: Sequence[Frame], verb: str) -> str:
    """The part named further on in the sentence that an opening without a part belongs to; else empty."""
    if verb not in OPENING:
        return ""
    for frame in later:
        if frame.how:
            return ""
        named = (*frame.main, *frame.near, *frame.to)
        if named and (frame.verb in ("lift", "fold aside") or (verb == SCREWED and frame.screws)):
            return named[0]
        if frame.verb:
            return ""
    return ""
