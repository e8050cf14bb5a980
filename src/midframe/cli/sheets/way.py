"""One way in as a sheet: what it takes, its moves, what stays untouched."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from midframe.cli.sheets.figures import count, duration, money
from midframe.cli.sheets.moves import moves_table
from midframe.cli.sheets.table import pairs, paragraph, sheet_width
from midframe.cli.sheets.ways import in_order, title_of
from midframe.publish.cautions import cautions, hazards
from midframe.record import Record
from midframe.record.model import Part
from midframe.ways.count import Count
from midframe.ways.power import Powered
from midframe.ways.spread import spread
from midframe.ways.way import Way, untouched
from midframe.ways.wording import in_sentence


def heading(record: Record, part: Part, way: Way, powered: Powered, by: str) -> list[str]:
    """The title, what the way takes, how far it is proven, and what leaves as one spare."""
    width = sheet_width()
    lines = paragraph(f"{title_of(record)}: way in to {part.name}", width)
    lines += paragraph(takes(powered.count, record.device.currency), width)
    lines += paragraph(proof(way, by, powered), width)
    names = {one.id: in_sentence(one.name) for one in record.parts}
    with_it = [names[one] for one in way.bundle if one != part.id]
    return lines + (paragraph(f"Leaves as one spare with: {'; '.join(with_it)}.", width) if with_it else [])


def takes(counted: Count, currency: str) -> str:
    """Steps, moves, time with its range, money."""
    of_time = spread(counted)
    between = f"{duration(of_time.low_seconds)} to {duration(of_time.high_seconds)}"
    return ", ".join(
        [
            count(len(counted.steps), "step"),
            count(len(counted.moves), "move"),
            f"{duration(counted.seconds)} (9 of 10 take {between})",
            money(counted.money, currency),
        ]
    )


def proof(way: Way, by: str, powered: Powered | None = None) -> str:
    """How far the way is proven, with its precaution where that costs something."""
    if powered is not None and costs_more(powered):
        strict = powered.passing == "strict"
        kept = (
            "of the ways that unplug the battery first" if strict else "but for the battery plug opened early"
        )
        proven = powered.proven if strict else way.proven
        return f"Least {in_order(by)} {kept}; {'proven' if proven else 'not proven'}."
    if way.proven:
        return f"Least {in_order(by)}; proven: no way under the rules costs less."
    return f"Least {in_order(by)}; not proven: the search was ended after {way.states} states."


def costs_more(powered: Powered) -> bool:
    """Whether the precaution changes what the way takes."""
    return (powered.steps_with, powered.seconds_with) != (powered.steps_without, powered.seconds_without)


def moves_part(record: Record, counted: Count, needed: Sequence[tuple[int, ...]]) -> list[str]:
    """The table of moves and what its marks mean."""
    notes = "for: the later moves that need this one. s: seconds with tool changes and turning."
    if any(move.default_times for move in counted.moves):
        notes += " *: a default time of the bench, not the record's."
    width = sheet_width()
    return ["", *moves_table(record, counted, needed, width), *paragraph(notes, width)]


def needs_part(record: Record, way: Way, counted: Count, live: Sequence[int]) -> list[str]:
    """Tools, consumables, what must be renewed, what it costs, cautions, what stays untouched."""
    parts = {part.id: in_sentence(part.name) for part in record.parts}
    joints = {joint.id: joint for joint in record.joints}
    renewed = [joints[joint].renew for joint in counted.renewed_joints]
    rows = [
        ("tools", ", ".join(counted.tools) or "none but the hand"),
        ("consumables", ", ".join(counted.consumables)),
        ("ruined", "; ".join(parts[part] for part in counted.ruined)),
        ("renewed", "; ".join(dict.fromkeys(one.item for one in renewed if one is not None))),
        ("money", money_words(counted, record.device.currency)),
        ("no price for", "; ".join(parts.get(one, one) for one in counted.unpriced)),
        ("cautions", caution_words(record, counted, live)),
        ("untouched", untouched_words(record, way)),
    ]
    return ["", *pairs(rows, sheet_width())]


def money_words(counted: Count, currency: str) -> str:
    """What the money is made of."""
    return (
        f"labour {money(counted.labour)}"
        f" (at {money(counted.labour_per_hour, currency)} an hour, the bench's default)"
        f" + renewals {money(counted.renewals_price)}"
        f" + expected breakage {money(counted.breakage)} = {money(counted.money, currency)}"
    )


def caution_words(record: Record, counted: Count, live: Sequence[int]) -> str:
    """The hazards of the way with the moves they are about; the instruction says what to do."""
    found = hazards(record, counted.moves, live)
    words = []
    for hazard in found:
        numbers = ", ".join(map(str, hazard.moves))
        at = f" (move{'s' if len(hazard.moves) > 1 else ''} {numbers})" if numbers else ""
        words.append(f"{in_sentence(cautions()[hazard.key].title)}{at}")
    return "; ".join(words) + ". In full: midframe instruct." if words else ""


def untouched_words(record: Record, way: Way) -> str:
    """What is neither lifted nor opened."""
    names = {part.id: in_sentence(part.name) for part in record.parts}
    still, closed = untouched(record, way)
    listed = f": {'; '.join(names[part] for part in still)}" if still else ""
    return f"{count(len(closed), 'joint')} and {count(len(still), 'part')}{listed}"


def readings_part(readings: Iterable[str]) -> list[str]:
    """The readings in force."""
    return ["", *pairs([("readings", "; ".join(readings))], sheet_width())]
