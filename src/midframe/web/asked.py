"""The questions that are computed apart, by name: each takes records and options and gives a plain value."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeAlias

import msgspec

from midframe.record.model import Record

Tell: TypeAlias = Callable[[int, int, str], None]
"""Told after each single result: how many are there, of how many, and what the last one was."""

Records: TypeAlias = Sequence[Record]
Options: TypeAlias = Mapping[str, Any]
Ask: TypeAlias = Callable[[Records, Options, Tell], Any]

SURVEY_LIMIT = 300
"""States of a search for a survey of all parts, where a near answer at once is worth more than a proof."""


class Question(msgspec.Struct, frozen=True, kw_only=True):
    """One question: what is computed, in words; `long` where it takes seconds and more.

    `whole` where the answer depends on the bench log and the photos of a record too.
    """

    ask: Ask
    words: str
    long: bool = False
    whole: bool = False


def device(records: Records, _options: Options, tell: Tell) -> Any:
    """The device at a glance: index, and the ways in to battery and display."""
    from midframe.dossier.glance import glance

    return glance(records[0], tell)


def ways(records: Records, options: Options, tell: Tell) -> Any:
    """A row for every way in."""
    from midframe.dossier.summary import way_row
    from midframe.web.choices import planner_of

    (record,) = records
    planner = planner_of(record, options)
    parts = [part for part in record.parts if part.id != record.device.body]
    rows = []
    for number, part in enumerate(parts, start=1):
        rows.append(way_row(record, part.id, planner.way(part.id)))
        tell(number, len(parts), part.name)
    return tuple(rows)


def way(records: Records, options: Options, _tell: Tell) -> Any:
    """The way in to one part, told as a work instruction, and what stands beside it."""
    from midframe.dossier.beside import beside
    from midframe.publish.instruction import instruction as told
    from midframe.publish.ordered import powered_way
    from midframe.web.choices import planner_of

    planner = planner_of(records[0], options)
    found = beside(planner, options["part"], power=options["power"], most=0)
    arranged, condition = powered_way(planner, found.way, found.powered)
    return told(planner.record, arranged, condition=condition), found


def others(records: Records, options: Options, tell: Tell) -> Any:
    """Other ways to one part: alternatives, and the best by each cost, with drawings."""
    from midframe.dossier.others import other_ways
    from midframe.publish.section import way_drawing
    from midframe.web.choices import planner_of

    found = other_ways(planner_of(records[0], options), options["part"], tell)
    return found, tuple(way_drawing(records[0], one.alternative.way) for one in found.others)


def index(records: Records, options: Options, _tell: Tell) -> Any:
    """The repairability index with every finding."""
    from midframe.dossier.index import device_index
    from midframe.web.choices import readings_in

    return device_index(records[0], readings_in(options), thorough=bool(options.get("thorough")))


def what_if(records: Records, options: Options, tell: Tell) -> Any:
    """Every single design change, ranked."""
    from midframe.dossier.what_if import Options as Asked
    from midframe.dossier.what_if import what_if as ranked
    from midframe.web.choices import readings_in

    asked = Asked(readings=readings_in(options), times=bool(options.get("times", True)))
    return ranked(records[0], asked, progress=tell)


def upkeep(records: Records, options: Options, _tell: Tell) -> Any:
    """Mean time to repair over the mix of failures."""
    from midframe.dossier.upkeep import device_upkeep
    from midframe.upkeep import UpkeepSettings
    from midframe.web.choices import readings_in

    return device_upkeep(
        records[0],
        options.get("counts") or None,
        UpkeepSettings(seed=options.get("seed", 1)),
        readings=readings_in(options),
    )


def compare(records: Records, options: Options, _tell: Tell) -> Any:
    """Records side by side, and how firm their order is where that is asked for."""
    from midframe.dossier.compare import CompareOptions
    from midframe.dossier.compare import compare as compared
    from midframe.dossier.firmness import FirmnessOptions, firmness
    from midframe.web.choices import readings_in

    readings = readings_in(options)
    found = compared(records, CompareOptions(readings=readings, every_part=bool(options.get("every_part"))))
    ranking = firmness(records, FirmnessOptions(readings=readings)) if options.get("ranking") else None
    return found, ranking


def instruction(records: Records, options: Options, _tell: Tell) -> Any:
    """The work instruction to one part as a document."""
    from midframe.publish.ordered import instruction_to
    from midframe.publish.render import to_html
    from midframe.web.choices import planner_of

    planner = planner_of(records[0], options)
    spoken = options.get("language", "en")
    made = instruction_to(planner, options["part"], power=options["power"], language=spoken)
    return to_html(made, options["paper"])


def shelf(records: Records, _options: Options, _tell: Tell) -> Any:
    """What the shelf shows of a record: class, R, and a small drawing."""
    from midframe.dossier.index import device_index, lower_end
    from midframe.publish.section import stack_drawing

    found = device_index(records[0]).index
    low = lower_end(found)
    letter = (found.value.repair_class or "none") if found.value is not None else ""
    return letter, None if low is None or found.value is None else low / 10_000, stack_drawing(records[0])


def questions(records: Records, options: Options, _tell: Tell) -> Any:
    """How wide the ways are for what is assumed, and, if asked, the question that settles most."""
    from midframe.ways.assumed import assumed_range, next_question

    found = assumed_range(records[0], limit=SURVEY_LIMIT)
    return found, next_question(records[0], limit=SURVEY_LIMIT) if options.get("exact") else None


def screw_sheet(records: Records, options: Options, _tell: Tell) -> Any:
    """The screw sheet as PDF."""
    from midframe.publish.printing import print_pdf
    from midframe.publish.screw_files import SheetOptions, html_of

    return print_pdf(html_of(records[0], msgspec.convert(options, SheetOptions)))


def battery_log(_records: Records, options: Options, _tell: Tell) -> Any:
    """What the log of a meter says of a battery."""
    from midframe.battery import Asked
    from midframe.publish.battery_log import log_answer

    data = Path(options["path"]).read_bytes()
    asked = msgspec.convert(options["asked"], Asked)
    return log_answer(data, options["name"], options["mappings"], asked)


def read_label(_records: Records, options: Options, _tell: Tell) -> Any:
    """The figures on a photo of a label, a proposal to be looked at."""
    from midframe.battery import read_photo

    return read_photo(Path(options["path"]).read_bytes(), name=options["name"])


def heat(records: Records, options: Options, _tell: Tell) -> Any:
    """The plan to soften a bond, with every source at hand."""
    from midframe.web.heat_asked import plan

    return plan(records, options)


def heat_look(records: Records, options: Options, _tell: Tell) -> Any:
    """One source of heat on a bond looked at closely."""
    from midframe.web.heat_asked import look

    return look(records, options)


def heat_fit(records: Records, options: Options, _tell: Tell) -> Any:
    """A source of heat fitted to readings."""
    from midframe.web.heat_asked import fit

    return fit(records, options)


def heat_ahead(records: Records, options: Options, _tell: Tell) -> Any:
    """What comes next while a bond is heated."""
    from midframe.web.heat_asked import ahead

    return ahead(records, options)


def publish(records: Records, options: Options, tell: Tell) -> Any:
    """A whole device: the folder as one zip file, or the document."""
    from midframe.web.publish_asked import made

    return made(records[0], options, tell)


QUESTIONS: Mapping[str, Question] = MappingProxyType(
    {
        "device": Question(ask=device, words="the index and the ways in to battery and display"),
        "ways": Question(ask=ways, words="the best way in to every part"),
        "way": Question(ask=way, words="the way in to the part"),
        "others": Question(ask=others, words="other ways in to the part", long=True),
        "index": Question(ask=index, words="the repairability index"),
        "what-if": Question(ask=what_if, words="every single design change", long=True),
        "upkeep": Question(ask=upkeep, words="the time to repair over the mix of failures"),
        "compare": Question(ask=compare, words="the records side by side", long=True),
        "instruction": Question(ask=instruction, words="the work instruction", whole=True),
        "publish": Question(ask=publish, words="the whole device", long=True, whole=True),
        "questions": Question(ask=questions, words="how far the assumed conditions matter"),
        "screw-sheet": Question(ask=screw_sheet, words="the screw sheet as PDF"),
        "battery-log": Question(ask=battery_log, words="what the log says of the battery"),
        "read-label": Question(ask=read_label, words="the figures on the photo", long=True),
        "heat": Question(ask=heat, words="how long and how hot, with each source"),
        "heat-look": Question(ask=heat_look, words="how sure it is, what comes after, the pictures"),
        "heat-fit": Question(ask=heat_fit, words="the source that fits the readings"),
        "heat-ahead": Question(ask=heat_ahead, words="what comes next"),
        "shelf": Question(ask=shelf, words="what the shelf shows", long=True),
    }
)
"""Every question by name; nothing else can be asked for."""
