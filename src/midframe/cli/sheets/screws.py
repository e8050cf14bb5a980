"""Screws as text: tally, pairs that are mistaken for each other, wrong-hole hazards."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import Column, paragraph, sheet_width, table
from midframe.cli.sheets.ways import title_of
from midframe.record import Record
from midframe.screws import Mistaken, Tally, Torque, WrongHole, mistaken, tally, torque, wrong_holes
from midframe.screws.wording import harm, hole_name, pair_sentence
from midframe.sources import cited

MILD = ("askew", "goes in")
"""Effects that are counted and not listed unless all are asked for."""


def screws_sheet(record: Record, *, everything: bool = False) -> list[str]:
    """The tally and the hazards of a record."""
    width, found = sheet_width(), tally(record)
    if not found.count:
        return paragraph(f"{title_of(record)}: no screw in the record", width)
    torques = {joint.id: torque(record, joint) for joint in record.joints if joint.kind == "screw"}
    lines = paragraph(f"{title_of(record)}: {count(found.count, 'screw')}", width)
    lines += ["", *kinds_table(found, width), "", *covers_table(record, found, torques, width)]
    lines += ["", *pair_lines(found, mistaken(record), width)]
    lines += ["", *hazard_lines(record, wrong_holes(record), width, everything=everything)]
    lines += notes(found, torques, width)
    keys = {"iso-965-2", "iso-10664"} | {one.source for one in torques.values() if one and one.source}
    lines += ["", "Sources"]
    return lines + [part for one in cited(keys) for part in paragraph(str(one), width, "  ", "    ")]


def kinds_table(found: Tally, width: int) -> list[str]:
    """One row a kind."""
    columns = (
        Column("kind"),
        Column("screw", wraps=True),
        Column("drive", wraps=True),
        Column("count", figures=True),
    )
    rows = []
    for one in found.kinds:
        screw, _, drive = str(one.kind).partition(", ")
        rows.append([one.letter, screw, drive, str(one.count)])
    return table(columns, rows, width)


def covers_table(record: Record, found: Tally, torques: dict[str, Torque | None], width: int) -> list[str]:
    """One row a cover and kind, with the torque."""
    names = {part.id: part.name for part in record.parts}
    columns = (
        Column("cover", wraps=True),
        Column("kind"),
        Column("count", figures=True),
        Column("N·m", figures=True),
        Column("from"),
    )
    rows = []
    for group in found.groups:
        tight = torques[group.joint]
        figures = ("?", "") if tight is None else (f"{tight.torque_nm:g}", rests_on(tight))
        rows.append([names.get(group.cover, group.cover), group.letter, str(group.count), *figures])
    return table(columns, rows, width)


def rests_on(tight: Torque) -> str:
    """Where a torque is from, in a word or two."""
    return "record" if tight.rests_on == "record" else f"series {tight.series}"


def pair_lines(found: Tally, pairs: Sequence[Mistaken], width: int) -> list[str]:
    """Kinds that are mistaken for each other; those of a near thread are counted."""
    kinds = {line.letter: line for line in found.kinds}
    alike = [pair for pair in pairs if pair.thread == "same" and pair.bit != "no"]
    lines = ["Mistaken for each other"]
    for pair in alike:
        lines += paragraph(pair_sentence(pair, kinds), width, "  ", "    ")
    if not alike:
        lines.append("  no two kinds share thread and bit")
    apart = sum(pair.bit == "no" for pair in pairs)
    near = len(pairs) - len(alike) - apart
    told = []
    if near:
        told.append(f"{count(near, 'pair')} of neighbouring threads that bite askew")
    if apart:
        told.append(f"{count(apart, 'pair')} that only the drive tells apart")
    return lines + (paragraph("; ".join(told), width, "  ", "    ") if told else [])


def hazard_lines(record: Record, hazards: Sequence[WrongHole], width: int, *, everything: bool) -> list[str]:
    """The hazards in the order of the ranking."""
    lines = ["Wrong hole"]
    shown = [one for one in hazards if everything or one.effect not in MILD]
    for one in shown:
        text = f"{one.screw} in {hole_name(record, one)} ({one.own}): {harm(one)}"
        lines += paragraph(text, width, "  ", "    ")
    if not hazards:
        lines.append("  none: no kind enters the hole of another, as far as the record says")
    for effect, words in (("askew", "bites askew"), ("goes in", "goes in without a known harm")):
        number = sum(one.effect == effect for one in hazards)
        if number and not everything:
            text = f"{count(number, 'further case')} where another screw {words}: --all"
            lines += paragraph(text, width, "  ", "    ")
    return lines


def notes(found: Tally, torques: dict[str, Torque | None], width: int) -> list[str]:
    """What the record leaves open, and what is doubtful."""
    told = []
    if found.unclear:
        told.append(f"Thread, length or drive missing, so nothing is said on: {', '.join(found.unclear)}")
    if found.uncounted:
        told.append(f"No count, one taken for each: {', '.join(found.uncounted)}")
    if found.without_place:
        told.append(f"Without a place on the plan: {found.without_place} of {found.count}")
    doubts = {one.doubt for one in torques.values() if one and one.doubt}
    told += [f"Torque: {doubt}" for doubt in sorted(doubts)]
    lines = [line for text in told for line in paragraph(text, width)]
    return ["", *lines] if lines else []
