"""Objectives and readings under which search and brute force are compared."""

from __future__ import annotations

from midframe.ways.bench import Bench
from midframe.ways.objective import MONEY, SECONDS, STEPS, STEPS_THEN_SECONDS, Objective, Term
from midframe.ways.readings import Readings

MIXED = Objective((Term(steps=20, seconds=1, risk=500),))
"""20 a step, 1 a second, 5 a hundredth of risk."""

SECONDS_THEN_STEPS = Objective((Term(seconds=1), Term(steps=1)))
MONEY_THEN_STEPS = Objective((Term(money=1), Term(steps=1), Term(seconds=1)))
STEPS_AND_MONEY = Objective((Term(steps=2, money=1),))

SETTINGS = {
    "steps": (STEPS, Readings()),
    "seconds": (SECONDS, Readings()),
    "money": (MONEY, Readings()),
    "steps then seconds": (STEPS_THEN_SECONDS, Readings()),
    "mixed": (MIXED, Readings()),
    "strict": (STEPS, Readings(swaps="strict")),
    "bare hand": (STEPS_THEN_SECONDS, Readings(bare_hand=True)),
    "strict with bare hand": (STEPS, Readings(swaps="strict", bare_hand=True)),
    "first tool": (STEPS_THEN_SECONDS, Readings(first_tool=True)),
    "unplugging": (STEPS, Readings(unplugging=True)),
    "sizes alike": (STEPS_THEN_SECONDS, Readings(bit_size=False)),
    "no tail": (STEPS, Readings(tail=False)),
    "seconds then steps": (SECONDS_THEN_STEPS, Readings()),
    "money, steps, seconds": (MONEY_THEN_STEPS, Readings(swaps="strict")),
    "steps and money": (STEPS_AND_MONEY, Readings()),
    "all switched": (
        STEPS_THEN_SECONDS,
        Readings(
            unplugging=True, swaps="strict", first_tool=True, bare_hand=True, bit_size=False, tail=False
        ),
    ),
}

BENCHES = {
    "usual": Bench(),
    "slow to turn": Bench(flip_seconds=11.0, change_seconds=0.5, start_face="back"),
}
