"""What one clause says: the verb, the parts with their places in it, figures, tools, marks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from midframe.narration.clauses import Clause, counts, sums
from midframe.narration.tagging import Span

HEATED_C = (40.0, 160.0)
"""A bare figure beside a source of heat within these bounds is its temperature in °C (common practice)."""

UNIT_OF: Mapping[str, str] = {
    "rated capacity": "mAh",
    "typical capacity": "mAh",
    "nominal voltage": "V",
    "charge limit voltage": "V",
    "rated energy": "Wh",
}
"""The unit of a label, where only the figure is read."""

PLAUSIBLE: Mapping[str, tuple[float, float]] = {"mAh": (500, 30000), "V": (3, 10), "Wh": (2, 120)}
"""Between which bounds a figure without a unit is taken for that of a label (common practice, no source)."""

NUMERIC = ("seconds", "celsius", "mm", "mAh", "V", "Wh", "g")
SCREWED = "unscrew"
HELD_TO = (" to", " on", " into", " onto")
LISTING = frozenset(("the", "a", "an", "its", "this", "that", "these", "those"))


@dataclass
class Frame:
    """One clause, its pieces in their slots."""

    spans: tuple[Span, ...]
    how: str = ""
    verb: str = ""
    weak: bool = False
    held: bool = False
    pull: bool = False
    main: list[str] = field(default_factory=list)
    to: list[str] = field(default_factory=list)
    near: list[str] = field(default_factory=list)
    beyond: list[str] = field(default_factory=list)
    objects: list[str] = field(default_factory=list)
    early: str = ""
    edge: str = ""
    facts: list[str] = field(default_factory=list)
    tools: list[str] = field(default_factory=list)
    figures: list[tuple[str, float, str]] = field(default_factory=list)
    numbers: list[float] = field(default_factory=list)
    count: int | None = None
    drive: str = ""
    size: str = ""
    thread: str = ""
    length_mm: float | None = None
    seconds: float | None = None
    celsius: float | None = None
    marks: set[str] = field(default_factory=set)
    after: set[str] = field(default_factory=set)
    order: list[str] = field(default_factory=list)
    heard: list[str] = field(default_factory=list)
    made: list[str] = field(default_factory=list)
    unknown: int = 0
    used: bool = False

    @property
    def noted(self) -> bool:
        """Whether the clause is said to be a note."""
        first = next((span for span in self.spans if not span.kind("sign") and span.text != "and"), None)
        return first is not None and first.mark("note")

    def complete_from(self, before: Frame) -> None:
        """Fill what a broken-off clause before said and this one does not."""
        for fact in ("verb", "count", "drive", "size", "thread", "length_mm", "seconds", "celsius"):
            if not getattr(self, fact):
                setattr(self, fact, getattr(before, fact))
        for slot in ("main", "to", "near", "beyond", "objects", "tools"):
            if not getattr(self, slot):
                setattr(self, slot, list(getattr(before, slot)))
        self.how = ""

    @property
    def parted(self) -> bool:
        """Whether what was done ends in "off": "has been off since"."""
        return any(span.kind("verb") and span.text.endswith(" off") for span in self.spans)

    @property
    def baked(self) -> bool:
        """Whether it tells of heat besides: "came off after two minutes on the mat"."""
        sources = {"heating mat", "hot air"} & set(self.tools)
        return bool(sources) and bool(self.seconds or self.celsius)

    @property
    def screws(self) -> bool:
        """Whether it counts screws, with or without a verb."""
        alike = {"more", "same"} & (self.marks | self.after)
        told = SCREWED in self.objects or bool(self.drive or self.thread or self.length_mm or alike)
        return self.count is not None and told

    @property
    def drive_words(self) -> str:
        """The drive as the record writes it."""
        return f"{self.drive} {self.size}".strip()


class Filler:
    """Reads the spans of a clause one by one into a frame."""

    def __init__(self, clause: Clause, bare: dict[str, str]) -> None:
        self.frame = Frame(clause.spans, clause.how)
        self.spans = clause.spans
        self.bare = bare
        self.place = ""
        self.label = ""
        self.unitless = ""
        self.named = 0

    def fill(self) -> Frame:
        """The frame of the clause."""
        for number, span in enumerate(self.spans):
            if span.heard:
                self.frame.heard.append(span.heard)
            self.read(number, span)
        return self.frame

    def read(self, number: int, span: Span) -> None:
        """Put one span into its slot."""
        frame = self.frame
        if span.kind("verb") and not frame.verb:
            frame.verb, frame.weak = span.tags["verb"], span.kind("weak")
            frame.pull = frame.pull or span.kind("pull")
            frame.order.append("verb")
            self.place = "to" if self.leads_off(number, span) else ""
        elif span.kind("held"):
            frame.held = True
        elif span.kind("part", "bare"):
            self.part(number, span)
        elif span.kind("number"):
            self.number(number, span)
        elif span.kind("thread", *NUMERIC):
            self.measure(span)
        else:
            self.word(number, span)

    def leads_off(self, number: int, span: Span) -> bool:
        """Whether a verb such as "snaps off" leads to the part that something was held to."""
        named = any(one.kind("part", "bare") for one in self.spans[number + 1 : number + 3])
        return bool(self.frame.main) and named and span.text.endswith((" off", " out of"))

    def part(self, number: int, span: Span) -> None:
        """A part: what is worked on, what it leads to, or only what lies near."""
        frame = self.frame
        name = span.tags.get("part") or self.bare.get(span.tags["bare"], "")
        nameless = not name
        if nameless and (self.place or frame.main):
            return
        name = name or span.tags["bare"].capitalize()
        if nameless or span.kind("made"):
            frame.made.append(name)
        if span.kind("fact"):
            frame.facts.append(span.tags["fact"])
            if not frame.verb:
                return
        self.bare[name.split()[-1].lower()] = name
        self.bare[span.text.split()[-1]] = name
        slot = self.slot(number)
        if name not in slot:
            slot.append(name)
        if slot is frame.main:
            self.named = number
        frame.order.append("part")
        self.place = ""

    def slot(self, number: int) -> list[str]:
        """Where a part belongs: by the word before it, or beside the one it is listed with."""
        frame = self.frame
        between = self.spans[self.named + 1 : number] if frame.main else ()
        listed = all(
            span.kind("sign", "object", "verb") or span.mark("and", "then", "both") or span.text in LISTING
            for span in between
        )
        if self.place in ("to", "near", "beyond"):
            return {"to": frame.to, "near": frame.near, "beyond": frame.beyond}[self.place]
        if self.place == "with" and any(span.kind("part", "bare") for span in self.spans[number + 1 :]):
            return frame.beyond
        return frame.main if listed else frame.near

    def number(self, place: int, span: Span) -> None:
        """A figure without a unit: a size, a count, a temperature."""
        frame, said = self.frame, span.tags["number"]
        value = float(said)
        before = self.spans[place - 1] if place else None
        sized = before is not None and (before.kind("drive") or before.mark("size"))
        zeros = said.strip("0") == "" and (bool(frame.drive) or len(said) > 1)
        fraction = bool(frame.drive) and not frame.size and not said.isdecimal()
        if fits_label(self.unitless, value):
            frame.figures.append((self.unitless, value, UNIT_OF[self.unitless]))
            frame.order.append("figure")
            self.unitless = ""
        elif sized or zeros or fraction:
            frame.size = frame.size or said
            frame.order.append("size")
        elif self.hot() and HEATED_C[0] <= value <= HEATED_C[1]:
            frame.celsius = value
            frame.order.append("celsius")
        elif frame.thread and frame.length_mm is None and before is not None and before.text in ("by", "x"):
            frame.length_mm = value
        elif counts(self.spans, place) and value < 1000:
            self.counted(int(value), place)
        else:
            frame.numbers.append(value)
            frame.order.append("number")

    def hot(self) -> bool:
        """Whether the clause is about heat."""
        frame = self.frame
        return frame.verb == "heat" or bool({"heating mat", "hot air"} & set(frame.tools))

    def counted(self, value: int, place: int) -> None:
        """A count; a later one stands where it sums up: "so eight", "eight in total"."""
        frame = self.frame
        if frame.count is None or sums(self.spans, place):
            frame.count = value
            frame.order.append("count")

    def measure(self, span: Span) -> None:
        """A figure with its unit."""
        frame = self.frame
        if span.kind("thread"):
            frame.thread = span.tags["thread"]
        if span.kind("mm"):
            frame.length_mm = float(span.tags["mm"]) or None
            frame.order.append("mm")
        elif span.kind("seconds"):
            frame.seconds = float(span.tags["seconds"])
            frame.order.append("seconds")
        elif span.kind("celsius"):
            frame.celsius = float(span.tags["celsius"])
            frame.order.append("celsius")
        elif not span.kind("thread"):
            unit = next(kind for kind in ("mAh", "V", "Wh", "g") if span.kind(kind))
            frame.figures.append((self.label, float(span.tags[unit]), unit))
            frame.order.append("figure")
            self.label = ""

    def labelled(self, number: int, span: Span) -> None:
        """A word of a label: of the figure that follows, or of the one before where none follows."""
        frame, meant = self.frame, span.tags["label"]
        frame.marks.add("label")
        if meant == "label":
            return
        follows = any(later.kind("mAh", "V", "Wh", "g") for later in self.spans[number + 1 : number + 4])
        before = self.spans[number - 1] if number else None
        if before is not None and before.kind("number") and fits_label(meant, float(before.tags["number"])):
            frame.figures.append((meant, float(before.tags["number"]), UNIT_OF[meant]))
            frame.order.append("figure")
            return
        if not follows and meant in UNIT_OF:
            self.unitless = meant
        if frame.figures and not frame.figures[-1][0] and self.spans[number - 1].kind("mAh", "V", "Wh"):
            frame.figures[-1] = (meant, *frame.figures[-1][1:])
        elif follows:
            self.label = meant

    def word(self, number: int, span: Span) -> None:
        """Everything else: drives, tools, facts, objects, labels, marks."""
        frame = self.frame
        if span.kind("edge"):
            frame.edge = span.tags["edge"]
            frame.objects += ["unscrew"] if "screw" in span.text else []
        if span.kind("drive"):
            frame.drive = frame.drive or span.tags["drive"]
        if span.kind("fact"):
            frame.facts.append(span.tags["fact"])
            self.place = "to" if span.text.endswith(HELD_TO) else self.place
        elif span.kind("tool"):
            frame.tools.append(span.tags["tool"])
            self.place = ""
        if span.kind("object"):
            frame.objects.append(span.tags["object"])
            frame.early = frame.early or ("" if frame.main else span.tags["object"])
        if span.kind("label"):
            self.labelled(number, span)
        if span.kind("pull"):
            frame.pull = True
        if span.kind("mark"):
            self.mark(span)
        if not span.tags:
            frame.unknown += 1

    def mark(self, span: Span) -> None:
        """A word that says how the pieces hang together."""
        meant = span.tags["mark"]
        if meant in ("to", "near", "beyond", "with"):
            self.place = meant
        elif meant in ("and", "then"):
            self.place = self.place if meant == "and" and self.place == "to" else ""
        else:
            self.place = "" if meant == "pronoun" else self.place
            (self.frame.after if self.frame.verb else self.frame.marks).add(meant)


def fits_label(label: str, value: float) -> bool:
    """Whether a figure without its unit can be that of a label.

    >>> fits_label("nominal voltage", 3.85), fits_label("typical capacity", 3.85), fits_label("", 9)
    (True, False, False)
    """
    least, most = PLAUSIBLE.get(UNIT_OF.get(label, ""), (1.0, 0.0))
    return least <= value <= most


def frame_of(clause: Clause, bare: dict[str, str]) -> Frame:
    """The frame of a clause; `bare` names for mere nouns the part that was last called so."""
    return Filler(clause, bare).fill()
