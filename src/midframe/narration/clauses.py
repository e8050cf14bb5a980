"""Sentences, and the clauses in them: one for each thing that was done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from midframe.narration.tagging import ENDS, Span

LONG = 40
"""A sentence of more spans than this has no signs; it then ends where a caption ends before a "then"."""

LONGEST = 120
"""A sentence of more spans ends where its caption ends, and one of twice as many at once (house choice)."""

FEW_SIGNS = 2
"""A talk with more captions than so many to each sign was taken down without signs (house choice)."""

MEASURES = ("mm", "seconds", "celsius", "mAh", "V", "Wh", "g", "thread")


class Clause(msgspec.Struct, frozen=True):
    """Some spans that belong together; `how` says whether they correct or take back what came before."""

    spans: tuple[Span, ...]
    how: str = ""


class Sentence(msgspec.Struct, frozen=True):
    """The spans between two ends, and whether it asks."""

    spans: tuple[Span, ...]
    asks: bool = False


def sentences(spans: Sequence[Span]) -> Iterator[Sentence]:
    """The sentences of a talk."""
    current: list[Span] = []
    bare = signless(spans)
    for place, span in enumerate(spans):
        after = spans[place + 1] if place + 1 < len(spans) else None
        if bare and span.text == "¦" and ends_here(current, after):
            yield Sentence(tuple(current))
            current = []
            continue
        breath = len(current) > LONG and after is not None and after.mark("then", "and")
        breath = span.text == "¦" and (breath or len(current) > LONGEST)
        if span.tags.get("sign") in ENDS or breath or len(current) > 2 * LONGEST:
            if current:
                yield Sentence(tuple(current), span.text == "?")
            current = []
        else:
            current.append(span)
    if current:
        yield Sentence(tuple(current))


def signless(spans: Sequence[Span]) -> bool:
    """Whether a talk has so few signs that only the ends of its captions can end its sentences."""
    signs = sum(span.text in (".", "?", "!") for span in spans)
    captions = sum(span.text == "¦" for span in spans)
    return captions > FEW_SIGNS * signs


def ends_here(before: Sequence[Span], after: Span | None) -> bool:
    """Whether a sentence without signs ends with its caption: nothing hangs, and nothing goes on with it."""
    if not before or after is None:
        return bool(before)
    counted = before[-1].kind("number") and after.text not in ("of", "or", "more", "by")
    counted = counted and not after.kind("object", "drive", "unit", "number", "head", "held")
    if hangs(before) and not counted:
        return False
    if after.mark("to", "near", "beyond", "with", "and", "each", "total") or after.kind(
        "particle", "unit", "weak"
    ):
        return False
    if before[-1].kind("verb") and not before[-1].kind("weak"):
        return any(span.kind("part", "bare", "object") or span.mark("pronoun") for span in before)
    return before[-1].kind("verb", "part") or not before[-1].kind("take", "does", "pull")


def clauses(sentence: Sentence) -> list[Clause]:
    """The clauses of a sentence."""
    splitter = Splitter()
    for place, span in enumerate(sentence.spans):
        splitter.take(sentence.spans, place, span)
    splitter.close()
    return splitter.found


class Splitter:
    """The clause being read, and where it may be cut."""

    def __init__(self) -> None:
        self.found: list[Clause] = []
        self.current: list[Span] = []
        self.how = ""
        self.soft = 0
        self.sign = 0
        self.without = 0

    def take(self, spans: Sequence[Span], place: int, span: Span) -> None:
        """Read one span; cut where something new begins."""
        if span.mark("take back"):
            self.close()
            self.found.append(Clause((span,), "take back"))
            return
        if corrects(spans, place):
            self.close()
            self.how = "correct"
            return
        if self.past_no(span) or self.something_new(spans, place):
            self.cut(span)
        begins = len(self.current)
        if (
            begins
            and self.current[-1].mark("no")
            and span.kind("object", "fact", "tool", "head", "bare", "part")
        ):
            self.without = begins + 1
        self.current.append(span)
        if span.kind("sign") and soft(span) and not (span.text == "¦" and hangs(self.current[:-1])):
            self.soft = self.sign = begins + 1
        elif span.mark("and", "then") and self.soft != begins:
            self.soft = begins

    def past_no(self, span: Span) -> bool:
        """Whether a span stands past what is said not to be there: "no screws, peel that back"."""
        past = bool(self.without) and span.kind("verb", "held", "fact", "number")
        self.soft = max(self.soft, self.without) if past else self.soft
        return past

    def something_new(self, spans: Sequence[Span], place: int) -> bool:
        """Whether a span begins another thing done."""
        span = spans[place]
        if span.kind("part"):
            doing = last(self.current, "verb")
            listed = bool(self.current) and self.current[-1].kind("weak") and named_in(self.current)
            return listed or (self.soft > doing >= 0 and with_pronoun(self.current[doing]))
        if not span.kind("held", "verb", "fact", "mark", "does", "number"):
            return False
        doing, counted = done(self.current), last_count(self.current)
        if span.kind("held"):
            new = any(one.kind("part", "bare") or one.mark("pronoun") for one in self.current[self.soft :])
            return self.soft > doing >= 0 and new
        if span.kind("verb"):
            before = last(self.current, "verb", "pull")
            denied = doing >= 0 and denies(self.current[doing]) and before < doing
            free = self.sign if denied else self.soft
            begun = counted >= 0 or doing >= 0 or bool(self.how and self.current)
            return (before >= 0 and not denied) or (begun and free > max(counted, doing))
        if span.mark("note", "no"):
            return bool(self.current) if span.mark("note") else doing >= 0 and not hangs(self.current)
        if span.kind("fact") or denies(span) or alone_it_does(spans, place):
            return doing >= 0 and self.soft > doing
        if counts(spans, place):
            taken = takes_count(self.current, screws=screws(spans, place))
            other = self.soft > doing >= 0 and fasteners(spans, place) and not taken
            return (counted >= 0 and self.soft > counted and not sums(spans, place)) or other
        return False

    def cut(self, span: Span) -> None:
        """End the clause at the last place where it may end, else before the part that leads to the verb."""
        doing = max(done(self.current), last_count(self.current))
        place = self.soft if self.soft > doing else len(self.current)
        named = [number for number, one in enumerate(self.current) if one.kind("part", "bare")]
        if place == len(self.current) and self.current and self.current[-1].mark("no", "not"):
            place -= 1
        if self.soft <= doing and len(named) > 1 and named[-1] > doing and span.kind("verb"):
            place = named[-1]
        rest = self.current[place:]
        self.current = self.current[:place]
        self.close()
        self.current = rest

    def close(self) -> None:
        """End the clause."""
        head, core, tail = trimmed(self.current)
        for spans in (head, core, tail):
            if any(not soft(span) for span in spans):
                self.found.append(Clause(tuple(spans), self.how))
                self.how = ""
        self.current, self.soft, self.sign, self.without = [], 0, 0, 0


def trimmed(spans: Sequence[Span]) -> tuple[Sequence[Span], Sequence[Span], Sequence[Span]]:
    """A clause without the captions at its beginning and end that carry nothing."""
    ends = [number for number, span in enumerate(spans) if span.text == "¦"]
    first = max((end + 1 for end in ends if not any(map(carries, spans[:end]))), default=0)
    last = min(
        (end for end in ends if end >= first and not any(map(carries, spans[end:]))), default=len(spans)
    )
    return spans[:first], spans[first:last], spans[last:]


def carries(span: Span) -> bool:
    """Whether a span can fill a slot, or says how others hang together."""
    marks = span.kind("mark") and not span.mark("then", "and", "pronoun", "near", "beyond")
    return marks or bool(
        set(span.tags) - {"mark", "stop", "sign", "filler", "idle", "wary", "place", "qualifier"}
    )


def named_in(spans: Sequence[Span]) -> bool:
    """Whether a part or a plug is named in some spans."""
    return any(span.kind("part", "bare", "object") for span in spans)


def sums(spans: Sequence[Span], place: int) -> bool:
    """Whether a number sums up those before: "so eight", "that makes eight", "eight in total"."""
    before = spans[place - 1] if place else None
    after = spans[place + 1] if place + 1 < len(spans) else None
    led = before is not None and (before.text == "so" or before.mark("total"))
    return (led and (after is None or after.kind("sign") or after.kind("object"))) or (
        after is not None and after.mark("total")
    )


def corrects(spans: Sequence[Span], place: int) -> bool:
    """Whether a span says that what came before was wrong."""
    span = spans[place]
    after = spans[place + 1] if place + 1 < len(spans) else None
    if span.mark("correct"):
        return True
    if after is None or not span.mark("no", "pause"):
        return False
    figure = after.kind("number", *MEASURES)
    if span.mark("pause"):
        return span.text in ("wait", "hold on") and after.tags.get("sign") == ","
    return after.tags.get("sign") == "," or after.mark("correct") or figure


def soft(span: Span) -> bool:
    """Whether a clause may end at a span."""
    return span.tags.get("sign") in (",", ":", "—", "–", "¦") or span.mark("and", "then")


def hangs(spans: Sequence[Span]) -> bool:
    """Whether the words before a caption's end cannot end a clause: "take out the"."""
    before = spans[-1] if spans else None
    if before is None or before.text in ("the", "a", "an", "these", "those"):
        return True
    if denies(before):
        return before.text != "no need" and not before.mark("stays")
    open_ended = before.kind("number", "drive", "qualifier") and not before.kind("part")
    return open_ended or before.mark("to", "near", "beyond", "with", "and", "size")


def done(spans: Sequence[Span]) -> int:
    """The place of the last word that says what was done, how it is held, or that it was not so; else -1."""
    denied = max((place for place, span in enumerate(spans) if denies(span)), default=-1)
    return max(last(spans, "verb", "held", "fact"), denied)


def denies(span: Span) -> bool:
    """Whether a word says that something is not so, or was not done."""
    return span.mark("not", "needless", "unreal", "warning", "stays")


def alone_it_does(spans: Sequence[Span], place: int) -> bool:
    """Whether a tool tells by itself what is done: solvent and heat without a "with"."""
    span = spans[place]
    led = any(one.mark("with") for one in spans[max(0, place - 3) : place])
    return span.kind("does") and not led


def with_pronoun(span: Span) -> bool:
    """Whether a verb has its "it" inside, so that a part after it is another one: "off it goes"."""
    return not {"it", "they"}.isdisjoint(span.text.split())


def fasteners(spans: Sequence[Span], place: int) -> bool:
    """Whether a number is followed by what can be counted: a drive, screws, clips."""
    return any(
        span.kind("drive") or span.tags.get("object") in ("unscrew", "unclip") or span.mark("size")
        for span in spans[place + 1 : place + 4]
    ) or any(span.kind("mm") for span in spans[place + 1 : place + 3])


def screws(spans: Sequence[Span], place: int) -> bool:
    """Whether a number counts screws: a drive or their name follows."""
    after = spans[place + 1 : place + 4]
    return any(span.kind("drive") or span.tags.get("object") == "unscrew" for span in after)


def takes_count(spans: Sequence[Span], *, screws: bool) -> bool:
    """Whether the verb so far goes with a count of fasteners; that of clips not with screws."""
    verbs = ("unscrew",) if screws else ("unscrew", "unclip")
    return any(span.tags.get("verb") in verbs or span.kind("held") for span in spans)


def last(spans: Sequence[Span], *kinds: str) -> int:
    """The place of the last span of some kinds, -1 where there is none."""
    return max((place for place, span in enumerate(spans) if span.kind(*kinds)), default=-1)


def last_count(spans: Sequence[Span]) -> int:
    """The place of the last number that counts things, -1 where there is none."""
    return max((place for place in range(len(spans)) if counts(spans, place)), default=-1)


def counts(spans: Sequence[Span], place: int) -> bool:
    """Whether a number counts screws or clips: it is whole, and no size of a drive."""
    span = spans[place]
    if not span.kind("number") or not span.tags["number"].isdecimal() or span.tags["number"].startswith("0"):
        return False
    before = spans[place - 1] if place else None
    return before is None or not (before.kind("drive") or before.mark("size"))
