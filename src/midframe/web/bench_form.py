"""The form of a move: what it offers, and what was filled in as a move."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

import msgspec
from starlette.datastructures import FormData

from midframe.faults import BadSetting
from midframe.record.model import Record
from midframe.stripdown import VERBS, BenchState, Done, Suggestion, Verb, done_of, preset, suggest
from midframe.stripdown.measure import last_tools
from midframe.stripdown.naming import part_name
from midframe.stripdown.words import lexicon
from midframe.web.forms import text

GROUPS: Mapping[str, tuple[Verb, ...]] = MappingProxyType(
    {
        "screw": ("unscrew",),
        "plug": ("unplug",),
        "bond": ("peel", "heat", "soak", "pry"),
        "clip": ("unclip",),
        "solder": ("desolder",),
        "lift": ("lift", "fold aside"),
    }
)
"""Verbs that are done to the same kind of thing, and so share their suggestions."""

KEYS: Mapping[Verb, str] = MappingProxyType(dict(zip(VERBS, "1234567890n", strict=True)))
"""The key of each verb on the keyboard."""

OFFERED = 8


class Offer(msgspec.Struct, frozen=True, kw_only=True):
    """What the form offers now: suggestions by group of verbs, drives, tools, parts aside with the guess."""

    groups: Mapping[str, tuple[Suggestion, ...]]
    drives: tuple[str, ...]
    drive: str
    tools: tuple[str, ...]
    remembered: Mapping[str, str]
    aside: tuple[tuple[str, str], ...]
    guess: tuple[str, ...]
    over: tuple[str, ...]
    places: tuple[tuple[str, str], ...]
    new_places: tuple[str, ...]
    board: str


def offer(record: Record, state: BenchState) -> Offer:
    """What the form offers where the work stands."""
    used = [joint.drive for joint in record.joints if joint.drive]
    usual = [f"{drive.drive} {size}" for drive in lexicon().drives for size in drive.sizes]
    last = [
        joint for entry in record.log for joint in record.joints if joint.id == entry.open and joint.drive
    ]
    parts = [part for part in record.parts if part.id != record.device.body]
    fresh = tuple(one.value for one in suggest(record, state, "lift", most=99) if one.kind == "term")
    board = next((part.id for part in parts if part.role == "main_board"), "")
    return Offer(
        groups={name: suggest(record, state, verbs[0], most=OFFERED) for name, verbs in GROUPS.items()},
        drives=tuple(dict.fromkeys((*reversed(used), *usual))),
        drive=last[-1].drive if last else "",
        tools=tuple(tool.tool for tool in lexicon().tools if tool.tool != "bare hand"),
        remembered={verb: remembered(record, verb) for verb in VERBS},
        aside=tuple((part, part_name(record, part)) for part in reversed(state.aside)),
        guess=preset(record, state.standing),
        over=since(record, state),
        places=tuple((part.id, part.name) for part in parts),
        new_places=fresh,
        board=board or ("Main board" if "Main board" in fresh else ""),
    )


def remembered(record: Record, verb: Verb) -> str:
    """The tools of the last time in words; empty where there were none."""
    tools = last_tools(record, verb)
    return "" if tools is None else " and ".join(tools) or "bare hand"


def since(record: Record, state: BenchState) -> tuple[str, ...]:
    """What was lifted since the last opening."""
    found: list[str] = []
    for line in state.lines:
        found = [] if line.entry.open or line.entry.on else [*found, *line.aside]
    return tuple(part for part in found if part != record.device.body)


def done_in(form: FormData) -> Done:
    """The move that a form says, its photo aside; raises `BadSetting` with what is wrong."""
    verb = text(form, "verb")
    if verb not in VERBS:
        raise BadSetting("what was done: found nothing; right: one of the moves")
    group = next((name for name, verbs in GROUPS.items() if verb in verbs), "")
    fields: dict[str, Any] = {"verb": verb, "what": text(form, "what") or text(form, f"pick-{group}")}
    fields |= joined_to(form, group) | measures(form, group) | aside_in(form, group)
    fields |= {name: text(form, name) for name in ("note", "thread") if text(form, name)}
    for name in ("face", "role", "fastener"):
        if text(form, name):
            fields[name] = text(form, name)
    tools = [text(form, name) for name in ("tool", "tool-2") if text(form, name)]
    if tools and verb != "note":
        fields["tools"] = tools
    return done_of(fields)


def joined_to(form: FormData, group: str) -> dict[str, Any]:
    """What it was held to, and whether a plug sits on a cable."""
    name = {"plug": "to-plug", "lift": "to-cable"}.get(group, "to")
    found: dict[str, Any] = {"to": text(form, "to-other") or text(form, name)}
    if group == "lift" and text(form, "verb") != "fold aside":
        found = {}
    if group == "plug" and text(form, "rigid"):
        found["tether"] = False
    return found


def measures(form: FormData, group: str) -> dict[str, Any]:
    """Count, drive, length and seconds, where they were filled in; raises `BadSetting`."""
    found: dict[str, Any] = {}
    seconds = number(form, "seconds")
    if seconds is not None:
        found["seconds"] = seconds
    if group in ("screw", "clip", "solder") and (count := number(form, f"count-{group}")) is not None:
        found["count"] = int(count)
    if group == "screw":
        found["drive"] = text(form, "drive")
        if (length := number(form, "length_mm")) is not None:
            found["length_mm"] = length
    return found


def number(form: FormData, name: str) -> float | None:
    """A figure of the form, a comma taken as a point; raises `BadSetting` for what is no figure."""
    said = text(form, name).replace(",", ".")
    if not said:
        return None
    try:
        return float(said)
    except ValueError:
        raise BadSetting(f"{name}: found '{said[:40]}'; right: a number, or nothing") from None


def aside_in(form: FormData, group: str) -> dict[str, Any]:
    """What had to be aside, where it was changed or said to be certain; else it is guessed."""
    name = "over" if group == "lift" else "aside"
    if not group or f"guess-{name}" not in form:
        return {}
    chosen = [one for one in form.getlist(name) if isinstance(one, str)]
    guess = text(form, f"guess-{name}").split()
    if sorted(chosen) == sorted(guess) and not text(form, "certain"):
        return {}
    return {"behind": listed(chosen)}


def listed(chosen: Sequence[str]) -> list[list[str]]:
    """Parts as one alternative of a condition."""
    return [list(chosen)] if chosen else []
