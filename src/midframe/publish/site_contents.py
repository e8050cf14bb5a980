"""Everything that is published of one device, gathered before any page is made of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Literal, TypeAlias

import msgspec

import midframe
from midframe.dossier.index import DeviceIndex, device_index
from midframe.dossier.summary import WayRow, way_row
from midframe.faults import BadSetting
from midframe.publish.contents import Instruction
from midframe.publish.instruction import instruction
from midframe.publish.language import language
from midframe.publish.ordered import powered_way
from midframe.publish.refit import Refit, refit
from midframe.publish.render import known_paper
from midframe.publish.screw_sheet import ScrewSheet, screw_sheet, sides
from midframe.record import digest
from midframe.record.model import PRIORITY_ROLES, Part, Record
from midframe.ways.objective import Objective
from midframe.ways.power import Passing, power_first
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.teardown import teardown
from midframe.ways.way import USUAL_LIMIT, NoWayFound

Sheet: TypeAlias = Literal[
    "instructions", "screws", "refit", "index", "lists", "chapters", "photos", "markdown", "record"
]
"""What can be included besides the overview."""

SHEETS: tuple[Sheet, ...] = (
    *("instructions", "screws", "refit", "index", "lists"),
    *("chapters", "photos", "markdown", "record"),
)
Chosen: TypeAlias = Literal["all", "priority"]
"""Which parts get a work instruction: all, or those that the index asks for."""

A_HASH = re.compile(r"[0-9a-f]{64}")
"""A SHA-256 in hexadecimal: what else a record calls a photo is no name for a file."""

Tell: TypeAlias = Callable[[int, int, str], None]
"""Told after each part: its number, of how many, and its name."""


class SiteSettings(msgspec.Struct, frozen=True, kw_only=True):
    """How a device is published.

    Attributes
    ----------
    language, paper
        Code of the language; "A4" or "letter".
    date
        Printed as it is given; without it the same record gives the same bytes.
    parts
        Which parts get a work instruction.
    sheets
        What is included besides the overview.
    log_begins_seconds
        When the log begins on the clock of a recording of it.
    by, readings, power, limit
        What is least on a way, readings of the step count, battery unplugged first, states of a search.
    """

    language: str = "en"
    paper: str = "A4"
    date: str = ""
    parts: Chosen = "all"
    sheets: tuple[Sheet, ...] = SHEETS
    log_begins_seconds: float = 0.0
    by: str = "steps,seconds"
    readings: Readings = Readings()
    power: Passing = "passing"
    limit: int | None = USUAL_LIMIT


class Published(msgspec.Struct, frozen=True, kw_only=True):
    """What the pages say: the ways as rows, the instructions by part id, the index, screws and the way back.

    What the settings leave out is empty. `photos` are the hashes of those photos of the record whose
    pictures are there.
    """

    record: Record
    settings: SiteSettings
    digest: str
    program: str
    rows: tuple[WayRow, ...]
    instructions: Mapping[str, Instruction]
    index: DeviceIndex | None
    screws: tuple[ScrewSheet, ...]
    refit: Refit | None
    photos: frozenset[str]

    def has(self, sheet: Sheet) -> bool:
        """Whether a sheet is included."""
        return sheet in self.settings.sheets

    @property
    def written(self) -> str:
        """The language of the record's names and notes."""
        return self.record.device.language

    @property
    def name(self) -> str:
        """The name of the device."""
        return self.record.device.name


def published(
    record: Record,
    settings: SiteSettings | None = None,
    *,
    photos: Iterable[str] = (),
    tell: Tell | None = None,
) -> Published:
    """Everything that the pages of one device say.

    Parameters
    ----------
    photos
        Hashes of the photos whose pictures are at hand.
    tell
        Called after each part.

    Raises
    ------
    BadSetting
        For a language, paper, sheet or objective that is not known.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = published(load("tern-2"), SiteSettings(parts="priority", sheets=("instructions",)))
    >>> found.instructions["battery"].target, found.index is None
    ('Battery', True)
    """
    chosen = settings or SiteSettings()
    checked(chosen)
    planner = Planner(record, Objective.parse(chosen.by), chosen.readings, limit=chosen.limit)
    rows, instructions = ways_of(planner, chosen, tell or (lambda _number, _of, _name: None))
    has = chosen.sheets
    known = {photo.hash for photo in record.photos if A_HASH.fullmatch(photo.hash)}
    screwed = any(joint.kind == "screw" for joint in record.joints)
    return Published(
        record=record,
        settings=chosen,
        digest=digest(record),
        program=f"midframe {midframe.__version__}",
        rows=rows,
        instructions=instructions,
        index=device_index(record, chosen.readings, limit=chosen.limit) if "index" in has else None,
        screws=tuple(
            screw_sheet(record, side, on=chosen.paper, language=chosen.language) for side in sides(record)
        )
        if "screws" in has and screwed
        else (),
        refit=refit(record, teardown(record)) if "refit" in has and record.joints else None,
        photos=frozenset(photos) & known if "photos" in has else frozenset(),
    )


def screw_sheets(record: Record, settings: SiteSettings) -> tuple[ScrewSheet, ...]:
    """The screw sheet of every side that has screws."""
    paper, code = settings.paper, settings.language
    return tuple(screw_sheet(record, side, on=paper, language=code) for side in sides(record))


def checked(settings: SiteSettings) -> None:
    """Raises `BadSetting` for a setting that is not known."""
    language(settings.language)
    known_paper(settings.paper)
    if unknown := [sheet for sheet in settings.sheets if sheet not in SHEETS]:
        raise BadSetting(f"include: found '{unknown[0][:40]}'; it may be {', '.join(SHEETS)}")
    if settings.parts not in ("all", "priority"):
        raise BadSetting(f"parts: found '{str(settings.parts)[:40]}'; it may be all or priority")


def ways_of(
    planner: Planner, settings: SiteSettings, tell: Tell
) -> tuple[tuple[WayRow, ...], dict[str, Instruction]]:
    """A row for the way to each chosen part, and its work instruction where there is a way."""
    record, rows, made = planner.record, list[WayRow](), dict[str, Instruction]()
    parts = chosen_parts(record, settings.parts)
    for number, part in enumerate(parts, start=1):
        way = planner.way(part.id)
        rows.append(way_row(record, part.id, way))
        if not isinstance(way, NoWayFound) and "instructions" in settings.sheets:
            arranged, condition = powered_way(planner, way, power_first(planner, way, settings.power))
            made[part.id] = instruction(
                record, arranged, date=settings.date, condition=condition, language=settings.language
            )
        tell(number, len(parts), part.name)
    return tuple(rows), made


def chosen_parts(record: Record, chosen: Chosen) -> tuple[Part, ...]:
    """The parts that get an instruction, in the order of the record; never the body."""
    return tuple(
        part
        for part in record.parts
        if part.id != record.device.body
        and (chosen == "all" or {part.role, *part.also} & set(PRIORITY_ROLES))
    )
