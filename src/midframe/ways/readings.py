"""Readings of the step count: documented choices where the law is silent, each with an id and a switch."""

from __future__ import annotations

from typing import Literal

import msgspec


class Readings(msgspec.Struct, frozen=True, kw_only=True):
    """The switches of counting [lbl-2023-1669, Annex I (20) and Annex IV point 5].

    Q2 `unplugging`: does unplugging alone end a step? Q3 `swaps`: `segment` lets
    a swap at the very moment a part has left pass free, `strict` counts every
    swap between two tools. Q4 `first_tool`: does picking up the first tool
    count? Q5 `bare_hand`: is the hand a tool like others? Q6 `bit_size`: is
    another size of the same tool another tool? M1 `tail`: do openings after the
    last removal, without which the target is not out, make one more step?
    """

    unplugging: bool = False
    swaps: Literal["segment", "strict"] = "segment"
    first_tool: bool = False
    bare_hand: bool = False
    bit_size: bool = True
    tail: bool = True

    def described(self) -> tuple[str, ...]:
        """One line per reading in force, with its id."""
        strict = self.swaps == "strict"
        swaps = "every swap between two tools counts" if strict else "a swap just after a removal is free"
        return (
            f"Q2 unplugging alone {'ends a step' if self.unplugging else 'is no step'}",
            f"Q3 {swaps}",
            f"Q4 the first tool picked up {'counts' if self.first_tool else 'does not count'}",
            f"Q5 the bare hand {'counts as a tool' if self.bare_hand else 'is no tool'}",
            f"Q6 another size of the same tool {'is another tool' if self.bit_size else 'is the same tool'}",
            f"M1 openings after the last removal {'are one more step' if self.tail else 'are not counted'}",
        )
