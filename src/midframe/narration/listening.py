"""From clauses to what was done: verbs to parts, figures to their things, corrections to what they mend."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.narration.clauses import Sentence, clauses, sentences
from midframe.narration.correcting import corrected, recounted
from midframe.narration.found import Aside, Found
from midframe.narration.frames import Frame, frame_of
from midframe.narration.moves import NEXT, Moves
from midframe.narration.naming import Names
from midframe.narration.reaches import Said, reach_in
from midframe.narration.tagging import Span
from midframe.narration.telling import facts_of, figures_of, leads_on
from midframe.narration.vocabulary import Vocabulary

SHORT = 40
"""A sentence of fewer spans is one thing: what it says of today's plan holds for all of it."""


class Listening:
    """What was understood so far, what was set aside, and what the talk is about."""

    def __init__(self, words: Vocabulary) -> None:
        self.words = words
        self.names = Names()
        self.found: list[Found] = []
        self.aside: list[Aside] = []
        self.moves = Moves(self.names, self.found, words)

    def listen(self, spans: Sequence[Span]) -> None:
        """Read a whole talk."""
        for sentence in sentences(spans):
            self.sentence(sentence)
        for one in [one for one in self.found if one.part == NEXT]:
            self.found.remove(one)
            self.set_aside(one.spans, "it is not said what was done to")
        self.settle_plans()

    def settle_plans(self) -> None:
        """Of what was said to come, take as done only what more was done to the same part after."""
        for place, one in reversed(list(enumerate(self.found))):
            after = [later for later in self.found[place + 1 :] if later.kind == "move" and not later.planned]
            if one.planned and any(later.part == one.part for later in after):
                one.planned = False
                one.filled.append(
                    "said as what was to come; taken as done, for the work went on with the part"
                )
            elif one.planned:
                self.found.remove(one)
                self.set_aside(one.spans, "what was planned, and not said to be done")

    def sentence(self, sentence: Sentence) -> None:
        """Read one sentence."""
        spans = sentence.spans
        if sentence.asks and len(spans) < SHORT:
            self.set_aside(spans, "a question")
            self.asked(spans)
        elif len(spans) < SHORT and any(span.mark("intro") for span in spans):
            self.set_aside(spans, "what is planned, or a greeting")
        elif len(spans) < SHORT and any(span.mark("other") for span in spans):
            self.set_aside(spans, "about something else")
        else:
            said = reach_in(spans)
            if said is None:
                self.plain(sentence)
            else:
                self.reached(sentence, said)

    def asked(self, spans: Sequence[Span]) -> None:
        """A question about one part turns the talk to it."""
        parts = {name for span in spans if span.kind("part") and (name := self.names.name_of(span))}
        if len(parts) == 1:
            self.names.topic = parts.pop()
            self.names.know(self.names.topic)

    def reached(self, sentence: Sentence, said: Said) -> None:
        """A sentence that says what need not come out; what stands around that is read as ever."""
        spans = sentence.spans
        head = spans[: said.first]
        if head:
            self.plain(Sentence(head))
        middle = list(spans[said.first : said.end])
        parts = [name for one in said.without if (name := self.names.name_of(one))]
        if said.pronoun and self.names.topic:
            parts = [self.names.topic]
        target = self.names.name_of(said.part) if said.part is not None else self.names.topic
        moved = self.moved_too(middle)
        if not parts or not target or target in parts:
            if not moved:
                self.set_aside(middle, "what need not come out, but not for which part")
        else:
            doubts = [*heard(middle), *(one for name in (target, *parts) for one in self.names.doubts(name))]
            found = Found("reach", middle, part=target, without=parts, doubts=doubts)
            if said.part is None:
                found.filled.append(f"the part is the one talked about before: {target.lower()}")
            self.found.append(found)
        for name in (*parts, target):
            self.names.know(name)
        if said.part is not None:
            self.names.topic = target
        rest = spans[said.end :]
        if rest:
            self.sentence(Sentence(rest, sentence.asks))

    def moved_too(self, middle: Sequence[Span]) -> bool:
        """Whether the same words tell a move: "lift the battery without taking the board out"."""
        place = next((n for n, span in enumerate(middle) if span.text.startswith("without")), 0)
        if not any(span.kind("verb") and not span.mark("goal") for span in middle[:place]):
            return False
        before = len(self.found)
        self.plain(Sentence(tuple(middle[:place])))
        return len(self.found) > before

    def plain(self, sentence: Sentence) -> None:
        """Read the clauses of a sentence one after the other."""
        frames: list[Frame] = []
        for clause in clauses(sentence):
            frame = frame_of(clause, self.names.bare)
            frames.append(frame)
            self.names.hear(frame)
        for place, frame in enumerate(frames):
            before = frames[place - 1] if place else None
            self.clause(frame, before, frames[place + 1 :])

    def clause(self, frame: Frame, before: Frame | None, later: Sequence[Frame]) -> None:
        """Understand one clause."""
        if frame.how == "take back":
            self.take_back(frame)
            return
        if frame.noted:
            self.found.append(Found("note", list(frame.spans), part=next(iter(frame.main), "")))
            frame.used = True
            return
        why = unsaid(frame)
        if not frame.how and number_alone(frame) and self.found and self.found[-1].count:
            frame.how = "correct"
        if frame.how == "correct" and self.found:
            if before is not None and not before.used:
                frame.complete_from(before)
            elif corrected(self.found, frame, self.names):
                return
        if why:
            self.set_aside(frame.spans, why)
            self.names.turn_to(frame)
            return
        if self.deed(frame) or recounted(self.found, frame) or leads_on(self.found, frame):
            self.names.turn_to(frame)
            return
        made = [*figures_of(frame, self.names, self.found), *facts_of(frame, self.names)]
        made_moves = self.moves.of(frame, later)
        frame.used = bool(made or made_moves)
        self.found += made
        self.names.turn_to(frame)
        if not frame.used:
            self.set_aside(frame.spans, self.moves.why or "nothing of it is understood")

    def deed(self, frame: Frame) -> bool:
        """Whether a clause says that what was planned just before is done: "there", "got it"."""
        last = self.found[-1] if self.found else None
        if last is None or not last.planned or not done_now(frame):
            return False
        last.planned = False
        last.more(frame.spans)
        frame.used = True
        return True

    def take_back(self, frame: Frame) -> None:
        """Undo the last thing understood."""
        if self.found:
            gone = self.found.pop()
            self.set_aside([*gone.spans, *frame.spans], "taken back")
        else:
            self.set_aside(frame.spans, "taken back")

    def set_aside(self, spans: Sequence[Span], why: str) -> None:
        """Keep words that became nothing."""
        if spans:
            self.aside.append(Aside(list(spans), why))


def unsaid(frame: Frame) -> str:
    """Why a clause tells nothing that was done: it denies, wishes, warns, or speaks of later; else empty."""
    marks = frame.marks
    if "not" in marks or "needless" in marks or "stays" in marks | frame.after:
        return "said not to be done, or not to be so"
    if "no" in marks and not frame.how:
        return "said not to be there"
    if "unreal" in marks:
        return "what could be done, not what was"
    if "ask" in marks:
        return "a question"
    told = any(span.text in ("i", "i've", "we", "we've", "i'm") for span in frame.spans)
    if "warning" in marks and not frame.figures and not told:
        return "a warning"
    if "before" in marks and frame.verb:
        return "what comes later"
    if "while" in marks and not frame.main:
        return "what went on meanwhile"
    return ""


def done_now(frame: Frame) -> bool:
    """Whether a clause says that what was planned is done: "there", "got it"."""
    said = "done" in frame.marks or any(span.text == "there" for span in frame.spans[:1])
    return said and not (frame.verb or frame.main or frame.objects)


def number_alone(frame: Frame) -> bool:
    """Whether a clause is a number and nothing else: "Five." after four clips."""
    return len(frame.spans) == 1 and frame.count is not None


def heard(spans: Sequence[Span]) -> list[str]:
    """The repairs in some spans."""
    return list(dict.fromkeys(span.heard for span in spans if span.heard))
