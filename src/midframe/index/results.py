"""What the regulations give back: plain values that carry their clauses."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from midframe.index.evidence import Fastener, Plain, Reading, Role, ToolUse
from midframe.index.lbl_2023_1669 import (
    TOLERANCE_HUNDREDTHS,
    RepairClass,
    Symbol,
    class_depends_on_rounding,
    class_of,
    rounded_hundredths,
)

Verdict: TypeAlias = Literal["met", "not met", "not decidable from the record"]

DISCLAIMER = "A finding from the data given, not legal advice."


def decimals(value: int, places: int) -> str:
    """A whole number of 10^-places as text.

    >>> decimals(46_575, 4), decimals(405, 2)
    ('4.6575', '4.05')
    """
    whole, rest = divmod(value, 10**places)
    return f"{whole}.{rest:0{places}d}"


class Points(Plain, frozen=True):
    """Points 1…5, or the range that missing data leave; `defined` is False below the lowest level.

    Where it is not defined, `low` and `high` are the levels it could reach if it were.
    """

    low: int
    high: int
    defined: bool = True

    @property
    def known(self) -> int | None:
        """The points, if there is one value only."""
        return self.low if self.defined and self.low == self.high else None

    def __str__(self) -> str:
        """Give the points as text."""
        if not self.defined:
            return "no score defined"
        return str(self.low) if self.low == self.high else f"{self.low} to {self.high}"


class IndexValue(Plain, frozen=True):
    """One exact value of R, in ten-thousandths."""

    ten_thousandths: int

    @property
    def exact(self) -> str:
        """All four decimals; nothing is lost."""
        return decimals(self.ten_thousandths, 4)

    @property
    def shown(self) -> str:
        """Two decimals as on the label, a tie upwards (a reading)."""
        return decimals(rounded_hundredths(self.ten_thousandths), 2)

    @property
    def tie(self) -> bool:
        """Whether the second decimal hangs on how ties are rounded."""
        return self.ten_thousandths % 100 == 50

    @property
    def repair_class(self) -> RepairClass | None:
        """Class of the unrounded value."""
        return class_of(self.ten_thousandths)

    @property
    def class_if_rounded(self) -> RepairClass | None:
        """Class if two decimals were taken first."""
        return class_of(100 * rounded_hundredths(self.ten_thousandths))

    @property
    def depends_on_rounding(self) -> bool:
        """Whether the class depends on a rounding rule that the act does not state."""
        return class_depends_on_rounding(self.ten_thousandths)

    @property
    def lowest_found_millionths(self) -> int:
        """Lowest value an authority may find, 0.96 R exactly [lbl-2023-1669, Annex IX Table 10]."""
        return self.ten_thousandths * (100 - TOLERANCE_HUNDREDTHS)

    @property
    def lowest_found(self) -> str:
        """The same as text."""
        return decimals(self.lowest_found_millionths, 6)

    @property
    def class_of_lowest_found(self) -> RepairClass | None:
        """Class of 0.96 R; None below 1.00."""
        return class_of(self.lowest_found_millionths // 100)


class PartRow(Plain, frozen=True):
    """One part in one priority role, as it enters SDD, SF and ST.

    `weight_depth` and `weight_other` are hundredths, 0 where the formula has no
    term for the role. `counts_for` names the scores in which this instance sets
    the points of its role (several instances: the lowest counts, C11).
    """

    role: Role
    part: str
    name: str
    state: Literal["present", "absent", "unknown"]
    steps: int | None
    remote_extra: int
    n: int | None
    depth: Points
    fastener: Points
    tool: Points
    weight_depth: int
    weight_other: int
    deciding_fastener: Fastener | None = None
    deciding_tool: ToolUse | None = None
    counts_for: tuple[Symbol, ...] = ()
    segment_start: str = ""
    step_lines: tuple[str, ...] = ()
    clauses: dict[str, str] = msgspec.field(default_factory=dict)
    cautions: tuple[str, ...] = ()


class Score(Plain, frozen=True):
    """One of the six scores, hundredths of a point; `low` = `high` where it is known."""

    symbol: Symbol
    name: str
    low: int
    high: int
    defined: bool
    weight: int
    clause: str
    why: str = ""

    @property
    def shown(self) -> str:
        """The score as x.xx, as a range, or as not defined."""
        if not self.defined:
            return "no score defined"
        if self.low == self.high:
            return decimals(self.low, 2)
        return f"{decimals(self.low, 2)} to {decimals(self.high, 2)}"


class Missing(Plain, frozen=True):
    """A value the record lacks, and how far it could move R.

    `moves_ten_thousandths`: by how much R falls from the highest it can reach
    if this value alone comes out at its lowest defined level.
    """

    id: str
    what: str
    parts: tuple[str, ...]
    scores: tuple[Symbol, ...]
    moves_ten_thousandths: int
    could_be_undefined: bool


class Undefined(Plain, frozen=True):
    """A value below the lowest level of its ladder: the act gives it no points."""

    id: str
    what: str
    parts: tuple[str, ...]
    scores: tuple[Symbol, ...]
    rule: str
    clause: str


class RepairabilityIndex(Plain, frozen=True):
    """The repairability index of one device with its whole trace.

    `value` is there only if nothing is missing and nothing undefined. With
    missing data `lowest` and `highest` hold the exact range of R over every way
    of filling them with defined levels. If something is undefined there is no R;
    `lowest_if_defined` and `highest_if_defined` only say what R would range over
    if those values reached the lowest and the highest defined level.
    """

    state: Literal["known", "range", "no score defined"]
    value: IndexValue | None
    lowest: IndexValue | None
    highest: IndexValue | None
    lowest_if_defined: IndexValue | None
    highest_if_defined: IndexValue | None
    scores: tuple[Score, ...]
    rows: tuple[PartRow, ...]
    missing: tuple[Missing, ...]
    undefined: tuple[Undefined, ...]
    trace: tuple[str, ...]
    notes: tuple[str, ...]
    readings: tuple[Reading, ...]
    sources: tuple[str, ...]
    consolidation: str
    disclaimer: str = DISCLAIMER


class LegalFinding(Plain, frozen=True):
    """One duty held against the evidence.

    `why` names the joint, tool or figure that decides; `missing` what the record
    would have to say where the verdict is open; `reading` what is not law in it.
    """

    regulation: str
    clause: str
    duty: str
    verdict: Verdict
    why: str
    part: str = ""
    name: str = ""
    role: Role | None = None
    missing: tuple[str, ...] = ()
    reading: str = ""


class Judgement(Plain, frozen=True):
    """What one regulation says of one device."""

    key: str
    title: str
    applies: bool
    applies_because: str
    consolidation: str
    index: RepairabilityIndex | None = None
    findings: tuple[LegalFinding, ...] = ()
    notes: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()
    sources: tuple[str, ...] = ()
    disclaimer: str = DISCLAIMER
