"""What stands beside a way: the toolbox, power, alternatives, documented orders, assumed conditions."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.figures import count, duration
from midframe.cli.sheets.table import pairs, paragraph, sheet_width
from midframe.cli.sheets.way import takes
from midframe.ways.alternatives import Alternatives
from midframe.ways.assumed import Cost, Question, TargetRange
from midframe.ways.orders import ComparedOrder
from midframe.ways.power import Powered
from midframe.ways.toolbox import WithToolbox
from midframe.ways.way import NoWayFound


def toolbox_part(found: WithToolbox, file: str, currency: str) -> list[str]:
    """What is missing, and the best way without it: said first of all."""
    width = sheet_width()
    text = found.missing.text
    lines = paragraph(f"Toolbox {file}: {text}.", width)
    if not found.missing.things:
        return [*lines, ""]
    if isinstance(found.owned, NoWayFound):
        return [*lines, *paragraph(f"{found.owned.reason}.", width, "  "), ""]
    without = takes(found.owned.count, currency)
    rows = [("without it", without), ("difference", found.difference.text if found.difference else "")]
    return [*lines, *pairs(rows, width, "  "), ""]


def power_part(powered: Powered, choice: str) -> list[str]:
    """Whether the battery is unplugged first, and what that costs."""
    added = f"; added for it: {', '.join(powered.added)}" if powered.added else ""
    rows = [("power", f"{powered.text}{added} (--power {choice})")]
    cautions = [f"move {one.move}: {one.text}" for one in powered.cautions]
    if cautions and powered.passing != "strict" and powered.connectors:
        cautions.append("a way that unplugs the battery first, where there is one: --power strict")
    return pairs([*rows, *[("", line) for line in cautions]], sheet_width())


def alternatives_part(found: Alternatives, currency: str) -> list[str]:
    """Other ways to the same part, best first."""
    width = sheet_width()
    if not found.others:
        return ["", *paragraph("Alternatives: none that lifts or opens anything else.", width)]
    rest = "" if found.complete else " (there may be others)"
    lines = ["", f"Alternatives{rest}"]
    for number, other in enumerate(found.others, start=1):
        lines += paragraph(other.difference.text, width, f"  {number}  ", "     ")
        lines += paragraph(takes(other.way.count, currency), width, "     ")
    return lines


def orders_part(orders: Sequence[ComparedOrder], currency: str) -> list[str]:
    """Documented orders beside the computed way."""
    width = sheet_width()
    lines: list[str] = []
    for order in orders:
        source = f" ({order.source})" if order.source else ""
        lines += ["", *paragraph(f"Documented order: {order.title or order.target}{source}", width)]
        rows = [
            ("takes", takes(order.count, currency) if order.count is not None else "not counted"),
            ("the way", order.difference.text if order.difference is not None else ""),
            *[(finding.level, f"{finding.found}; right: {finding.right}") for finding in order.findings],
        ]
        lines += pairs(rows, width, "  ")
    return lines


def assumed_part(own: TargetRange | None, conditions: int, question: Question | None) -> list[str]:
    """How far assumed conditions matter for this part, and what to look at next."""
    if not conditions:
        return []
    rows = []
    if own is not None:
        rows.append(("this part", range_words(own.best, own.worst)))
    if question is not None:
        rows += [
            ("look at", f"{question.text} ({question.kind} {question.subject})"),
            ("", question.if_confirmed.text),
            ("", question.if_denied.text),
        ]
    head = f"{count(conditions, 'condition is', 'conditions are')} assumed, not yet confirmed"
    return ["", head, *pairs(rows, sheet_width(), "  ")]


def range_words(best: Cost, worst: Cost) -> str:
    """Steps and time in the best and in the worst case."""
    if worst.stuck:
        return "no way if all of them hold"
    if (best.steps, best.seconds) == (worst.steps, worst.seconds):
        return f"{count(best.steps, 'step')}, {duration(best.seconds)}, whether they hold or not"
    return (
        f"{count(best.steps, 'step')}, {duration(best.seconds)} if none of them holds;"
        f" {count(worst.steps, 'step')}, {duration(worst.seconds)} if all do"
    )
