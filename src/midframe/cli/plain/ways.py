"""Ways in as plain data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from midframe.record import Record
from midframe.ways.assumed import AssumedRange, Question
from midframe.ways.count import Count, CountedMove
from midframe.ways.spread import spread
from midframe.ways.toolbox import Toolbox, missing
from midframe.ways.way import NoWayFound, Way

DIGITS = 3
"""Digits after the point of times and money: the search itself compares thousandths."""


def figure(value: float) -> float:
    """A figure without the noise of binary fractions."""
    return round(value, DIGITS)


def cost_data(count: Count) -> dict[str, Any]:
    """What a counted sequence takes."""
    of_time = spread(count)
    return {
        "steps": len(count.steps),
        "moves": len(count.moves),
        "seconds": figure(count.seconds),
        "low_seconds": figure(of_time.low_seconds),
        "high_seconds": figure(of_time.high_seconds),
        "money": figure(count.money),
        "labour": figure(count.labour),
        "renewals": figure(count.renewals_price),
        "breakage": figure(count.breakage),
        "unpriced": list(count.unpriced),
        "tools": list(count.tools),
        "consumables": list(count.consumables),
        "ruined": list(count.ruined),
        "renewed_joints": list(count.renewed_joints),
    }


def way_data(record: Record, target: str, answer: Way | NoWayFound) -> dict[str, Any]:
    """One part's way, or the reason why there is none."""
    part = next(part for part in record.parts if part.id == target)
    head: dict[str, Any] = {"part": part.id, "name": part.name, "role": part.role}
    if isinstance(answer, NoWayFound):
        return head | {"found": False, "reason": answer.reason}
    proof = {"proven": answer.proven, "value": list(answer.value), "bound": list(answer.bound)}
    return head | {"found": True, "bundle": list(answer.bundle), **proof, **cost_data(answer.count)}


def move_data(number: int, counted: CountedMove, needed_by: tuple[int, ...]) -> dict[str, Any]:
    """One counted move, numbered from 1."""
    move = counted.move
    done = {"open": move.open, "by": move.by} if move.open else {"lift": list(move.lift)}
    return {
        "number": number,
        **done,
        "operations": [operation_data(one) for one in counted.operations],
        "face": counted.face,
        "turned": counted.flipped,
        "group": list(counted.group),
        "aside": list(counted.aside),
        "steps": list(counted.steps),
        "seconds": figure(counted.seconds),
        "work_seconds": figure(counted.work_seconds),
        "change_seconds": figure(counted.change_seconds),
        "turn_seconds": figure(counted.flip_seconds),
        "default_times": counted.default_times,
        "needed_by": list(needed_by),
    }


def operation_data(operation: Any) -> dict[str, Any]:
    """One operation with all its keys."""
    return {
        "do": operation.do,
        "with": list(operation.tools),
        "seconds": operation.seconds,
        "risk": operation.risk,
        "harms": list(operation.harms),
        "ruins": list(operation.ruins),
    }


def finding_data(finding: Any) -> dict[str, Any]:
    """A finding as it is."""
    return dict(msgspec.to_builtins(finding))


def toolbox_lacks(answers: Mapping[str, Way | NoWayFound], toolbox: Toolbox) -> list[dict[str, Any]]:
    """For each part with a way what the toolbox lacks for it."""
    return [
        {"part": target, "missing": [thing.name for thing in missing(answer, toolbox).things]}
        for target, answer in answers.items()
        if isinstance(answer, Way)
    ]


def assumed_data(cases: AssumedRange, question: Question | None) -> dict[str, Any]:
    """Best and worst case of every part, and the next question."""
    return {**msgspec.to_builtins(cases), "question": question_data(question)}


def question_data(question: Question | None) -> Any:
    """The condition to look at next."""
    return msgspec.to_builtins(question)
