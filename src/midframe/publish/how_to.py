"""A work instruction as structured data: a `HowTo` of the public vocabulary schema.org, as JSON-LD."""

from __future__ import annotations

import json
from typing import Any, TypeAlias

from midframe.publish.cautions import cautions
from midframe.publish.contents import Instruction, MoveIn, Renewed, Work
from midframe.publish.language import Language, language
from midframe.publish.svg import legible

Node: TypeAlias = dict[str, Any]

CONTEXT = "https://schema.org"
"""The vocabulary, and its name in JSON-LD [schema-org, HowTo]."""


def how_to(sheet: Instruction, said: Language | None = None, page: str = "") -> Node:
    """The way in of one instruction.

    Each group of moves is a section, each move a step with a direction for every operation; cautions at a
    move are tips. Seconds are rounded; the cost is that of the way without the target part. `page` is the
    address of the instruction, where the data do not stand in it.

    References
    ----------
    [schema-org, HowTo, HowToSection, HowToStep, HowToDirection, HowToTip, HowToTool, HowToSupply].

    Examples
    --------
    >>> from midframe.demo import load
    >>> from midframe.publish import instruction
    >>> from midframe.ways.solve import solve
    >>> record = load("tern-2")
    >>> found = how_to(instruction(record, solve(record, "sim-tray")))
    >>> found["@type"], found["step"][0]["itemListElement"][0]["@type"]
    ('HowTo', 'HowToStep')
    """
    spoken = said or language()
    node: Node = {
        "@context": CONTEXT,
        "@type": "HowTo",
        "name": clean(spoken.say("title", target=sheet.target, device=sheet.device)),
        "inLanguage": spoken.code,
        "about": {"@type": "Product", "name": clean(sheet.device)},
        "totalTime": duration(sheet.summary.seconds),
        "estimatedCost": {
            "@type": "MonetaryAmount",
            "currency": sheet.summary.currency,
            "value": round(sheet.summary.money, 2),
        },
        "tool": [{"@type": "HowToTool", "name": clean(term(tool, spoken))} for tool in sheet.tools],
        "supply": [
            *({"@type": "HowToSupply", "name": clean(term(item, spoken))} for item in sheet.consumables),
            *(supply(item) for item in sheet.renewals),
        ],
        "step": [
            {
                "@type": "HowToSection",
                "name": clean(section_name(number, group.ends_with, spoken)),
                "position": number,
                "itemListElement": [step(sheet, move, spoken, page) for move in group.moves],
            }
            for number, group in enumerate(sheet.groups, start=1)
        ],
    }
    if sheet.invented:
        node["creativeWorkStatus"] = spoken.say("invented")
    return node


def clean(text: str) -> str:
    """A text without control characters."""
    return " ".join(legible(text).split())


def term(text: str, spoken: Language) -> str:
    """A word of the common vocabulary in this language, else as it stands."""
    return spoken.term(text) or text


def section_name(number: int, ends_with: tuple[str, ...], spoken: Language) -> str:
    """The name of a group: what ends it."""
    ends = ", ".join(term(one, spoken) for one in ends_with)
    return f"{number}: {ends or spoken.say('group-no-step')}"


def supply(item: Renewed) -> Node:
    """Something that must be new, with its amount where that is known."""
    node: Node = {"@type": "HowToSupply", "name": clean(item.item)}
    if item.amount is not None:
        node["requiredQuantity"] = {
            "@type": "QuantitativeValue",
            "value": item.amount,
            "unitText": item.unit or "piece",
        }
    return node


def step(sheet: Instruction, move: MoveIn, spoken: Language, page: str) -> Node:
    """One move: what is done in it in order, and the cautions at it."""
    directions = [direction(number, work, spoken) for number, work in enumerate(move.work, start=1)]
    tips = [
        {"@type": "HowToTip", "position": len(directions) + number, "text": clean(text)}
        for number, text in enumerate(warnings(sheet, move, spoken), start=1)
    ]
    return {
        "@type": "HowToStep",
        "name": clean(move.name),
        "position": move.number,
        "url": f"{page}#move-{move.number}",
        "itemListElement": [*directions, *tips],
    }


def direction(number: int, work: Work, spoken: Language) -> Node:
    """One operation with its tools and its time."""
    tools = spoken.listed(term(tool, spoken) for tool in work.tools)
    does = term(work.do, spoken)
    told = (
        spoken.say("work-with", does=does, tools=tools)
        if work.tools
        else spoken.say("work-by-hand", does=does)
    )
    node: Node = {
        "@type": "HowToDirection",
        "position": number,
        "text": clean(told + (f". {work.note}" if work.note else "")),
    }
    if work.seconds is not None:
        node["performTime"] = duration(work.seconds)
    if work.tools:
        node["tool"] = [{"@type": "HowToTool", "name": clean(term(tool, spoken))} for tool in work.tools]
    return node


def warnings(sheet: Instruction, move: MoveIn, spoken: Language) -> list[str]:
    """The cautions at a move, each whole, and what its drawing would warn of."""
    known = cautions(spoken.code)
    told = [f"{known[key].title}. {' '.join(known[key].lines)}" for key in sheet.hazards_of(move.number)]
    if move.live:
        told.append(f"{spoken.say('live-in')}.")
    if move.hanging:
        told.append(spoken.say("hanging", joints=spoken.listed(move.hanging)))
    return told


def duration(seconds: float) -> str:
    """A time as an ISO 8601 duration, rounded to seconds.

    >>> duration(8.0), duration(3725.4), duration(60.0)
    ('PT8S', 'PT1H2M5S', 'PT1M')
    """
    whole = round(seconds)
    parts = ((whole // 3600, "H"), (whole // 60 % 60, "M"), (whole % 60, "S"))
    return f"PT{''.join(f'{figure}{sign}' for figure, sign in parts if figure) or '0S'}"


def to_json_ld(node: Node, *, inside_page: bool = False) -> str:
    r"""The data as text; inside a page no sign is left that could end the element or begin a comment.

    >>> to_json_ld({"name": "</script><!--"}, inside_page=True)
    '{"name": "\\u003c/script\\u003e\\u003c!--"}'
    """
    text = json.dumps(node, ensure_ascii=False, indent=None if inside_page else 2)
    if not inside_page:
        return text + "\n"
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text
