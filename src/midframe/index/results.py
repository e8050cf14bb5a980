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
OPEN: Verdict = "not decidable from the record"

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
    """One exact value of R and all that follows from it; made by `IndexValue.of`.

    Attributes
    ----------
    ten_thousandths
        R in whole ten-thousandths; `exact` is the same as text.
    shown
        Two decimals as on the label, a tie upwards (a reading); `tie` says if it was one.
    repair_class
        Class of the unrounded value; None below 1.00.
    class_if_rounded, depends_on_rounding
        Class if two decimals were taken first, and whether it differs.
    lowest_found, class_of_lowest_found
        0.96 R, the lowest value an authority may find, with its class (None below
        1.00) [lbl-2023-1669, Annex IX Table 10].
    """

    ten_thousandths: int
    exact: str
    shown: str
    tie: bool
    repair_class: RepairClass | None
    class_if_rounded: RepairClass | None
    depends_on_rounding: bool
    lowest_found: str
    class_of_lowest_found: RepairClass | None

    @classmethod
    def of(cls, ten_thousandths: int) -> IndexValue:
        """Everything about one R.

        >>> value = IndexValue.of(33_475)
        >>> value.exact, value.shown, value.repair_class, value.class_if_rounded, value.lowest_found
        ('3.3475', '3.35', 'C', 'B', '3.213600')
        """
        rounded = rounded_hundredths(ten_thousandths)
        found_millionths = ten_thousandths * (100 - TOLERANCE_HUNDREDTHS)
        return cls(
            ten_thousandths=ten_thousandths,
            exact=decimals(ten_thousandths, 4),
            shown=decimals(rounded, 2),
            tie=ten_thousandths % 100 == 50,
            repair_class=class_of(ten_thousandths),
            class_if_rounded=class_of(100 * rounded),
            depends_on_rounding=class_depends_on_rounding(ten_thousandths),
            lowest_found=decimals(found_millionths, 6),
            class_of_lowest_found=class_of(found_millionths // 100),
        )


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
    """One of the six scores, hundredths of a point; `low` = `high` where it is known.

    `shown` is the score as x.xx, as a range, or "no score defined".
    """

    symbol: Symbol
    name: str
    low: int
    high: int
    defined: bool
    shown: str
    weight: int
    clause: str
    why: str = ""


def score_text(low: int, high: int, *, defined: bool) -> str:
    """A score in hundredths as it is shown.

    >>> score_text(405, 405, defined=True), score_text(100, 500, defined=True)
    ('4.05', '1.00 to 5.00')
    """
    if not defined:
        return "no score defined"
    return decimals(low, 2) if low == high else f"{decimals(low, 2)} to {decimals(high, 2)}"


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
