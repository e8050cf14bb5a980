"""Redesigns of what is offered with the device: spares, serial numbers, tools, updates, information.

References
----------
[lbl-2023-1669, Annex IV point 5]: the rungs that each of them moves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

import msgspec

from midframe.dossier.redesign import Edit, Subject, change_parts
from midframe.dossier.sequence import is_priority
from midframe.index.basic_tools import tool_group, uses_heat, uses_solvent
from midframe.record.model import Device, Part, Record, RepairInformation, Supply, Tool
from midframe.ways.count import consumables_of
from midframe.ways.wording import in_sentence

YEARS = (5, 6, 7)
"""Rungs of software updates, years [lbl-2023-1669, Annex IV point 5, Software updates]."""

INFORMATION: tuple[tuple[RepairInformation, str], ...] = (
    ("paid_professional", "Repair information for professional repairers at a reasonable fee"),
    ("free_professional", "Repair information free for professional repairers"),
    ("public", "Repair information free and public, board diagrams for professional repairers"),
)
"""Rungs of repair information [lbl-2023-1669, Annex IV point 5, Repair and maintenance information]."""


def offer_edits(record: Record) -> Iterator[Edit]:
    """Every redesign that leaves the device itself as it is."""
    yield from _spares(record)
    yield from _serial_numbers(record)
    yield from _tools(record)
    yield from _promises(record)


def _parts_edit(
    name: str, kind: str, label: str, parts: Iterable[Part], change: Callable[[Part], Part]
) -> Edit:
    ids = tuple(part.id for part in parts)
    return Edit(
        id=name,
        kind=kind,
        label=label,
        subjects=ids,
        apply=lambda record: change_parts(record, ids, change),
        ways=False,
    )


def _spares(record: Record) -> Iterator[Edit]:
    def offered(part: Part) -> Part:
        return msgspec.structs.replace(part, spare="end_user")

    held = [part for part in record.parts if is_priority(part) and part.spare != "end_user"]
    for part in held:
        label = f"{part.name}: spare part offered to end users"
        yield _parts_edit(f"spare:{part.id}", "spare to end users", label, (part,), offered)
    if len(held) > 1:
        label = "Every priority spare part offered to end users"
        yield _parts_edit("spare:all", "spare to end users", label, held, offered)


def _serial_numbers(record: Record) -> Iterator[Edit]:
    def free(part: Part) -> Part:
        return msgspec.structs.replace(part, remote=())

    paired = [part for part in record.parts if part.remote]
    for part in paired:
        label = f"{part.name}: works without remote {' and '.join(part.remote)}"
        yield _parts_edit(f"no-remote:{part.id}", "no serial-number duty", label, (part,), free)
    if len(paired) > 1:
        label = "No part needs a remote notification or authorisation"
        yield _parts_edit("no-remote:all", "no serial-number duty", label, paired, free)


def tools_in(record: Record) -> tuple[str, ...]:
    """Names of the tools that the record's joints and parts ask for, in its order."""
    work = (step for joint in record.joints for alternative in joint.work for step in alternative)
    names = dict.fromkeys(tool for step in work for tool in step.tools)
    names.update(dict.fromkeys(f"{j.drive} driver" for j in record.joints if j.kind == "screw" and j.drive))
    names.update(dict.fromkeys(tool for part in record.parts if part.lift for tool in part.lift.tools))
    return tuple(names)


def _tools(record: Record) -> Iterator[Edit]:
    own = {tool.name: tool for tool in record.tools}
    used_up = consumables_of(record)
    to_supply: dict[Supply, list[Tool]] = {"spare": [], "product": []}
    for name in tools_in(record):
        tool = own.get(name, Tool(name=name))
        group = tool_group(name, group=tool.group, supplied=tool.supplied)
        if group in ("basic", "none"):
            continue
        words = in_sentence(name)
        if name not in used_up and not uses_heat((name,)) and not uses_solvent((name,)):
            yield _basic_edit(tool, f"A basic tool does what the {words} does")
        if group not in ("spare_set", "proprietary"):
            to_supply["spare"].append(tool)
        if group not in ("spare_set", "product_set", "proprietary"):
            to_supply["product"].append(tool)
    for supply, tools in to_supply.items():
        what = "the spare part" if supply == "spare" else "the product"
        for tool in tools:
            words = in_sentence(tool.name)
            label = f"{words[:1].upper()}{words[1:]} supplied with {what}"
            yield _supply_edit(tool.name.replace(" ", "-"), label, (tool,), supply)
        if len(tools) > 1:
            yield _supply_edit(
                "all", f"Every tool outside the basic list supplied with {what}", tools, supply
            )


def _basic_edit(tool: Tool, label: str) -> Edit:
    return Edit(
        id=f"tool-basic:{tool.name.replace(' ', '-')}",
        kind="basic tool",
        label=label,
        subjects=(tool.name,),
        touches=_touching_tools((tool,)),
        apply=lambda record: _with_tools(record, (msgspec.structs.replace(tool, group="basic"),)),
        ways=False,
    )


def _supply_edit(name: str, label: str, tools: Iterable[Tool], supply: Supply) -> Edit:
    """Some tools supplied: the act speaks of a set, and one tool left out of it decides the score."""
    supplied = tuple(msgspec.structs.replace(tool, supplied=supply) for tool in tools)
    return Edit(
        id=f"tool-{supply}:{name}",
        kind=f"tool with the {supply}",
        label=label,
        subjects=tuple(tool.name for tool in supplied),
        touches=_touching_tools(supplied),
        apply=lambda record: _with_tools(record, supplied),
        ways=False,
    )


def _touching_tools(tools: Iterable[Tool]) -> frozenset[Subject]:
    return frozenset(("tool", tool.name) for tool in tools)


def _with_tools(record: Record, changed: tuple[Tool, ...]) -> Record:
    names = {tool.name for tool in changed}
    others = tuple(one for one in record.tools if one.name not in names)
    return msgspec.structs.replace(record, tools=(*others, *changed))


def _promises(record: Record) -> Iterator[Edit]:
    device = record.device
    for years in YEARS:
        if device.updates_years is None or device.updates_years < years:
            label = f"{years} years of updates from the end of placing on the market"
            yield _device_edit(f"updates:{years}", "updates", label, _updated(years))
    rungs = [level for level, _ in INFORMATION]
    now = rungs.index(device.repair_information) if device.repair_information in rungs else -1
    for level, label in INFORMATION[now + 1 :]:
        yield _device_edit(f"information:{level}", "repair information", label, _informed(level))


def _updated(years: int) -> Callable[[Device], Device]:
    return lambda device: msgspec.structs.replace(device, updates_years=float(years))


def _informed(level: RepairInformation) -> Callable[[Device], Device]:
    return lambda device: msgspec.structs.replace(device, repair_information=level)


def _device_edit(name: str, kind: str, label: str, change: Callable[[Device], Device]) -> Edit:
    return Edit(
        id=name,
        kind=kind,
        label=label,
        apply=lambda record: msgspec.structs.replace(record, device=change(record.device)),
        ways=False,
    )
