"""Brute force where only some moves are allowed."""

from __future__ import annotations

from midframe.ways.bench import Bench
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from ways.brute import Dijkstra, Graph


class Restricted(Graph):
    """All that can follow from a state by allowed moves."""

    def __init__(self, record, bench, allowed):
        super().__init__(record, Readings(), bench)
        self.allowed = allowed

    def moves(self, state):
        return [(move, after) for move, after in super().moves(state) if self.allowed(move)]


def cheapest_of(record, goals, allowed, objective=STEPS_THEN_SECONDS, bench=None):
    """The best way for every goal by moves for which `allowed(move)` holds; None where none leads there."""
    graph = Restricted(record, bench or Bench(), allowed)
    return Dijkstra(graph, goals, objective, None).run()
