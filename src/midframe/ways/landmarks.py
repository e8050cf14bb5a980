"""What every way must do: facts that no way to another fact can avoid, all facts at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from midframe.ways.facts import Action, each_bit, union

Achievers = Mapping[int, Sequence[Action]]


def achievers_of(actions: Iterable[Action]) -> dict[int, list[Action]]:
    """For each single fact the actions that give it."""
    found: dict[int, list[Action]] = {}
    for action in actions:
        for fact in each_bit(action.gives):
            found.setdefault(fact, []).append(action)
    return found


def reachable(actions: Iterable[Action], done: int = 0) -> int:
    """All facts that can ever become true (least fixpoint of the needs)."""
    waiting = list(actions)
    while True:
        still = []
        for action in waiting:
            met = action.need & ~done == 0 and all(
                any(mask & ~done == 0 for mask in group) for group in action.choices
            )
            if met:
                done |= action.gives
            else:
                still.append(action)
        if len(still) == len(waiting):
            return done
        waiting = still


def landmarks(achievers: Achievers, facts: int) -> dict[int, int]:
    """For each reachable fact the facts that every way to it makes true, itself included.

    Greatest fixpoint: a fact's landmarks are those common to all its achievers,
    an achiever's are those of its needs, and of a choice what all its
    alternatives share [Zhu & Givan's propagation of landmarks; from memory].
    """
    everything = facts
    marks = dict.fromkeys(each_bit(facts), everything)
    order = sorted(marks)
    changed = True
    while changed:
        changed = False
        for fact in order:
            new = everything
            for action in achievers.get(fact, ()):
                new &= of_needs(action, marks, everything)
            new |= fact
            if new != marks[fact]:
                marks[fact] = new
                changed = True
    return marks


def of_needs(action: Action, marks: Mapping[int, int], everything: int) -> int:
    """Landmarks of one action: its needs' and what all alternatives of each choice share."""
    if action.need & ~everything:
        return everything
    found = of_mask(action.need, marks)
    for group in action.choices:
        shared = everything
        for mask in group:
            if mask & ~everything == 0:
                shared &= of_mask(mask, marks)
        found |= shared
    return found


def of_mask(mask: int, marks: Mapping[int, int]) -> int:
    """The landmarks of all facts of a mask together."""
    return union(marks[fact] for fact in each_bit(mask))
