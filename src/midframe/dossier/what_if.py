"""What would change it: every single redesign of a device, ranked by what it gains in index and in time.

References
----------
[lbl-2023-1669, Annex IV point 5] for the index; the times are the record's and the bench's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

import msgspec

from midframe.dossier.depends import Depends
from midframe.dossier.evidence import device_evidence, part_evidence, roles_of
from midframe.dossier.harmless import harmless_way
from midframe.dossier.redesign import Edit, Subject
from midframe.dossier.redesign_covers import cover_edits
from midframe.dossier.redesign_joints import joint_edits
from midframe.dossier.redesign_offer import offer_edits
from midframe.dossier.sequence import Governing
from midframe.dossier.shares import part_shares
from midframe.index.evidence import PartEvidence
from midframe.index.lbl_2023_1669 import CONSOLIDATION, RepairClass, Symbol, class_of, remote_steps
from midframe.index.results import DISCLAIMER, RepairabilityIndex
from midframe.index.score import repairability_index
from midframe.record.model import Record
from midframe.ways.bench import Bench
from midframe.ways.count import Counter
from midframe.ways.facts import Bits
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS, Objective
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.way import USUAL_LIMIT, NoWayFound, Way


class ScoreChange(msgspec.Struct, frozen=True, kw_only=True):
    """One of the six scores before and after, lower ends, in hundredths."""

    symbol: Symbol
    before: int
    after: int


class StepsChange(msgspec.Struct, frozen=True, kw_only=True):
    """Steps to one part before and after, remote actions included; None where no way is known."""

    part: str
    name: str
    before: int | None
    after: int | None


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """What one redesign changes.

    R in ten-thousandths, the lower end where values are missing; `defined` says whether it is a score at all
    after the edit (else as if undefined values reached their lowest level), `known` whether it is one value
    and no lower end. `seconds_saved_sum` adds up the ways in to the parts that are exchanged (to all with
    `every_part`), `seconds_saved_mean` weighs them by how often each is; both negative where the redesign
    costs time. `proven` is false where a search behind the figures, before or after the edit, was ended by
    its limit.
    """

    id: str
    kind: str
    label: str
    subjects: tuple[str, ...]
    before: int
    after: int
    gain: int
    defined: bool
    known: bool
    class_before: RepairClass | None
    class_after: RepairClass | None
    scores: tuple[ScoreChange, ...]
    steps: tuple[StepsChange, ...]
    seconds_saved_sum: float
    seconds_saved_mean: float
    proven: bool = True

    @property
    def better_class(self) -> bool:
        """Whether the class changes for the better."""
        return (self.class_after or "F") < (self.class_before or "F")


class WhatIf(msgspec.Struct, frozen=True, kw_only=True):
    """Every redesign that changes something, the one that gains most first.

    `idle` counts those that change neither index nor time; `complete` is false where it was cancelled.
    `known` is false where `before` is only the lower end of a range, as values are missing, or no score.
    `seconds_sum` and `seconds_mean` are the ways in as they are: over the parts timed, and weighted.
    """

    device: str
    before: int
    defined: bool
    known: bool
    class_before: RepairClass | None
    seconds_sum: float
    seconds_mean: float
    changes: tuple[Change, ...]
    tried: int
    idle: int
    complete: bool
    consolidation: str = CONSOLIDATION
    disclaimer: str = DISCLAIMER


class Options(msgspec.Struct, frozen=True, kw_only=True):
    """How the question is asked.

    `times` false leaves the seconds out, which is faster; `every_part` times the ways to parts that are never
    the one exchanged too; `limit` ends each search after that many states; `own_counts` are the shop's jobs
    by role or fault.
    """

    readings: Readings = Readings()
    bench: Bench = Bench()
    own_counts: Mapping[str, int] | None = None
    times: bool = True
    every_part: bool = False
    limit: int | None = USUAL_LIMIT


Progress = Callable[[int, int, str], None]
"""Told after each redesign: how many are done, of how many, and its label."""


def redesigns(record: Record) -> tuple[Edit, ...]:
    """Every single redesign that makes sense for a record.

    >>> from midframe.demo import load
    >>> [edit.label for edit in redesigns(load("tern-2")) if edit.kind == "updates"][:1]
    ['6 years of updates from the end of placing on the market']
    """
    return (*joint_edits(record), *cover_edits(record), *offer_edits(record))


def what_if(
    record: Record,
    options: Options | None = None,
    *,
    edits: Iterable[Edit] | None = None,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> WhatIf:
    """Try every redesign by itself and rank them by gain in R, then by time saved.

    Parameters
    ----------
    record
        A sound record.
    options
        Readings, bench, own counts, whether times are wanted.
    edits
        The redesigns to try; all of `redesigns` where absent.
    progress, cancelled
        Called after, and asked before, each redesign.

    Returns
    -------
    WhatIf
        R in ten-thousandths, times in seconds.

    Examples
    --------
    >>> from midframe.demo import load
    >>> from midframe.dossier.redesign_offer import offer_edits
    >>> tern = load("tern-2")
    >>> best = what_if(tern, Options(times=False), edits=offer_edits(tern)).changes[0]
    >>> best.label, best.gain
    ('7 years of updates from the end of placing on the market', 6000)

    References
    ----------
    [lbl-2023-1669, Annex IV point 5]
    """
    chosen = tuple(redesigns(record) if edits is None else edits)
    before = _Before(record, options or Options())
    found: list[Change] = []
    complete = True
    for number, edit in enumerate(chosen, start=1):
        if cancelled is not None and cancelled():
            complete = False
            break
        found.append(before.changed(edit))
        if progress is not None:
            progress(number, len(chosen), edit.label)
    changes = [change for change in found if _says_something(change, defined=before.defined)]
    return WhatIf(
        device=record.device.name,
        before=before.value,
        defined=before.defined,
        known=before.index.state == "known",
        class_before=before.letter,
        seconds_sum=sum(way.seconds for way in before.fastest.values()),
        seconds_mean=sum(before.shares.get(part, 0.0) * way.seconds for part, way in before.fastest.items()),
        changes=tuple(sorted(changes, key=_rank)),
        tried=len(found),
        idle=len(found) - len(changes),
        complete=complete,
    )


def _rank(change: Change) -> tuple[bool, int, float, float, str]:
    return not change.defined, -change.gain, -change.seconds_saved_mean, -change.seconds_saved_sum, change.id


def _says_something(change: Change, *, defined: bool) -> bool:
    return bool(
        change.gain or change.defined != defined or change.steps or abs(change.seconds_saved_sum) >= 0.0005
    )


def score_of(index: RepairabilityIndex) -> tuple[int, bool]:
    """R in ten-thousandths, the lower end where values are missing; and whether it is a score at all."""
    value = index.value or index.lowest or index.lowest_if_defined
    if value is None:  # pragma: no cover - one of the three is always there
        raise AssertionError("an index without any value")
    return value.ten_thousandths, index.state != "no score defined"


class _Before:
    """The device as it is, solved once, and what each part depends on."""

    def __init__(self, record: Record, options: Options) -> None:
        self.record, self.options = record, options
        self.bits = Bits()
        self.depends = Depends(record, options.bench)
        self.shares = part_shares(record, options.own_counts)
        self.needs: dict[str, frozenset[Subject]] = {
            part.id: self.depends.of(part.id) for part in record.parts if part.id != record.device.body
        }
        self.steps = self.planner(record, STEPS_THEN_SECONDS)
        self.ways: dict[str, Way | NoWayFound] = {}
        self.told = {
            part.id: part_evidence(self.steps.counter, part, self.way)
            for part in record.parts
            if roles_of(part)
        }
        self.index = self.indexed(record, {part: told[1] for part, told in self.told.items()})
        self.value, self.defined = score_of(self.index)
        self.letter = class_of(self.value) if self.defined else None
        self.fastest: dict[str, Way] = {}
        if options.times:
            fastest = self.planner(record, SECONDS)
            wanted = [part for part in self.needs if options.every_part or part in self.shares]
            found = {part: fastest.way(part) for part in wanted}
            self.fastest = {part: way for part, way in found.items() if isinstance(way, Way)}

    def planner(self, record: Record, objective: Objective) -> Planner:
        """A planner that shares its facts with the others."""
        options = self.options
        return Planner(
            record, objective, options.readings, options.bench, bits=self.bits, limit=options.limit
        )

    def way(self, part: str) -> Way | NoWayFound:
        """The way of fewest steps before any edit, solved once."""
        if part not in self.ways:
            self.ways[part] = harmless_way(self.steps, part)
        return self.ways[part]

    def indexed(self, record: Record, evidence: Mapping[str, PartEvidence]) -> RepairabilityIndex:
        """The index from evidence by part."""
        parts = tuple(
            msgspec.structs.replace(evidence[part.id], role=role)
            for part in record.parts
            for role in roles_of(part)
        )
        return repairability_index(device_evidence(record, self.options.readings, parts))

    def changed(self, edit: Edit) -> Change:
        """What one redesign changes."""
        after = _After(self, edit)
        index = self.indexed(after.record, after.evidence)
        value, defined = score_of(index)
        saved = after.saved()
        return Change(
            id=edit.id,
            kind=edit.kind,
            label=edit.label,
            subjects=edit.subjects,
            before=self.value,
            after=value,
            gain=value - self.value,
            defined=defined,
            known=index.state == "known",
            class_before=self.letter,
            class_after=class_of(value) if defined else None,
            scores=tuple(
                ScoreChange(symbol=old.symbol, before=old.low, after=new.low)
                for old, new in zip(self.index.scores, index.scores, strict=True)
                if old.low != new.low
            ),
            steps=self.steps_changed(after.evidence),
            seconds_saved_sum=sum(saved.values()),
            seconds_saved_mean=sum(self.shares.get(part, 0.0) * time for part, time in saved.items()),
            proven=after.proven,
        )

    def steps_changed(self, evidence: Mapping[str, PartEvidence]) -> tuple[StepsChange, ...]:
        """Parts whose count of steps is another one."""
        found = []
        for part, (_, old) in self.told.items():
            new = evidence.get(part)
            before, after = counted_steps(old), counted_steps(new) if new is not None else None
            if new is not None and before != after:
                found.append(StepsChange(part=part, name=old.name, before=before, after=after))
        return tuple(found)


def counted_steps(part: PartEvidence) -> int | None:
    """Steps with remote actions [lbl-2023-1669, Annex IV point 5; C8]."""
    return None if part.steps is None else part.steps + remote_steps(part.remote)


class _After:
    """The device under one redesign; what the edit cannot touch is taken over."""

    def __init__(self, before: _Before, edit: Edit) -> None:
        self.before, self.edit = before, edit
        self.record = edit.apply(before.record)
        self.proven = True
        self.planner: Planner | None = None
        self.evidence = {part.id: self._evidence(part.id) for part in self.record.parts if roles_of(part)}

    def touched(self, part: str) -> bool:
        """Whether the edit can change the way to a part or the evidence from it."""
        return not self.edit.touches.isdisjoint(self.before.needs.get(part, frozenset()))

    def counter(self) -> Counter:
        """The counter of the edited record."""
        if self.planner is None:
            self.planner = self.before.planner(self.record, STEPS_THEN_SECONDS)
        return self.planner.counter

    def way(self, part: str) -> Way | NoWayFound:
        """The way of fewest steps after the edit."""
        was = self.noted(self.before.way(part)) if part in self.before.needs else None
        if was is not None and not self.edit.ways:
            return was
        self.counter()
        assert self.planner is not None  # noqa: S101 - made by `counter`
        return self.noted(harmless_way(self.planner, part))

    def noted(self, way: Way | NoWayFound) -> Way | NoWayFound:
        """The way, with a note if it is not proven."""
        self.proven = self.proven and not (isinstance(way, Way) and not way.proven)
        return way

    def _evidence(self, part_id: str) -> PartEvidence:
        (part,) = [one for one in self.record.parts if one.id == part_id]
        told = self.before.told.get(part_id)
        if told is not None and not self.touched(part_id):
            return msgspec.structs.replace(told[1], spare=part.spare, remote=part.remote)
        return part_evidence(self.counter(), part, self.way)[1]

    def saved(self) -> dict[str, float]:
        """Seconds saved on the way to each part that has a way before and after."""
        touched = [part for part in self.before.fastest if self.edit.ways and self.touched(part)]
        if not touched:
            return {}
        fastest = self.before.planner(self.record, SECONDS)
        saved: dict[str, float] = {}
        for part in touched:
            was, way = self.before.fastest[part], fastest.way(self.edit.becomes.get(part, part))
            if isinstance(way, Way):
                saved[part] = was.seconds - way.seconds
                self.noted(way)
                self.noted(was)
        return saved


__all__ = [
    "Change",
    "Governing",
    "Options",
    "Progress",
    "ScoreChange",
    "StepsChange",
    "WhatIf",
    "redesigns",
    "what_if",
]
