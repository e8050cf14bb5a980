"""Nodes of the branch and bound, and what comes of it."""

from __future__ import annotations

from typing import NamedTuple

from midframe.record.model import Move
from midframe.ways.compile import UNDECIDED, Decisions, Link
from midframe.ways.facts import Action, Group

Cut = tuple[tuple[object, ...], Group]


class Node(NamedTuple):
    """Facts to achieve, choices settled for what lies inside them, actions banned, links decided."""

    facts: int
    cuts: frozenset[Cut] = frozenset()
    banned: frozenset[tuple[object, ...]] = frozenset()
    decided: Decisions = UNDECIDED
    held: frozenset[tuple[str, int]] = frozenset()


class Solution(NamedTuple):
    """Moves of the best way found (None: no way), its cost, the bound, and the nodes and states it took."""

    moves: tuple[Move, ...] | None
    cost: int
    bound: int
    nodes: int
    states: int

    @property
    def proven(self) -> bool:
        """Whether no cheaper way exists under the rules."""
        return self.cost == self.bound


class Broken(NamedTuple):
    """What an order leaned on that does not hold: a choice, a need, a link, or joints opened too early.

    It is `puzzling` where no question is known whose answers would settle it.
    """

    action: Action
    group: Group | None = None
    link: Link | None = None
    opened: tuple[str, ...] = ()
    puzzling: bool = False


NOTHING = Solution(None, -1, -1, 0, 0)
