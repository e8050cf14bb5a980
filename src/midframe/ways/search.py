"""The exact search on one record: a cheapest way to any set of facts."""

from __future__ import annotations

from midframe.ways.branching import Branching
from midframe.ways.ground import Ground
from midframe.ways.node import NOTHING, Solution
from midframe.ways.problem import Problems


class Search(Ground):
    """The search on one record under one objective; targets share all that is compiled.

    Moves in `without` are left out.
    """

    def solve(self, goal: int, limit: int | None = None) -> Solution:
        """A cheapest way to a goal; with a limit on states the best bound reached.

        First with every link opened before its parts leave, which is quick and
        usually best, then with links undecided, to prove it or to find better.
        """
        best = NOTHING
        for mode in self.modes:
            if goal & ~mode.possible == 0:
                problems = Problems(self, mode)
                if limit is not None and best.moves is None:
                    best = Branching(problems, goal, limit, best, greedy=True).run()
                best = Branching(problems, goal, limit, best._replace(states=0)).run()
        return best
