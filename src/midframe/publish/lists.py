"""Lists of a published device: parts, tools, consumables, what must be new; as rows and as CSV."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from midframe.dossier.figures import Row
from midframe.dossier.summary import WayRow
from midframe.fleet.cells import csv_text
from midframe.index.basic_tools import tool_group
from midframe.publish.contents import Instruction
from midframe.record.model import Record, Tool


def part_list(record: Record, rows: Iterable[WayRow]) -> tuple[Row, ...]:
    """Every part: what it is, how its spare is sold, and the way in to it where one was asked for.

    >>> from midframe.demo import load
    >>> part_list(load("tern-2"), ())[0]["part"]
    'frame'
    """
    ways = {row.part: row for row in rows}
    return tuple(
        {
            "part": part.id,
            "name": part.name,
            "role": part.role,
            "material": part.material or None,
            "mass_g": part.mass_g,
            "spare": part.spare,
            "sold_with": "; ".join(part.bundle) or None,
            "price": part.price,
            "currency": record.device.currency if part.price is not None else None,
            "remote": "; ".join(part.remote) or None,
            **way_cells(ways.get(part.id)),
        }
        for part in record.parts
    )


def way_cells(row: WayRow | None) -> Row:
    """The figures of a way."""
    return {
        "steps": row.steps if row else None,
        "seconds": row.seconds if row else None,
        "low_seconds": row.low_seconds if row else None,
        "high_seconds": row.high_seconds if row else None,
        "moves": row.moves if row else None,
        "proven": row.proven if row else None,
    }


def tool_list(record: Record, instructions: Mapping[str, Instruction]) -> tuple[Row, ...]:
    """Every tool of the ways in and the parts whose way takes it; `spare_way`: only if a joint stays shut."""
    return used(
        record,
        {part: one.tools for part, one in instructions.items()},
        {part: one.standby for part, one in instructions.items()},
        consumable=False,
    )


def consumable_list(record: Record, instructions: Mapping[str, Instruction]) -> tuple[Row, ...]:
    """Every consumable of the ways in, with the parts whose way takes it."""
    return used(record, {part: one.consumables for part, one in instructions.items()}, {}, consumable=True)


def used(
    record: Record,
    things: Mapping[str, tuple[str, ...]],
    spare: Mapping[str, tuple[str, ...]],
    *,
    consumable: bool,
) -> tuple[Row, ...]:
    """Tools or consumables by how many ways take them, the most used first."""
    known = {tool.name: tool for tool in record.tools}
    found = {name: [part for part, some in things.items() if name in some] for name in names_in(things)}
    for name in names_in(spare):
        tool = known.get(name)
        if name not in found and not (tool and tool.consumable):
            found[name] = []
    ordered = sorted(found.items(), key=lambda item: (-len(item[1]), item[0].casefold()))
    return tuple(
        {
            "item" if consumable else "tool": name,
            "ways": len(parts),
            "parts": "; ".join(parts) or None,
            "spare_way": None if consumable else name in names_in(spare) and not parts,
            "group": None if consumable else group_of(name, known.get(name)),
            "supplied": known[name].supplied if name in known else None,
            "price": known[name].price if name in known else None,
            "note": (known[name].note or None) if name in known else None,
        }
        for name, parts in ordered
    )


def group_of(name: str, known: Tool | None) -> str:
    """The group of a tool as the act has it [lbl-2023-1669, Annex I (42)-(44)], the record asked first."""
    group, supplied = (known.group, known.supplied) if known else (None, None)
    return tool_group(name, group=group, supplied=supplied) or "unknown"


def names_in(things: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Names in order of first sight."""
    return tuple(dict.fromkeys(name for some in things.values() for name in some))


def renewal_list(record: Record, instructions: Mapping[str, Instruction]) -> tuple[Row, ...]:
    """What must be new on the way back from each part."""
    return tuple(
        {
            "part": part,
            "item": item.item,
            "for": item.needed_for,
            "amount": item.amount,
            "unit": item.unit or None,
            "price": item.price,
            "currency": record.device.currency if item.price is not None else None,
        }
        for part, one in instructions.items()
        for item in one.renewals
    )


def csv_files(
    record: Record, instructions: Mapping[str, Instruction], rows: Iterable[WayRow]
) -> dict[str, bytes]:
    """The lists as CSV by their paths; column names are the same in every language.

    A text that a spreadsheet would run as a formula gets an apostrophe in front.
    """
    lists = {
        "parts": part_list(record, rows),
        "tools": tool_list(record, instructions),
        "consumables": consumable_list(record, instructions),
        "renewals": renewal_list(record, instructions),
    }
    return {f"lists/{name}.csv": csv_text(some).encode("utf-8-sig") for name, some in lists.items() if some}
