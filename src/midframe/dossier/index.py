"""The repairability index, ecodesign and battery findings of one record, with what they rest on.

References
----------
[lbl-2023-1669, Annex IV point 5], [eco-2023-1670, Annex II], [bat-2023-1542, Article 11].
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

import msgspec

from midframe.dossier.evidence import evidence_of
from midframe.dossier.harmless import harmless_way
from midframe.dossier.sequence import Governing, OthersOf
from midframe.faults import BadSetting
from midframe.index.evidence import DeviceEvidence
from midframe.index.regulations import Regulation, judge_all
from midframe.index.results import IndexValue, Judgement, LegalFinding, RepairabilityIndex
from midframe.index.score import repairability_index
from midframe.record.model import Record
from midframe.ways.alternatives import alternatives
from midframe.ways.bench import Bench
from midframe.ways.facts import Bits
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT, Way

INDEX_KEY = "lbl-2023-1669"
"""Key of the regulation that carries the index."""

ALTERNATIVES = 6
"""How many other ways to a part are compared where the index is worked out thoroughly: house choice."""


class IndexRange(msgspec.Struct, frozen=True, kw_only=True):
    """R with what is assumed ignored (`best`) and kept (`worst`), in ten-thousandths and as text.

    None where a score is not defined. `assumed` are the parts and joints whose conditions are assumed.
    """

    assumed: tuple[str, ...]
    best: int | None
    worst: int | None
    text: str


class DeviceIndex(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the regulations say of one record.

    `index` keeps the assumed conditions; `range` says how far they matter and is None where nothing is
    assumed. `sequences` are the governing sequences behind it, one a part.
    """

    device: str
    index: RepairabilityIndex
    judgements: tuple[Judgement, ...]
    sequences: tuple[Governing, ...]
    range: IndexRange | None
    evidence: DeviceEvidence

    @property
    def findings(self) -> tuple[LegalFinding, ...]:
        """The findings of every regulation but the index, in order."""
        return tuple(finding for judgement in self.judgements for finding in judgement.findings)

    def judgement(self, key: str) -> Judgement:
        """What one regulation says, by its key; `BadSetting` for a key that was not judged."""
        for judgement in self.judgements:
            if judgement.key == key:
                return judgement
        known = ", ".join(judgement.key for judgement in self.judgements)
        raise BadSetting(f"regulation {key!r} was not judged; these were: {known}")

    def sequence(self, part: str) -> Governing:
        """The governing sequence of a part; `BadSetting` for a part that no regulation asks for."""
        for governing in self.sequences:
            if governing.part == part:
                return governing
        known = ", ".join(governing.part for governing in self.sequences)
        raise BadSetting(f"part {part!r} has no role that a regulation asks for; these have: {known}")


def device_index(
    record: Record,
    readings: Readings | None = None,
    bench: Bench | None = None,
    *,
    regulations: Iterable[Regulation] | None = None,
    thorough: bool = False,
    limit: int | None = USUAL_LIMIT,
) -> DeviceIndex:
    """The index of one record with every finding; ways are computed where no documented order governs.

    Parameters
    ----------
    record
        A sound record.
    readings, bench
        Readings of the step count and default times; the defaults where absent.
    regulations
        The regulations to judge by; every known one where absent.
    thorough
        Look for quite other ways of as few steps too, not only for other orders of the same moves; slower.
    limit
        Ends each search after so many states; a sequence is then not proven.

    Returns
    -------
    DeviceIndex
        Not legal advice.

    Raises
    ------
    BadSetting
        Where the record contradicts itself in what the regulations ask for.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = device_index(load("tern-2"))
    >>> found.index.value.repair_class
    'C'

    References
    ----------
    [lbl-2023-1669, Annex IV point 5]
    """
    bits = Bits()
    planner = Planner(record, STEPS_THEN_SECONDS, readings, bench, bits=bits, limit=limit)
    found = evidence_of(
        planner.counter, partial(harmless_way, planner), others_of(planner) if thorough else None
    )
    judgements = judge_all(found.device, regulations)
    index = next((one.index for one in judgements if one.key == INDEX_KEY and one.index is not None), None)
    index = index or repairability_index(found.device)
    return DeviceIndex(
        device=record.device.name,
        index=index,
        judgements=judgements,
        sequences=found.sequences,
        range=_range(record, index, planner, bits),
        evidence=found.device,
    )


def others_of(planner: Planner) -> OthersOf:
    """Gives the alternatives of a part's best way."""

    def others(part: str) -> tuple[Way, ...]:
        return tuple(one.way for one in alternatives(planner, part, most=ALTERNATIVES).others)

    return others


def assumed_in(record: Record) -> tuple[str, ...]:
    """Ids of the parts and joints whose conditions are assumed, in the order of the record."""
    parts = [part.id for part in record.parts if part.assumed and part.under]
    return (*parts, *(joint.id for joint in record.joints if joint.assumed and joint.behind))


def without_assumed(record: Record, only: Iterable[str] | None = None) -> Record:
    """The record with assumed conditions left out, all or only those of some parts and joints."""
    chosen = set(assumed_in(record) if only is None else only)
    replace = msgspec.structs.replace
    return replace(
        record,
        parts=tuple(
            replace(part, under=()) if part.assumed and part.id in chosen else part for part in record.parts
        ),
        joints=tuple(
            replace(joint, behind=()) if joint.assumed and joint.id in chosen else joint
            for joint in record.joints
        ),
    )


def lower_end(index: RepairabilityIndex) -> int | None:
    """R, or the lower end of its range, in ten-thousandths; None where a score is not defined."""
    value = index.value or index.lowest
    return None if value is None else value.ten_thousandths


def upper_end(index: RepairabilityIndex) -> int | None:
    """R, or the upper end of its range, in ten-thousandths; None where a score is not defined."""
    value = index.value or index.highest
    return None if value is None else value.ten_thousandths


def _range(record: Record, kept: RepairabilityIndex, planner: Planner, bits: Bits) -> IndexRange | None:
    assumed = assumed_in(record)
    if not assumed:
        return None
    free = Planner(
        without_assumed(record),
        STEPS_THEN_SECONDS,
        planner.readings,
        planner.bench,
        bits=bits,
        limit=planner.limit,
    )
    without = repairability_index(evidence_of(free.counter, partial(harmless_way, free)).device)
    best, worst = upper_end(without), lower_end(kept)
    return IndexRange(assumed=assumed, best=best, worst=worst, text=_range_text(best, worst, len(assumed)))


def _range_text(best: int | None, worst: int | None, assumed: int) -> str:
    conditions = f"{assumed} assumed condition{'s' if assumed != 1 else ''}"
    if best is None or worst is None:
        return f"no score defined; {conditions}"
    low, high = IndexValue.of(min(best, worst)), IndexValue.of(max(best, worst))
    if low == high:
        return f"R = {low.exact} (class {low.repair_class}) with {conditions} kept or ignored"
    return (
        f"R = {low.exact} (class {low.repair_class}) to {high.exact} (class {high.repair_class})"
        f" with {conditions} kept or ignored"
    )
