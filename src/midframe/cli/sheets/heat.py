"""The heat plan as a sheet: the answer first, then every source, limits, what comes after, cautions."""

from __future__ import annotations

from typing import Any

from midframe.cli.sheets.figures import duration, percent
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.heat import Attempt, Confidence, Cooling, Next, Plan
from midframe.record import Record
from midframe.sources import cited

ATTEMPTS = (
    Column("source", wraps=True),
    Column("soft", figures=True),
    Column("too hot", figures=True),
    Column("window", figures=True),
    Column("bond at most", figures=True),
    Column("hottest", figures=True),
)
LIMITS = (
    Column("limit", wraps=True),
    Column("at most", figures=True),
    Column("margin", figures=True),
    Column("mark"),
)


def heat_sheet(record: Record, plan: Plan, found: dict[str, Any]) -> list[str]:
    """The plan of one bond."""
    width = sheet_width()
    title = f"{record.device.name}: heat for {plan.joint_name}, {plan.side} side"
    lines = paragraph(title + (" (invented device)" if record.device.invented else ""), width)
    lines += ["", *answer(plan, found, width)]
    if not plan.refused:
        lines += ["", *table(ATTEMPTS, [attempt_row(one) for one in plan.attempts], width)]
        lines += reasons(plan, width)
        rows = [[one.what, f"{one.limit_c:g} °C", f"{one.margin_k:g} K", one.mark] for one in plan.limits]
        lines += ["", *table(LIMITS, rows, width)]
    lines += ["", "Cautions"]
    for caution in plan.cautions:
        lines += paragraph(f"{caution.title}. {' '.join(caution.lines)}", width, "  ", "    ")
    if not plan.refused:
        lines += ["", *pairs(basis(plan), width)]
    lines += ["", "Sources"]
    return lines + [part for one in cited(plan.sources) for part in paragraph(str(one), width, "  ", "    ")]


def answer(plan: Plan, found: dict[str, Any], width: int) -> list[str]:
    """What to do, or why not."""
    if plan.refused:
        return paragraph(plan.refused, width)
    soft = f"{plan.soft_c:g} °C at the coldest point for {plan.dwell_seconds:g} s ({plan.soft_mark})"
    rows = [("soft at", soft)]
    if plan.best is None:
        rows.append(("plan", plan.advice))
        if plan.hard_stop is not None:
            stop = plan.hard_stop
            told = f"{stop.setting.told} would leave {duration(stop.seconds)} with the cell up to"
            rows.append(("hard stop", f"{told} {stop.limit_c:g} °C: a person's decision, not proposed"))
    else:
        rows += best_rows(plan.best)
    rows += confidence_rows(found["confidence"]) + cooling_rows(found["cooling"]) + next_rows(found["next"])
    return pairs(rows, width)


def best_rows(best: Attempt) -> list[tuple[str, str]]:
    """The gentlest source and its times."""
    window = best.window
    end = "no limit reached in the time looked at" if window.open_ended else f"then {window.hot_key} too hot"
    rows = [
        ("plan", f"{best.setting.told}: soft after {duration(window.soft_seconds or 0)}, "
         f"stop at {duration(best.stop_seconds or 0)}"),
        ("window", f"{duration(window.seconds)}, {end}"),
    ]  # fmt: skip
    if best.reheat is not None:
        again = best.reheat.again_seconds
        back = (
            ""
            if again is None
            else f"; after {duration(best.reheat.pried_seconds)} heat again for {duration(again)}"
        )
        rows.append(("prying", f"soft for {duration(best.reheat.stays_soft_seconds)} without heat{back}"))
    return rows


def confidence_rows(sure: Confidence | None) -> list[tuple[str, str]]:
    """How sure the plan is and what matters."""
    if sure is None:
        return []
    told = f"{percent(sure.chance)} of {sure.draws} draws hold at this stop"
    if sure.best_chance > sure.chance + 0.005:
        told += f"; {percent(sure.best_chance)} at {duration(sure.best_stop_seconds)}"
    told += "" if sure.holds else ": below 95 %, measure before you trust it"
    matters = ", ".join(f"{one.name} {percent(one.share)}" for one in sure.matters[:4])
    return [("chance", told), ("matters most", matters)]


def cooling_rows(after: Cooling | None) -> list[tuple[str, str]]:
    """When to touch, charge, press."""
    if after is None:
        return []
    whole = [
        f"{word} after {duration(value)}" if value is not None else f"{word} later than an hour"
        for word, value in (
            ("touch", after.touch_seconds),
            ("charge", after.charge_seconds),
            ("press new adhesive", after.press_seconds),
        )
    ]
    return [("cooling", ", ".join(whole))]


def next_rows(step: Next | None) -> list[tuple[str, str]]:
    """The next step on the bench."""
    if step is None:
        return []
    rows = [("now", step.say)]
    if step.reading_due_seconds is not None:
        rows.append(("next reading", f"at {duration(step.reading_due_seconds)}"))
    if step.off_k is not None:
        rows.append(("last reading", f"{step.off_k:+.1f} K against the curve"))
    if step.fitted is not None:
        low, air, high = step.fitted.air_c
        h_low, h, h_high = step.fitted.coefficient_w_m2k
        rows.append(
            (
                "fitted source",
                f"{air:.0f} °C ({low:.0f} to {high:.0f}), {h:.0f} ({h_low:.0f} to {h_high:.0f}) W/(m²·K)",
            )
        )
        rows += [("warning", text) for text in step.fitted.warnings]
    return rows


def attempt_row(one: Attempt) -> list[str]:
    """One source at one setting."""
    window = one.window
    soft = "-" if window.soft_seconds is None else duration(window.soft_seconds)
    hot = "-" if window.hot_seconds is None else duration(window.hot_seconds)
    length = "-" if window.soft_seconds is None else duration(window.seconds)
    return [one.setting.told, soft, hot, length, f"{window.reached_c:.0f} °C", f"{one.peak_c:.0f} °C"]


def reasons(plan: Plan, width: int) -> list[str]:
    """Why a source does not work; cycles where they do."""
    lines: list[str] = []
    for one in plan.attempts:
        if one.cycles is not None and one.cycles.works:
            turn = one.cycles
            text = (
                f"{one.setting.told}: in {turn.count} cycles, first {duration(turn.first_on_seconds)} on, "
                "then "
                f"{duration(turn.off_seconds)} off and {duration(turn.on_seconds)} on, soft after "
                f"{duration(turn.soft_seconds or 0)}"
            )
            lines += paragraph(text, width, "", "  ")
        elif one.advice:
            lines += paragraph(f"{one.setting.told}: {one.advice}", width, "", "  ")
    return lines


def basis(plan: Plan) -> list[tuple[str, str]]:
    """What the plan rests on."""
    rows = [("rests on" if not number else "", text) for number, text in enumerate(plan.rests_on)]
    rows.append(("aside before", ", ".join(plan.gone)))
    rows.append(("left out", ", ".join(plan.left_out)))
    return [(word, text) for word, text in rows if text]
