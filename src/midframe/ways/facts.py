"""Facts as bits, and actions with what they need and give.

Facts are "joint open" and "part aside". Needs are groups of alternatives, each
a mask of facts; they hold when every group has an alternative whose bits are
all set.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from midframe.record.model import Move
from midframe.ways.posture import Use

Group = tuple[int, ...]
Needs = tuple[Group, ...]


class Bits:
    """Names of facts as bits; kept across edits of a record so that results can be compared."""

    def __init__(self) -> None:
        self.at: dict[tuple[str, str], int] = {}

    def __call__(self, kind: str, name: str) -> int:
        """The mask with the one bit of a fact."""
        return 1 << self.at.setdefault((kind, name), len(self.at))

    def names(self, mask: int) -> Iterator[tuple[str, str]]:
        """Kind and name of every bit set."""
        return (key for key, bit in self.at.items() if mask >> bit & 1)


class Action:
    """One move in compiled form.

    `gives` are the facts it makes true, `need` what it needs in any case,
    `choices` the groups with more than one alternative. Price, harm and risk
    are in ticks; `ruins` pairs the fact of a part being lost with its price.
    A lift is `vague` while it is not known what it will ask for: it then leaves in
    hand what is there.
    """

    __slots__ = (
        *("choices", "gives", "harm", "key", "move", "need"),
        *("renewal", "risk", "ruins", "uses", "vague"),
    )

    def __init__(self, move: Move, gives: int, needs: Iterable[Group], uses: tuple[Use, ...]) -> None:
        self.move, self.gives, self.uses = move, gives, uses
        self.need, self.choices = split(needs)
        self.ruins: tuple[tuple[int, int], ...] = ()
        self.renewal = self.harm = self.risk = 0
        self.vague = False
        self.key: tuple[object, ...] = ()

    def seal(self) -> Action:
        """Fixes the key by which equal actions of edited records are recognised."""
        self.key = (
            (self.move.open, self.move.by, self.move.lift),
            (self.gives, self.need, self.choices),
            (self.uses, self.ruins, self.renewal, self.harm, self.risk, self.vague),
        )
        return self


def split(needs: Iterable[Group]) -> tuple[int, Needs]:
    """What is needed in any case, and the groups where there is a choice, minimal alternatives only."""
    need = 0
    groups = []
    for group in needs:
        least = minimal(group)
        if len(least) == 1:
            need |= least[0]
        else:
            groups.append(least)
    left = {minimal([mask & ~need for mask in group]) for group in groups}
    return need, tuple(sorted(group for group in left if group[0] != 0))


def minimal(masks: Sequence[int]) -> Group:
    """The masks that contain no other of them, in ascending order.

    >>> minimal((0b11, 0b01, 0b110))
    (1, 6)
    """
    if len(masks) == 1:
        return (masks[0],)
    kept: list[int] = []
    for mask in sorted(set(masks), key=lambda m: (m.bit_count(), m)):
        if not any(mask & other == other for other in kept):
            kept.append(mask)
    return tuple(sorted(kept))


def union(masks: Iterable[int]) -> int:
    """All bits of the masks."""
    whole = 0
    for mask in masks:
        whole |= mask
    return whole


def each_bit(mask: int) -> Iterator[int]:
    """The single bits of a mask, lowest first."""
    while mask:
        bit = mask & -mask
        yield bit
        mask ^= bit
