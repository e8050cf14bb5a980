"""The entries that a device's evidence makes in the formulas, missing values as ranges.

Every entry is a lowest and a highest number of points and, where they differ,
the gap that is to blame. Each score is a lowest value over entries or a
weighted sum of such, so the range of R is exact: all entries low, all high.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from midframe.index.evidence import (
    PRIORITY_ROLES,
    DeviceEvidence,
    Fastener,
    PartEvidence,
    Plain,
    Role,
    SpareOffer,
    ToolUse,
    of_role,
)
from midframe.index.lbl_2023_1669 import (
    FASTENER_POINTS,
    FOLDABLE_WEIGHTS,
    INFORMATION_POINTS,
    ORDINARY_WEIGHTS,
    TOOL_POINTS,
    UPDATE_LADDER,
    Symbol,
    depth_points,
    index_ten_thousandths,
    lowest_spare_cap,
    remote_steps,
    spare_cap,
    updates_points,
)

HINGE_PRESENCE = "presence:hinge"

FASTENER_RUNGS = tuple(sorted(FASTENER_POINTS.values()))
TOOL_RUNGS = tuple(sorted(TOOL_POINTS.values()))
UPDATE_RUNGS = tuple(sorted(points for _, points in UPDATE_LADDER))
INFORMATION_RUNGS = tuple(sorted(INFORMATION_POINTS.values()))
"""The points that each ladder gives [lbl-2023-1669, Annex IV point 5]."""


class Entry(NamedTuple):
    """Points from `low` to `high`; `gap` is the id of what is missing or not defined.

    `rungs` are the points it can really have, lowest first; where empty, every number from low to high.
    """

    low: int
    high: int
    gap: str = ""
    rungs: tuple[int, ...] = ()


class Gap(Plain, frozen=True):
    """A missing value (`undefined` False), or one below the lowest level of its ladder."""

    id: str
    what: str
    part: str
    score: Symbol
    undefined: bool = False
    could_be_undefined: bool = True
    rule: str = ""


class Sheet(Plain, frozen=True):
    """All entries of one device under one reading of whether it has a hinge."""

    depth: dict[Role, tuple[Entry, ...]]
    fastener: dict[Role, tuple[Entry, ...]]
    tool: dict[Role, tuple[Entry, ...]]
    spare: tuple[Entry, ...]
    updates: tuple[Entry, ...]
    information: tuple[Entry, ...]
    depth_weights: Mapping[Role, int]
    other_weights: Mapping[Role, int]

    def scores(self, pick: Callable[[Entry], int]) -> dict[Symbol, int]:
        """The six scores in hundredths, with one number picked from each entry."""
        return {
            "SDD": _weighted(self.depth, self.depth_weights, pick),
            "SF": _weighted(self.fastener, self.other_weights, pick),
            "ST": _weighted(self.tool, self.other_weights, pick),
            "SSP": 100 * min(map(pick, self.spare), default=5),
            "SSU": 100 * min(map(pick, self.updates)),
            "SRI": 100 * min(map(pick, self.information)),
        }

    def index(self, pick: Callable[[Entry], int]) -> int:
        """R in ten-thousandths, with one number picked from each entry."""
        return index_ten_thousandths(self.scores(pick))


def _weighted(
    cells: dict[Role, tuple[Entry, ...]], weights: Mapping[Role, int], pick: Callable[[Entry], int]
) -> int:
    return sum(weight * min(map(pick, cells[role])) for role, weight in weights.items())


def lowest(entry: Entry) -> int:
    """Pick the lowest points an entry can have."""
    return entry.low


def highest(entry: Entry) -> int:
    """Pick the highest points an entry can have."""
    return entry.high


def depth_entry(part: PartEvidence) -> tuple[Entry, Gap | None]:
    """Entry for the steps of one part [lbl-2023-1669, Annex IV point 5; C3 to C8]."""
    extra = remote_steps(part.remote)
    if part.steps is not None:
        points = depth_points(part.steps + extra)
        return Entry(points, points), None
    gap = _way_gap(part, "SDD")
    return Entry(1, depth_points(extra), gap.id), gap


def _way_gap(part: PartEvidence, score: Symbol) -> Gap:
    reason = f": {part.unreachable_reason}" if part.unreachable_reason else ""
    return Gap(id=f"way:{part.part}", what=f"a way out of {part.name}{reason}", part=part.part, score=score)


def fastener_entry(fastener: Fastener, part: PartEvidence) -> tuple[Entry, Gap | None]:
    """Entry for one fastener of the segment [lbl-2023-1669, Annex IV point 5, Fasteners]."""
    if fastener.level is None:
        what = f"fastener level of {fastener.name}"
        gap = Gap(id=f"fastener:{fastener.joint}", what=what, part=part.part, score="SF")
        return Entry(1, 5, gap.id, FASTENER_RUNGS), gap
    if fastener.level == "none":
        what = f"{fastener.name} is not even a removable fastener"
        rule = "The ladder for fasteners ends at removable (1 point); no level lies below it."
        gap = Gap(
            id=f"no-level:{fastener.joint}", what=what, part=part.part, score="SF", undefined=True, rule=rule
        )
        return Entry(1, 5, gap.id), gap
    points = FASTENER_POINTS[fastener.level]
    return Entry(points, points), None


def tool_entry(tool: ToolUse, part: PartEvidence) -> tuple[Entry, Gap | None]:
    """Entry for one tool of the segment [lbl-2023-1669, Annex IV point 5, Tools]."""
    if tool.group is None:
        gap = Gap(id=f"tool:{tool.name}", what=f"group of the tool {tool.name}", part=part.part, score="ST")
        return Entry(1, 4, gap.id, tuple(rung for rung in TOOL_RUNGS if rung < TOOL_POINTS["none"])), gap
    if tool.group == "proprietary":
        what = f"{tool.name} is a proprietary tool"
        rule = "The ladder for tools ends at commercially available tools (1 point); no level lies below it."
        gap = Gap(
            id=f"no-level:{tool.name}", what=what, part=part.part, score="ST", undefined=True, rule=rule
        )
        return Entry(1, 4, gap.id), gap
    points = TOOL_POINTS[tool.group]
    return Entry(points, points), None


def spare_entry(part: PartEvidence) -> tuple[Entry, Gap | None]:
    """Entry for the spare-part offer of one part [lbl-2023-1669, Annex IV point 5, Spare parts]."""
    low = lowest_spare_cap(part.role)
    if part.spare is None:
        gap = Gap(
            id=f"spare:{part.part}", what=f"to whom {part.name} is offered", part=part.part, score="SSP"
        )
        return Entry(low, 5, gap.id, spare_rungs(part.role)), gap
    cap = spare_cap(part.role, part.spare)
    if cap is not None:
        return Entry(cap, cap), None
    offer = (
        "not offered as a spare part" if part.spare == "none" else "offered to professional repairers only"
    )
    rule = "The lowest rung: display assembly for end users, all others at least for professional repairers."
    gap = Gap(
        id=f"no-rung:{part.part}",
        what=f"{part.name} is {offer}",
        part=part.part,
        score="SSP",
        undefined=True,
        rule=rule,
    )
    return Entry(low, 5, gap.id), gap


def spare_rungs(role: Role) -> tuple[int, ...]:
    """The caps that the two defined offers of a spare part leave, lowest first.

    >>> spare_rungs("battery"), spare_rungs("display")
    ((1, 5), (5,))

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Spare parts]
    """
    offers: tuple[SpareOffer, ...] = ("professional", "end_user")
    caps = {cap for offer in offers if (cap := spare_cap(role, offer)) is not None}
    return tuple(sorted(caps))


def updates_entry(device: DeviceEvidence) -> tuple[Entry, Gap | None]:
    """Entry for the years of updates [lbl-2023-1669, Annex IV point 5, Software updates]."""
    years = device.updates_years
    if years is None:
        gap = Gap(id="updates_years", what="years of guaranteed updates", part="", score="SSU")
        return Entry(1, 5, gap.id, UPDATE_RUNGS), gap
    points = updates_points(years)
    if points is not None:
        return Entry(points, points), None
    rule = "The lowest rung of software updates is 5 years; no level lies below it."
    what = f"{years:g} years of updates"
    return Entry(1, 5, "updates"), Gap(
        id="updates", what=what, part="", score="SSU", undefined=True, rule=rule
    )


def information_entry(device: DeviceEvidence) -> tuple[Entry, Gap | None]:
    """Entry for the repair information [lbl-2023-1669, Annex IV point 5, Repair information]."""
    level = device.repair_information
    if level is None:
        gap = Gap(id="repair_information", what="to whom repair information is open", part="", score="SRI")
        return Entry(1, 5, gap.id, INFORMATION_RUNGS), gap
    if level != "none":
        points = INFORMATION_POINTS[level]
        return Entry(points, points), None
    rule = "The lowest rung: for professional repairers at a reasonable fee; no level lies below it."
    gap = Gap(id="information", what="no repair information", part="", score="SRI", undefined=True, rule=rule)
    return Entry(1, 5, gap.id), gap


def presence(device: DeviceEvidence, role: Role) -> bool | None:
    """Whether a priority part is there: True, False, or None where it is not known."""
    if of_role(device, role):
        return True
    if role == "hinge":
        return False if role in device.absent else device.has_hinge
    return False if role in device.absent else None


class Gathered(Plain, frozen=True):
    """The sheets of a device (two where the presence of a hinge is not known) and all gaps."""

    sheets: tuple[Sheet, ...]
    gaps: tuple[Gap, ...]

    @property
    def undefined(self) -> frozenset[str]:
        """Ids of the gaps that lie below the lowest level of a ladder."""
        return frozenset(gap.id for gap in self.gaps if gap.undefined)


def gather(device: DeviceEvidence) -> Gathered:
    """Lay a device's evidence out as entries of the formulas (recipe of the method, steps 1 to 6)."""
    gaps: list[Gap] = []

    def keep(found: tuple[Entry, Gap | None]) -> Entry:
        if found[1] is not None:
            gaps.append(found[1])
        return found[0]

    hinge = presence(device, "hinge")
    hinges = (True, False) if hinge is None else (hinge,)
    updates, information = keep(updates_entry(device)), keep(information_entry(device))
    cells = {role: _role_cells(device, role, keep, gaps) for role in PRIORITY_ROLES}
    sheets = []
    for with_hinge in hinges:
        here = dict(cells)
        if not with_hinge:
            here["hinge"] = _Cells.absent()
        sheets.append(
            Sheet(
                depth={role: cell.depth for role, cell in here.items()},
                fastener={role: cell.fastener for role, cell in here.items()},
                tool={role: cell.tool for role, cell in here.items()},
                spare=tuple(entry for cell in here.values() for entry in cell.spare),
                updates=(updates,),
                information=(information,),
                depth_weights=FOLDABLE_WEIGHTS if with_hinge else ORDINARY_WEIGHTS,
                other_weights=FOLDABLE_WEIGHTS if device.foldable else ORDINARY_WEIGHTS,
            )
        )
    return Gathered(sheets=tuple(sheets), gaps=tuple(_that_count(gaps, sheets[0])))


class _Cells(NamedTuple):
    depth: tuple[Entry, ...]
    fastener: tuple[Entry, ...]
    tool: tuple[Entry, ...]
    spare: tuple[Entry, ...]

    @classmethod
    def absent(cls) -> _Cells:
        """Highest level in each of the three scores [lbl-2023-1669, Annex IV point 5; C12]."""
        top = (Entry(5, 5),)
        return cls(top, top, top, ())


def spare_counts(device: DeviceEvidence, role: Role) -> bool:
    """Whether SSP looks at a role: the hinge only on foldable phones [lbl-2023-1669, Annex IV point 5]."""
    return role != "hinge" or (device.foldable and device.kind == "phone")


def _role_cells(
    device: DeviceEvidence, role: Role, keep: Callable[[tuple[Entry, Gap | None]], Entry], gaps: list[Gap]
) -> _Cells:
    present = presence(device, role)
    if present is False:
        return _Cells.absent()
    parts = of_role(device, role)
    if not parts:
        return _unknown_cells(device, role, present, gaps)
    fasteners: list[Entry] = []
    tools: list[Entry] = []
    for part in parts:
        fasteners += [keep(fastener_entry(fastener, part)) for fastener in part.fasteners] or [Entry(5, 5)]
        tools += [keep(tool_entry(tool, part)) for tool in part.tools if tool.group != "none"] or [
            Entry(5, 5)
        ]
        if part.steps is None:
            fasteners.append(keep((Entry(1, 5, f"way:{part.part}", FASTENER_RUNGS), _way_gap(part, "SF"))))
            tools.append(keep((Entry(1, 5, f"way:{part.part}", TOOL_RUNGS), _way_gap(part, "ST"))))
    depth = tuple(keep(depth_entry(part)) for part in parts)
    spare = tuple(keep(spare_entry(part)) for part in parts) if spare_counts(device, role) else ()
    return _Cells(depth, tuple(fasteners), tuple(tools), spare)


def _unknown_cells(device: DeviceEvidence, role: Role, present: bool | None, gaps: list[Gap]) -> _Cells:
    """Entries of a role without evidence: there but not described, or of unknown presence."""
    name = role.replace("_", " ")
    what = (
        f"the {name}, which is there but not described"
        if present
        else f"whether there is a {name}, and how it comes out"
    )
    scores: tuple[Symbol, ...] = (
        ("SDD", "SF", "ST", "SSP") if spare_counts(device, role) else ("SDD", "SF", "ST")
    )
    gaps += [Gap(id=f"presence:{role}", what=what, part="", score=score) for score in scores]
    gap, low = f"presence:{role}", lowest_spare_cap(role)
    return _Cells(
        (Entry(1, 5, gap),),
        (Entry(1, 5, gap, FASTENER_RUNGS),),
        (Entry(1, 5, gap, TOOL_RUNGS),),
        (Entry(low, 5, gap, spare_rungs(role)),) if "SSP" in scores else (),
    )


def _that_count(gaps: list[Gap], sheet: Sheet) -> list[Gap]:
    """Leave out gaps of a role that a formula has no term for (a hinge, where not foldable)."""
    silent = {
        entry.gap
        for role in PRIORITY_ROLES
        if role not in sheet.other_weights
        for entry in (*sheet.fastener[role], *sheet.tool[role])
    }
    heard = {
        entry.gap for role in sheet.other_weights for entry in (*sheet.fastener[role], *sheet.tool[role])
    }
    return [gap for gap in gaps if gap.score not in ("SF", "ST") or gap.id not in silent - heard]
