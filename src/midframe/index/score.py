"""The repairability index of one device: from evidence to R, its class and its trace.

References
----------
[lbl-2023-1669, Annex IV point 5]; every figure is in `lbl_2023_1669`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from midframe.index.basic_tools import READINGS as TOOL_READINGS
from midframe.index.evidence import PRIORITY_ROLES, DeviceEvidence, Reading, check_evidence, of_role
from midframe.index.findings import named
from midframe.index.lbl_2023_1669 import CONSOLIDATION, KEY, METHOD, SCORE_NAMES, SCORE_WEIGHTS, TITLE, Symbol
from midframe.index.results import (
    IndexValue,
    Judgement,
    Missing,
    PartRow,
    RepairabilityIndex,
    Score,
    Undefined,
    score_text,
)
from midframe.index.rows import part_rows
from midframe.index.sheet import (
    HINGE_PRESENCE,
    Entry,
    Gap,
    Gathered,
    Sheet,
    gather,
    highest,
    lowest,
    presence,
)
from midframe.index.trace import trace_lines

READINGS = (
    Reading(
        id="index-class-exact",
        text="The class is taken from the unrounded R; the act states no rounding rule for R.",
    ),
    Reading(id="index-shown-half-up", text="R is shown with two decimals; a tie is shown upwards."),
    Reading(
        id="index-spare-both", text="An offer to end users is taken as one to professional repairers too."
    ),
    Reading(id="index-rung-down", text="A value between two rungs of a ladder counts at the lower one."),
    Reading(
        id="index-empty-segment",
        text="A segment without a fastener scores 5 for fasteners, one without a tool 5 for tools.",
    ),
)
SEVERAL = (
    Reading(id="Q15", text="A part present more than once: the minimum is taken separately for each score."),
    Reading(
        id="index-spare-instances",
        text="A part present more than once: the least offered of its spare parts counts.",
    ),
)
ABSENT = Reading(
    id="index-spare-absent", text="An absent priority part asks nothing of the offer of spare parts."
)
FOLDABLE_TABLET = Reading(
    id="index-foldable-tablet",
    text="The offer of the hinge is left out: its line names foldable smartphones only.",
)
"""Readings of this module, not law [lbl-2023-1669, Annex IV point 5]."""

SCORE_CLAUSES: Mapping[Symbol, str] = {
    "SDD": f"{METHOD}, Disassembly depth",
    "SF": f"{METHOD}, Fasteners",
    "ST": f"{METHOD}, Tools",
    "SSP": f"{METHOD}, Spare parts",
    "SSU": f"{METHOD}, Software updates",
    "SRI": f"{METHOD}, Repair and maintenance information",
}


def repairability_index(device: DeviceEvidence) -> RepairabilityIndex:
    r"""Work one device through the repairability index.

    .. math:: R = 0.25\,S_{DD} + 0.15\,(S_F + S_T + S_{SP} + S_{SU} + S_{RI})

    Parameters
    ----------
    device
        The evidence; what it lacks widens the result to a range, it is never guessed.

    Returns
    -------
    RepairabilityIndex
        R (ten-thousandths, exact), class, scores, rows, what is missing, trace.

    Raises
    ------
    BadSetting
        Where the evidence contradicts itself.

    Examples
    --------
    >>> from midframe.index.evidence import DeviceEvidence, PRIORITY_ROLES
    >>> bare = DeviceEvidence(name="slab", kind="phone", parts=(), absent=PRIORITY_ROLES,
    ...                       updates_years=5, repair_information="public")
    >>> value = repairability_index(bare).value
    >>> value.exact, value.repair_class
    ('4.4000', 'A')

    References
    ----------
    [lbl-2023-1669, Annex IV point 5]; Annex II point C, Table 4.
    """
    check_evidence(device)
    gathered = gather(device)
    low = min(sheet.index(lowest) for sheet in gathered.sheets)
    high = max(sheet.index(highest) for sheet in gathered.sheets)
    scores = _scores(device, gathered)
    rows = part_rows(device, gathered)
    missing, undefined = _missing(gathered, high), _undefined(gathered)
    ends = (IndexValue.of(low), IndexValue.of(high))
    state = _state(gathered)
    return RepairabilityIndex(
        state=state,
        value=ends[0] if state == "known" else None,
        lowest=None if undefined else ends[0],
        highest=None if undefined else ends[1],
        lowest_if_defined=ends[0] if undefined else None,
        highest_if_defined=ends[1] if undefined else None,
        scores=scores,
        rows=rows,
        missing=missing,
        undefined=undefined,
        trace=trace_lines(rows, scores, None if state != "known" else ends[0]),
        notes=_notes(device, rows, ends[0] if state == "known" else None),
        readings=_readings(device),
        sources=(KEY,),
        consolidation=CONSOLIDATION,
    )


def _state(gathered: Gathered) -> Literal["known", "range", "no score defined"]:
    if gathered.undefined:
        return "no score defined"
    return "range" if gathered.gaps else "known"


def _scores(device: DeviceEvidence, gathered: Gathered) -> tuple[Score, ...]:
    lows = [sheet.scores(lowest) for sheet in gathered.sheets]
    highs = [sheet.scores(highest) for sheet in gathered.sheets]
    undefined = {gap.score for gap in gathered.gaps if gap.undefined}
    found = []
    for symbol, weight in SCORE_WEIGHTS.items():
        low, high = min(scores[symbol] for scores in lows), max(scores[symbol] for scores in highs)
        defined = symbol not in undefined
        found.append(
            Score(
                symbol=symbol,
                name=SCORE_NAMES[symbol],
                low=low,
                high=high,
                defined=defined,
                shown=score_text(low, high, defined=defined),
                weight=weight,
                clause=SCORE_CLAUSES[symbol],
                why=_why(device, symbol),
            )
        )
    return tuple(found)


def _why(device: DeviceEvidence, symbol: Symbol) -> str:
    """What a product-level score rests on, in words."""
    if symbol == "SSU" and device.updates_years is not None:
        return f"{device.updates_years:g} years of updates, from the end of placing on the market"
    if symbol == "SRI" and device.repair_information is not None:
        return f"repair information: {device.repair_information.replace('_', ' ')}"
    if symbol == "SSP":
        public = [part.name for part in device.parts if part.spare == "end_user"]
        return "offered to end users: " + (", ".join(dict.fromkeys(public)) or "nothing")
    return ""


def _merged(gaps: tuple[Gap, ...], *, undefined: bool) -> dict[str, list[Gap]]:
    groups: dict[str, list[Gap]] = {}
    for gap in gaps:
        if gap.undefined == undefined:
            groups.setdefault(gap.id, []).append(gap)
    return groups


def _missing(gathered: Gathered, high: int) -> tuple[Missing, ...]:
    """Every missing value, the one that could move R most first."""
    found = [
        Missing(
            id=gap_id,
            what=gaps[0].what,
            parts=tuple(dict.fromkeys(gap.part for gap in gaps if gap.part)),
            scores=tuple(dict.fromkeys(gap.score for gap in gaps)),
            moves_ten_thousandths=high - _index_if_lowest(gathered.sheets, gap_id),
            could_be_undefined=any(gap.could_be_undefined for gap in gaps),
        )
        for gap_id, gaps in _merged(gathered.gaps, undefined=False).items()
    ]
    return tuple(sorted(found, key=lambda one: (-one.moves_ten_thousandths, one.id)))


def _index_if_lowest(sheets: tuple[Sheet, ...], gap_id: str) -> int:
    """R in ten-thousandths if this gap comes out lowest and all others highest."""

    def pick(entry: Entry) -> int:
        return entry.low if entry.gap == gap_id else entry.high

    found = [sheet.index(pick) for sheet in sheets]
    return min(found) if gap_id == HINGE_PRESENCE else max(found)


def _undefined(gathered: Gathered) -> tuple[Undefined, ...]:
    return tuple(
        Undefined(
            id=gap_id,
            what=gaps[0].what,
            parts=tuple(dict.fromkeys(gap.part for gap in gaps if gap.part)),
            scores=tuple(dict.fromkeys(gap.score for gap in gaps)),
            rule=gaps[0].rule,
            clause=SCORE_CLAUSES[gaps[0].score],
        )
        for gap_id, gaps in _merged(gathered.gaps, undefined=True).items()
    )


def _readings(device: DeviceEvidence) -> tuple[Reading, ...]:
    """The readings this result rests on: those of the counting, then those used here."""
    used = [*device.readings, *READINGS, *TOOL_READINGS]
    if any(len(of_role(device, role)) > 1 for role in PRIORITY_ROLES):
        used += SEVERAL
    if device.absent:
        used.append(ABSENT)
    if device.foldable and device.kind == "tablet":
        used.append(FOLDABLE_TABLET)
    return tuple({reading.id: reading for reading in used}.values())


def _notes(device: DeviceEvidence, rows: tuple[PartRow, ...], value: IndexValue | None) -> tuple[str, ...]:
    cautions = [f"{row.name}: {caution}" for row in rows for caution in row.cautions]
    return (
        *cautions,
        *_usual_tools(device),
        *(() if value is None else _value_notes(value)),
        *_hinge_notes(device),
    )


def _usual_tools(device: DeviceEvidence) -> list[str]:
    """Joints on the ways whose opening the record does not tell: their tools are ours."""
    priority = [part for part in device.parts if part.role in PRIORITY_ROLES]
    joints = [joint for part in priority for joint in part.way_fasteners or () if joint.assumed]
    names = named(joint.name for joint in joints)
    return [f"Steps and tools rest on usual tools where the record gives none: {names}."] if names else []


def _value_notes(value: IndexValue) -> list[str]:
    notes = []
    if value.depends_on_rounding:
        notes.append(
            f"Class depends on the rounding rule: R = {value.exact} is {value.repair_class} unrounded"
            f" and {value.class_if_rounded} if rounded to {value.shown} first; the act does not settle it."
        )
    if value.tie:
        notes.append(f"R = {value.exact} lies midway between two decimals; shown upwards as {value.shown}.")
    notes.append(
        f"An authority may find as little as 0.96 R = {value.lowest_found}"
        f" (class {value.class_of_lowest_found or 'none'}) [{KEY}, Annex IX Table 10]."
    )
    return notes


def _hinge_notes(device: DeviceEvidence) -> list[str]:
    hinge = presence(device, "hinge")
    if hinge is None:
        return ["Whether there is a hinge is not known: the range covers both formulas, the sums show one."]
    if hinge == device.foldable:
        return []
    depth, others = ("foldable", "ordinary") if hinge else ("ordinary", "foldable")
    what = "Hinge but not foldable" if hinge else "Foldable without hinge"
    return [f"{what}: SDD by the {depth} formula, SF and ST by the {others} one [{KEY}, {METHOD}]."]


class EnergyLabel:
    """The repairability index as one regulation among others."""

    def judge(self, device: DeviceEvidence) -> Judgement:
        """Work out the index; it applies to every phone and tablet."""
        return Judgement(
            key=KEY,
            title=TITLE,
            applies=True,
            applies_because=f"the record says {device.kind}; scope exclusions and dates"
            " (from 20 June 2025, Article 8) are not checked",
            consolidation=CONSOLIDATION,
            index=repairability_index(device),
            sources=(KEY,),
        )
