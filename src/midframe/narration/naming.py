"""Which part is meant: names as they were said, the same thing under two names, what the talk is about."""

from __future__ import annotations

from typing import TYPE_CHECKING

from midframe.stripdown.words import folded, term_of

if TYPE_CHECKING:
    from midframe.narration.frames import Frame
    from midframe.narration.tagging import Span


class Names:
    """The names said so far; `topic` is the part talked about, `bare` the part last called by a mere noun,
    `heard` the repair by which a part was first named.
    """

    def __init__(self) -> None:
        self.known: list[str] = []
        self.several: set[str] = set()
        self.topic = ""
        self.edge = ""
        self.bare: dict[str, str] = {}
        self.heard: dict[str, str] = {}

    def name_of(self, span: Span) -> str:
        """The name that a span means; empty for a mere noun that nothing was called by."""
        name = span.tags.get("part") or self.bare.get(span.tags.get("bare", ""), "")
        return self.same(name) if name else ""

    def hear(self, frame: Frame) -> None:
        """Take in the names of a clause, each as the one it was called before."""
        for span in frame.spans:
            if span.heard and span.kind("part") and (name := self.same(span.tags["part"])) not in self.known:
                self.heard[name] = span.heard
        plural = {span.tags["part"] for span in frame.spans if span.kind("plural")}
        if "both" in frame.marks | frame.after:
            plural |= set(frame.main)
        for slot in (frame.main, frame.to, frame.near, frame.beyond):
            slot[:] = list(dict.fromkeys(self.same(name) for name in slot))
            for name in slot:
                self.know(name)
        self.several |= plural

    def know(self, name: str) -> None:
        """Remember a name and the noun it ends in."""
        if name and name not in self.known:
            self.known.append(name)
        if name:
            self.bare[folded(name).split()[-1]] = name

    def same(self, name: str) -> str:
        """The name under which a part is known already, else the name itself.

        >>> names = Names()
        >>> names.know("Upper mid cover")
        >>> names.same("Mid cover"), names.same("Lower mid cover")
        ('Upper mid cover', 'Lower mid cover')
        """
        if name in self.known:
            return name
        term = term_of(name)
        if term is None:
            return next((one for one in self.known if folded(one) == folded(name)), name)
        alike = [one for one in self.known if term_of(one) == term and one not in self.several]
        plain = folded(name) == folded(term.term)
        if len(alike) == 1 and (plain or folded(alike[0]) == folded(term.term)):
            return alike[0]
        return name

    def doubts(self, name: str) -> list[str]:
        """The repair by which alone a part is known, if there is one."""
        return [self.heard[name]] if name in self.heard else []

    def turn_to(self, frame: Frame) -> None:
        """The talk turns to the first part that a clause names."""
        named = frame.main or frame.near or frame.to or frame.beyond
        self.edge = frame.edge or ("" if named else self.edge)
        if named:
            several = bool(frame.verb) and frame.count is None and named is frame.main
            self.topic = named[-1 if several else 0]
