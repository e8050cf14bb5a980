"""Ways in, for one target or all, with everything shared that can be."""

from __future__ import annotations

from collections.abc import Iterable

from midframe.faults import NoWay, UnknownPart
from midframe.record.model import Move, Record
from midframe.ways.bench import Bench
from midframe.ways.count import Counter
from midframe.ways.facts import Bits
from midframe.ways.node import Solution
from midframe.ways.objective import STEPS_THEN_SECONDS, Objective
from midframe.ways.readings import Readings
from midframe.ways.search import Search
from midframe.ways.way import USUAL_LIMIT, NoWayFound, Way


class Planner:
    """Ways in of one record under one objective; targets share what is compiled.

    `bits` may be handed from planner to planner so that edited records share results;
    moves in `without` are left out; `limit` ends the search for a target after so many
    states (None: never), a way is then given with the bound that was proven.
    """

    def __init__(  # noqa: PLR0913 - the last three are keyword-only
        self,
        record: Record,
        objective: Objective = STEPS_THEN_SECONDS,
        readings: Readings | None = None,
        bench: Bench | None = None,
        *,
        bits: Bits | None = None,
        limit: int | None = USUAL_LIMIT,
        without: frozenset[Move] = frozenset(),
    ) -> None:
        self.record, self.objective, self.limit, self.without = record, objective, limit, without
        self.readings, self.bench = readings or Readings(), bench or Bench()
        self.search = Search(record, objective, self.readings, self.bench, bits, without=without)
        self.rules = self.search.rules
        self.counter = Counter(record, self.readings, self.bench, self.rules)

    def way(self, target: str) -> Way | NoWayFound:
        """The best way in to one part; `UnknownPart` for an id that is not in the record."""
        self.known(target)
        return self.answered(target, self.search.solve(self.search.goal(target), self.limit))

    def ways(self) -> dict[str, Way | NoWayFound]:
        """The best way in to every part but the body, in the order of the record."""
        body = self.record.device.body
        return {part.id: self.way(part.id) for part in self.record.parts if part.id != body}

    def way_to_all(self, targets: Iterable[str]) -> Way | NoWayFound:
        """The best way that gets several parts out in one go."""
        wanted = list(targets)
        goal = 0
        for target in wanted:
            self.known(target)
            goal |= self.search.goal(target)
        return self.answered("+".join(wanted), self.search.solve(goal, self.limit), wanted)

    def known(self, target: str) -> None:
        """Raises `UnknownPart` unless the target is a part that can come out."""
        if target not in self.rules.parts:
            known = ", ".join(self.rules.parts)
            raise UnknownPart(f"no part '{target}' in the record; its parts are {known}")
        if target == self.record.device.body:
            raise UnknownPart(f"'{target}' is the body: the others come out of it, it has no way in")

    def answered(self, target: str, solution: Solution, wanted: list[str] | None = None) -> Way | NoWayFound:
        """The way of a solution, counted."""
        if solution.moves is None and not solution.proven:
            return NoWayFound(target, f"the limit of {self.limit} states came before a way")
        if solution.moves is None:
            return NoWayFound(target, "no moves get it out; `midframe check` says what blocks it")
        counted = self.counter.count(solution.moves)
        bundles = [self.rules.bundle(part) for part in wanted or [target]]
        return Way(
            target=target,
            bundle=tuple(part for part in self.rules.parts if any(part in bundle for bundle in bundles)),
            objective=self.objective,
            moves=solution.moves,
            count=counted,
            value=self.objective.value(counted),
            proven=solution.proven,
            bound=self.search.costs.unpacked(solution.bound),
            states=solution.states,
        )


def solve(
    record: Record,
    target: str,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> Way:
    """The best way in to one part; `NoWay` where there is none, `UnknownPart` for an unknown id."""
    return found(Planner(record, objective, readings, bench, limit=limit).way(target))


def solve_all(
    record: Record,
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> dict[str, Way | NoWayFound]:
    """The best way in to every part but the body."""
    return Planner(record, objective, readings, bench, limit=limit).ways()


def solve_set(
    record: Record,
    targets: Iterable[str],
    objective: Objective = STEPS_THEN_SECONDS,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    limit: int | None = USUAL_LIMIT,
) -> Way:
    """The best way that gets several parts out in one go; `NoWay` where there is none."""
    return found(Planner(record, objective, readings, bench, limit=limit).way_to_all(targets))


def found(answer: Way | NoWayFound) -> Way:
    """The way, or `NoWay` with the reason."""
    if isinstance(answer, NoWayFound):
        raise NoWay(f"{answer.target}: {answer.reason}")
    return answer
