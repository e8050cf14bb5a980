"""States kept by a search, and whether one of them is as good as another in everything."""

from __future__ import annotations

from collections.abc import Callable

from midframe.ways.facts import each_bit

RECENT = 24
"""States compared one by one before they go into the columns (measured: 16 to 48 are alike)."""


class Kept:
    """Kept states in columns: for each fact the states that have it, as the bits of one number.

    The supersets of a set of facts are then the columns of its facts, all ANDed.
    `shift` says what getting from one posture into another costs at most; states of
    a posture lie in levels of equal width, so that few forms are compared one by one.
    """

    def __init__(self, shift: Callable[[int, int], int], width: int) -> None:
        self.shift, self.width = shift, max(1, width)
        self.states: list[tuple[int, int, int]] = []
        self.columns: dict[int, int] = {}
        self.levels: dict[int, dict[int, int]] = {}
        self.lowest: dict[int, int] = {}
        self.shifts: dict[int, dict[int, int]] = {}
        self.filed = 0

    def add(self, done: int, posture: int, form: int) -> int:
        """Keeps a state; its number."""
        self.states.append((form, posture, done))
        self.lowest[posture] = min(form, self.lowest.get(posture, form))
        if len(self.states) - self.filed > RECENT:
            self.file()
        return len(self.states) - 1

    def file(self) -> None:
        """Moves the recent states into the columns."""
        found: dict[int, int] = {}
        for number in range(self.filed, len(self.states)):
            form, posture, done = self.states[number]
            place = 1 << (number - self.filed)
            for fact in each_bit(done):
                found[fact] = found.get(fact, 0) | place
            levels = self.levels.setdefault(posture, {})
            level = form // self.width
            levels[level] = levels.get(level, 0) | place << self.filed
        for fact, places in found.items():
            self.columns[fact] = self.columns.get(fact, 0) | places << self.filed
        self.filed = len(self.states)

    def beaten(self, done: int, posture: int, form: int, since: int) -> bool:
        """Whether a state kept after number `since` did as much for no more, the shift included."""
        shifts = self.shifts.setdefault(posture, {posture: 0})
        able: dict[int, int] = {}
        for other, lowest in self.lowest.items():
            shift = shifts.get(other)
            if shift is None:
                shift = shifts[other] = self.shift(other, posture)
            if lowest <= form - shift:
                able[other] = form - shift
        if not able:
            return False
        for value, other, facts in self.states[max(self.filed, since + 1) :]:
            if facts & done == done and other in able and value <= able[other]:
                return True
        return since + 1 < self.filed and self.among_filed(done, able, since)

    def among_filed(self, done: int, able: dict[int, int], since: int) -> bool:
        """What `beaten` asks, of the states in columns."""
        places = (1 << self.filed) - (1 << (since + 1))
        for fact in each_bit(done):
            places &= self.columns.get(fact, 0)
            if not places:
                return False
        for posture, most in able.items():
            top = most // self.width
            for level, mask in self.levels.get(posture, {}).items():
                if level > top or not places & mask:
                    continue
                if level < top or self.any_within(places & mask, most):
                    return True
        return False

    def any_within(self, places: int, most: int) -> bool:
        """Whether one of the states costs no more."""
        return any(self.states[place.bit_length() - 1][0] <= most for place in each_bit(places))
