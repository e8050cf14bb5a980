"""An action inside one problem of the search, and when it is possible there."""

from __future__ import annotations

from typing import NamedTuple

from midframe.ways.facts import Action, Group


class Op(NamedTuple):
    """An action inside one problem.

    `need` and `choices` are what it needs of the set, `gives` what it gives,
    `least` its cost at least, `fixed` the price of parts that only this op loses
    and `ruins` of those that another may lose too. `companions` are facts that
    may come with a lift if their own needs hold. `calm`: nothing gives the same
    for less, so that it may be done at once where it fits. `sole`: nothing else gives it.
    """

    action: Action
    table: dict[int, tuple[int, int]]
    need: int
    choices: tuple[Group, ...]
    gives: int
    reach: int
    least: int
    fixed: int
    ruins: tuple[tuple[int, int], ...]
    lifts: bool
    calm: bool
    sole: bool
    companions: tuple[tuple[int, int], ...]


def ready(op: Op, done: int) -> bool:
    """Whether the facts done meet an op's needs."""
    if done & op.need != op.need:
        return False
    for group in op.choices:
        for mask in group:
            if done & mask == mask:
                break
        else:
            return False
    return True
