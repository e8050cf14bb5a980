"""The way back as text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from midframe.cli.sheets.figures import count
from midframe.cli.sheets.table import paragraph, sheet_width
from midframe.cli.sheets.ways import title_of
from midframe.publish.cautions import CAUTIONS, cautions
from midframe.publish.refit import Refit, RefitLine
from midframe.record import Record
from midframe.screws.wording import harm
from midframe.sources import cited

VERBS: Mapping[str, str] = {
    "screw": "drive in",
    "connector": "plug in",
    "clip": "clip in",
    "adhesive": "bond",
    "solder": "solder",
}


"""The verb of a move back by the kind of its joint."""


def refit_sheet(record: Record, back: Refit) -> list[str]:
    """Every move back with what stands beside it, then trial, waits, checks and cautions."""
    width = sheet_width()
    opening = f"{title_of(record)}: refit, {count(len(back.lines), 'move')}, {count(back.screws, 'screw')}"
    lines = [*paragraph(opening, width), ""]
    names = {part.id: part.name for part in record.parts}
    for line in back.lines:
        if line.trial:
            lines += ["", *trial(back, width), ""]
        verb = VERBS.get(line.kind or "", "close") if line.joint else "place"
        head = f"{line.number:>3}  {verb}: {', '.join(line.names)}"
        lines += paragraph(head, width, "", "     ")
        for text in beside(line, names):
            lines += paragraph(text, width, "     - ", "       ")
    lines += ["", *end(back, width)]
    keys = [key for key in CAUTIONS if any(key in line.cautions for line in back.lines) or key == "local"]
    lines += ["", "Cautions"]
    for key in keys:
        lines += paragraph(f"{cautions()[key].title}. {' '.join(cautions()[key].lines)}", width, "  ", "    ")
    found = {one.key: one for one in (*back.sources, *cited({k for key in keys for k in CAUTIONS[key]}))}
    if found:
        lines += ["", "Sources"]
    return lines + [text for one in found.values() for text in paragraph(str(one), width, "  ", "    ")]


def trial(back: Refit, width: int) -> list[str]:
    """The power-on trial."""
    told = "Trial: switch the device on and go through the checks before the device is closed; switch it off."
    if back.closed_by_then:
        told += f" Closed by then: {', '.join(back.closed_by_then)}."
    if back.untried:
        told += f" Not yet connected, so not tried: {', '.join(back.untried)}."
    return paragraph(told, width, "     ", "     ")


def beside(line: RefitLine, names: dict[str, str]) -> Iterator[str]:
    """What stands beside one move back."""
    if line.look_at:
        yield f"before it is covered, see that these are seated: {', '.join(line.look_at)}"
    if line.live:
        yield "the battery is connected: device off, no metal on the contacts"
    if line.new_parts:
        yield f"new part: {', '.join(names[part] for part in line.new_parts)}"
    for one in line.renewals:
        amount = "" if one.amount is None else f", {one.amount:g} {one.unit}".rstrip()
        yield f"new: {one.item}{amount}"
    for layer in line.layers:
        if layer.thickness_mm is not None and layer.kind == "pad":
            gap = f"pad for a gap of {layer.thickness_mm:g} mm"
            yield f"{gap}: a thinner one does not touch, a much thicker one presses on the board"
        elif layer.thickness_mm is not None and layer.kind in ("putty", "paste"):
            yield f"{layer.kind} {layer.thickness_mm:g} mm thick in place"
    yield from bond_lines(line)
    yield from screw_lines(line)


def bond_lines(line: RefitLine) -> Iterator[str]:
    """Cleaning, amount and waits of a bond."""
    if line.bond is None or line.adhesive is None:
        return
    yield " ".join(line.adhesive.clean)
    size = []
    if line.bond.length_mm is not None:
        size.append(f"{line.bond.length_mm:.0f} mm long ({line.bond.length_from})")
    if line.bond.area_mm2 is not None:
        at_most = "at most " if line.bond.area_from == "whole outline" else ""
        size.append(f"{at_most}{line.bond.area_mm2:.0f} mm² ({line.bond.area_from})")
    if size:
        yield f"bond: {', '.join(size)}"
    yield line.adhesive.lay
    times = []
    if line.adhesive.press_seconds:
        times.append(f"press {line.adhesive.press_seconds:g} s at each spot")
    if line.adhesive.rest_seconds:
        times.append(f"leave weighted {line.adhesive.rest_seconds / 60:g} min")
    if line.adhesive.full_hours:
        times.append(f"full strength after {line.adhesive.full_hours:g} h")
    if times:
        yield ", ".join(times)
    yield line.adhesive.note


def screw_lines(line: RefitLine) -> Iterator[str]:
    """Count, torque and what must not go into these holes."""
    if line.screws is None:
        return
    group, tight = line.screws.group, line.screws.torque
    yield f"{group.count} × {group.letter}  {group.kind}; screws still out: {line.screws.still_out}"
    if tight is None:
        yield "torque not known: hand-tight with a small driver"
    else:
        rests = "record" if tight.rests_on == "record" else f"series {tight.series} [{tight.source}]"
        thread = f"thread in {tight.material or 'unknown material'}"
        yield f"{tight.torque_nm:g} N·m ({rests}; {thread}) {tight.doubt}".rstrip()
    for hazard in line.screws.harmful[:3]:
        yield f"not {hazard.screw}: {harm(hazard)}"


def end(back: Refit, width: int) -> list[str]:
    """Waits and checks at the end."""
    lines = []
    if back.full_hours is not None:
        lines += paragraph(f"The slowest bond has its strength after {back.full_hours:g} h.", width)
    if back.unknown_bonds:
        lines += paragraph(f"Times not known: {', '.join(back.unknown_bonds)}.", width)
    lines += ["", "Checks at the end"]
    if not back.after:
        lines += paragraph("none in the record; midframe trials lists those that apply", width, "  ")
    for text in back.after:
        lines += paragraph(text, width, "  [ ] ", "      ")
    return lines
