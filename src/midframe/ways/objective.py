"""What is to be least: steps, seconds, money, a sum of them, or one after the other."""

from __future__ import annotations

import msgspec

from midframe.faults import BadSetting
from midframe.ways.count import TICK, Count, ticks

HOUR_TICKS = 3600 * TICK
"""A wage is per hour and a time in thousandths of a second: money is compared in units of both."""


class Term(msgspec.Struct, frozen=True, kw_only=True):
    """A weighted sum: weights of one step, one second, one unit of money, a risk of one (certainty)."""

    steps: int = 0
    seconds: int = 0
    money: int = 0
    risk: int = 0

    def value(self, steps: int, time: int, price: int, risk: int, wage: int) -> int:
        """The weighted sum in whole units; all but `steps` in ticks, `wage` in ticks per hour."""
        plain = self.steps * steps * TICK + self.seconds * time + self.risk * risk
        return plain * HOUR_TICKS + self.money * (time * wage + price * HOUR_TICKS) if self.money else plain


class Objective(msgspec.Struct, frozen=True):
    """Terms in order: a later one decides only between ways that are equal in all earlier ones."""

    terms: tuple[Term, ...]

    @classmethod
    def parse(cls, text: str) -> Objective:
        """`steps`, `seconds`, `money`, or several in order: `steps,seconds`; raises `BadSetting`.

        >>> Objective.parse("steps,seconds").terms[1].seconds
        1
        """
        return cls(tuple(named_term(name.strip()) for name in text.split(",")))

    def value(self, count: Count) -> tuple[int, ...]:
        """The value of a counted way, a whole number per term, comparable between ways of one record."""
        risk = sum(ticks(step.risk) for move in count.moves for step in move.operations)
        time = sum(ticks(move.change_seconds) + ticks(move.flip_seconds) for move in count.moves)
        time += sum(ticks(step.seconds or 0) for move in count.moves for step in move.operations)
        wage = ticks(count.labour_per_hour)
        return tuple(
            term.value(len(count.steps), time, count.renewals_ticks + count.breakage_ticks, risk, wage)
            for term in self.terms
        )


STEPS = Objective((Term(steps=1),))
SECONDS = Objective((Term(seconds=1),))
MONEY = Objective((Term(money=1),))
STEPS_THEN_SECONDS = Objective((Term(steps=1), Term(seconds=1)))


def named_term(name: str) -> Term:
    """The term of one word."""
    match name:
        case "steps":
            return Term(steps=1)
        case "seconds":
            return Term(seconds=1)
        case "money":
            return Term(money=1)
    raise BadSetting(f"cost '{name}' is unknown; minimise steps, seconds or money, alone or in order")
