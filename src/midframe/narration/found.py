"""What was understood so far, while the talk goes on; at its end it becomes the items of a draft."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from midframe.narration.tagging import Span

Kind: TypeAlias = Literal["move", "figure", "reach", "fact", "note"]
Grade: TypeAlias = Literal["said", "filled in", "doubtful"]
"""How far an item stands in the words: `said` – all of it; `filled in` – something was taken from the words
before or after it; `doubtful` – a word was repaired, or a name is none that is known."""


@dataclass
class Found:
    """One thing understood, open to correction until the talk ends."""

    kind: Kind
    spans: list[Span]
    verb: str = ""
    part: str = ""
    to: str = ""
    count: int | None = None
    drive: str = ""
    size: str = ""
    thread: str = ""
    length_mm: float | None = None
    seconds: float | None = None
    celsius: float | None = None
    tools: list[str] = field(default_factory=list)
    label: str = ""
    value: float = 0.0
    unit: str = ""
    without: list[str] = field(default_factory=list)
    fact: str = ""
    open_said: bool = True
    planned: bool = False
    order: list[str] = field(default_factory=list)
    filled: list[str] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def drive_words(self) -> str:
        """The drive as the record writes it."""
        return f"{self.drive} {self.size}".strip()

    @property
    def grade(self) -> Grade:
        """How far it stands in the words."""
        return "doubtful" if self.doubts else "filled in" if self.filled else "said"

    def more(self, spans: Sequence[Span]) -> None:
        """Further words of the same thing."""
        self.spans += [span for span in spans if span not in self.spans]

    def take_over(self, other: Found) -> None:
        """What another telling of the same thing says and this one does not."""
        for fact in ("to", "count", "drive", "size", "thread", "length_mm", "seconds", "celsius"):
            if not getattr(self, fact):
                setattr(self, fact, getattr(other, fact))
        self.tools += [tool for tool in other.tools if tool not in self.tools]
        self.open_said = self.open_said or other.open_said
        self.order += other.order
        self.more(other.spans)
        self.doubts += [one for one in other.doubts if one not in self.doubts]


@dataclass
class Aside:
    """Words that became nothing, and why."""

    spans: list[Span]
    why: str
