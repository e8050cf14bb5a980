"""The moves of a way as a table: what is opened or lifted, with what, how long, and for which later move."""

from __future__ import annotations

from collections.abc import Sequence

from midframe.cli.sheets.table import Column, table
from midframe.record import Record
from midframe.record.model import Operation
from midframe.ways.count import Count, CountedMove
from midframe.ways.wording import in_sentence, joint_words

COLUMNS = (
    Column("no", figures=True),
    Column("move", wraps=True),
    Column("with", wraps=True),
    Column("s", figures=True),
    Column("steps", figures=True),
    Column("for", wraps=True),
)


def moves_table(record: Record, count: Count, needed: Sequence[tuple[int, ...]], width: int) -> list[str]:
    """Every move in a row, with a row between where the device is turned."""
    rows: list[list[str]] = []
    for number, (move, later) in enumerate(zip(count.moves, needed, strict=True), start=1):
        if move.flipped:
            rows.append(["", f"(turn the {move.face} up)", "", "", "", ""])
        rows.append(move_row(record, number, move, later))
    return table(COLUMNS, rows, width)


def move_row(record: Record, number: int, counted: CountedMove, later: tuple[int, ...]) -> list[str]:
    """One move."""
    mark = "*" if counted.default_times else ""
    return [
        str(number),
        what(record, counted),
        "; ".join(dict.fromkeys(tool_words(one) for one in counted.operations)),
        f"{counted.seconds:.0f}{mark}",
        str(len(counted.steps)) if counted.steps else "",
        ", ".join(map(needed_words, later)),
    ]


def needed_words(number: int) -> str:
    """The number of a later move, or that the target is out."""
    return str(number) if number else "out"


def tool_words(operation: Operation) -> str:
    """The tools of an operation; none is the bare hand."""
    return " + ".join(operation.tools) or "hand"


def what(record: Record, counted: CountedMove) -> str:
    """A move in words: what is opened and how, or what is lifted and what comes along."""
    move = counted.move
    if not move.open:
        names = {part.id: part.name for part in record.parts}
        along = [in_sentence(names[part]) for part in counted.group if part not in move.lift]
        with_it = f", with {'; '.join(along)}" if along else ""
        return f"lift {' and '.join(in_sentence(names[part]) for part in move.lift)}{with_it}"
    joint = next(joint for joint in record.joints if joint.id == move.open)
    how = ", ".join(operation.do for operation in counted.operations)
    number = f"{joint.count} × " if joint.count and joint.count > 1 else ""
    return f"open {number}{joint_words(joint)}: {how}"
